# SPDX-License-Identifier: MIT
"""Where trees come from, from outside: circles refused, and told where two copies make one."""
import os
import shutil
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

yard = new_log("descent", "--lat", "38.2", "--wet", "winter", "--winter", "mild", "--units", "us")
yard.ok("tree", "add", "L1", "--species", "loquat", "--cultivar", "Champagne", "--sure", "certain",
        "--planted", "2012")
SAID = yard.ok("tree", "add", "L2", "--how", "cutting", "--parent", "L1", "--planted", "2024")
yard.ok("tree", "add", "L3", "--how", "seed", "--parent", "L2", "--planted", "2025")


@fact
def what_a_clone_takes_from_its_parent_is_said():
    assert "taken from L1, its parent: loquat, Champagne" in SAID.out, SAID.out
    kinds = {row["tree"]: row["cultivar"] for row in yard.rows("tree", "list")}
    assert kinds == {"L1": "Champagne", "L2": "Champagne", "L3": None}, kinds


@fact
def rows_are_parents_first():
    rows = yard.rows("descent", "L2")
    assert [(row["tree"], row["depth"], row["parent"], row["self"]) for row in rows] == \
        [("L1", 0, None, False), ("L2", 1, "L1", True), ("L3", 2, "L2", False)], rows


@fact
def a_circle_is_refused_by_name():
    yard.no(2, "tree", "set", "L1", "--parent", "L3", says=("L1 cannot be its own ancestor",))
    yard.no(2, "tree", "set", "L1", "--parent", "L1", says=("L1 cannot come from itself",))


@fact
def an_import_that_makes_a_circle_is_refused_whole():
    log = yard.copy("circle")
    table = log.ok("export", "trees", "-").out
    fresh = new_log("taken", "--lat", "38.2")
    lines = table.splitlines()
    head = lines[0].split(",")
    parent = head.index("parent")
    rows = [line.split(",") for line in lines[1:]]
    rows[0][parent] = "L3"
    path = write("circle.csv", "\n".join([lines[0]] + [",".join(row) for row in rows]) + "\n")
    fresh.no(2, "import", "trees", path, says=("own ancestor",))
    assert fresh.rows("tree", "list") == []


@fact
def two_copies_that_make_a_circle_together_are_told_by_verify():
    one = yard.copy("one")
    one.ok("tree", "set", "L2", "--parent", "")
    other = one.copy("other")
    one.ok("tree", "set", "L1", "--parent", "L2")
    other.ok("tree", "set", "L2", "--parent", "L1")
    one.ok("merge", other.path)
    said = one.ok("verify").out
    assert "is its own ancestor" in said, said
    assert "its own ancestor" in one.ok("descent", "L3").out
    one.ok("tree", "set", "L1", "--parent", "")
    assert "ancestor" not in one.ok("verify").out


main()
