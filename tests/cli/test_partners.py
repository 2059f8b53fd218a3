# SPDX-License-Identifier: MIT
"""Whom a tree needs, from outside: fit, bloom by the log, distance, over the fence."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

yard = new_log("partners", "--lat", "38.2", "--wet", "winter", "--winter", "frosty", "--units", "us")
for label, species, cultivar, more in (
        ("C1", "sweet_cherry", "Bing", ("--spot", "gate", "--east", "0m", "--north", "0m")),
        ("C2", "sweet_cherry", "Lambert", ("--spot", "wall", "--east", "30ft", "--north", "40ft")),
        ("C3", "sweet_cherry", "Benton", ("--over-fence",)),
        ("C4", "sweet_cherry", "", ()),
        ("A1", "apple", "Gala", ()),
        ("A2", "apple", "Jonagold", ()),
        ("K1", "chestnut", "Colossal", ()),
        ("K2", "chestnut", "Qing", ()),
        ("X1", "", "", ()),
):
    named = ("--cultivar", cultivar, "--sure", "certain") if cultivar else ()
    kind = ("--species", species) if species else ()
    yard.ok("tree", "add", label, *kind, *named, "--planted", "2010", *more)


def rows(label, log=yard):
    return {(row["other"], row["direction"]): row
            for row in log.ok("partners", label, "--format", "json").rows()}


@fact
def both_ways_are_told_for_every_tree_of_the_kind():
    found = rows("C1")
    assert sorted(found) == [(other, way) for other in ("C2", "C3", "C4")
                             for way in ("gives", "takes")], sorted(found)
    assert found["C2", "takes"]["answer"] == "does not serve"
    assert found["C3", "takes"]["answer"] == "serves" and found["C3", "takes"]["over_fence"] is True
    assert found["C4", "takes"]["answer"] == "not known"
    assert "cultivar of the giver" in found["C4", "takes"]["reason"]


@fact
def a_triploid_takes_and_does_not_give():
    assert rows("A1")["A2", "takes"]["answer"] == "does not serve"
    assert rows("A1")["A2", "gives"]["answer"] == "serves"
    assert rows("A2")["A1", "takes"]["answer"] == "serves"


@fact
def distance_is_that_of_the_plan():
    assert rows("C1")["C2", "takes"]["distance_mm"] == 15240
    assert rows("C1")["C3", "takes"]["distance_mm"] is None
    assert "C2 Lambert, 50 ft off" in yard.ok("partners", "C1").out.replace("50.0", "50")


@fact
def one_that_spoils_says_so():
    assert rows("K1")["K2", "takes"]["harm"] is True
    said = yard.ok("partners", "K1").out
    assert "K2 Qing: serves, and spoils" in said and "browns the kernels" in said


@fact
def the_days_of_the_log_stand_before_the_classes():
    log = yard.copy("bloom")
    assert rows("C1", log)["C3", "takes"]["bloom"] == "meets"
    assert rows("C1", log)["C3", "takes"]["bloom_apart_days"] is None
    for year in (2023, 2024, 2025):
        log.ok("enter", f"C1 bloom @ {year}-03-20")
        log.ok("enter", f"C3 bloom @ {year}-05-15")
    row = rows("C1", log)["C3", "takes"]
    assert row["bloom"] == "apart" and row["bloom_apart_days"] == 56, row
    assert "first days of bloom 56 apart, by your log" in " ".join(
        log.ok("partners", "C1").out.split())
    for year in (2023, 2024, 2025):
        log.ok("enter", f"C4 bloom @ {year}-03-25")
    row = rows("C1", log)["C4", "takes"]
    assert row["bloom"] == "meets" and row["bloom_apart_days"] == 5, row


@fact
def what_is_not_known_is_not_answered():
    said = yard.ok("partners", "X1").out
    assert "cannot be said" in said and "Who serves it" not in said
    assert yard.ok("partners", "X1", "--format", "json").rows() == []


@fact
def a_partner_is_told_in_eighty_columns():
    said = yard.ok("partners", "C1").out
    for part in ("Does not set alone", "Who serves it", "Whom it serves", "What a partner is",
                 "within about 100 ft", "Radiance Pearl would: S1 and S13 pass", "(from memory)"):
        assert part in " ".join(said.split()), part
    assert max(map(len, said.splitlines())) <= 80


@fact
def it_refuses_a_tree_that_is_not_there():
    said = run("--log", yard.path, "partners", "Z9")
    assert said.status != 0 and "Z9" in said.err
    assert run("--log", yard.path, "partners").status == 2


main()
