# SPDX-License-Identifier: MIT
"""A short route by itself: from the gate past all spots, kept as any act, undone whole."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *


@fact
def without_positions_there_is_no_short_route_and_the_old_one_stays():
    log = new_log("none")
    for name in ("P", "Q"):
        log.ok("spot", "add", name)
    log.ok("route", "set", "Q", "P")
    log.no(2, "route", "auto", says="no spot has a position yet")
    assert [row["spot"] for row in log.rows("route", "show")] == ["Q", "P"]


@fact
def a_short_route_begins_at_the_gate_and_is_undone_whole():
    log = new_log("short", "--units", "us")
    for name, east, north in (("P", "1m", "4m"), ("Q", "0m", "4m"), ("R", "3m", "2m"),
                              ("S", "6m", "0m")):
        log.ok("spot", "add", name, "--east", east, "--north", north)
    log.ok("spot", "add", "somewhere")
    log.ok("spot", "add", "next door", "--kind", "off-place", "--east", "1m", "--north", "1m")
    log.ok("route", "set", "S", "P")
    said = log.ok("route", "auto").out
    assert "no gate is drawn" in said and "38 ft on foot" in said, said
    assert "2 without a position here" in said, said
    assert [row["spot"] for row in log.rows("route", "show")] == ["Q", "P", "R", "S"]
    log.ok("obstacle", "add", "gate", "--kind", "gate", "--points", "7,0 8,0")
    assert "from the gate" in log.ok("route", "auto").out
    assert [row["spot"] for row in log.rows("route", "show")] == ["S", "R", "P", "Q"]
    log.ok("undo")
    log.ok("undo")
    log.ok("undo")
    assert [row["spot"] for row in log.rows("route", "show")] == ["S", "P"]


main()
