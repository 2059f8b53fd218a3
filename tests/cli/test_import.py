# SPDX-License-Identifier: MIT
"""Files of trees and picks into the log, and out again. The real files and their published means
are described in tests/data/README.md."""
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

peach_file = os.path.join(DATA, "yield-peach-144-trees.csv")
navel_file = os.path.join(DATA, "yield-navel-1000-trees.csv")
orange_file = os.path.join(DATA, "yield-orange-7-years.csv")


def counts(said):
    """(new, the same, changed, refused) of the line that an import ends with."""
    return tuple(map(int, re.search(
        r"(\d+) new, (\d+) the same, (\d+) changed, (\d+) refused\n$", said.out).groups()))


def mean_of(log, season):
    """The mean as printed, and from the grams of the JSON rows."""
    printed = re.search(r"mean ([\d.]+) lb \(n (\d+)\)", log.ok("season", season).out)
    grams = [row["picked_g"] for row in log.rows("season", season) if row["picked_g"] is not None]
    assert len(grams) == int(printed[2])
    return float(printed[1]), sum(grams) / len(grams) / 453.59237


def import_all(log, kind, *words):
    """In, and in again: the second time adds nothing."""
    first = log.ok("import", kind, *words)
    before = log.rows("history")
    again = counts(log.ok("import", kind, *words))
    assert again[0] == 0 and again[1] == sum(counts(first)[:2]), again
    assert len(log.rows("history")) <= len(before) + 1
    return counts(first)


# --- the real files

@fact
def the_144_peach_trees_have_the_published_mean_of_131_3_lb():
    log = new_log("peach", "--hemisphere", "south", "--units", "us")
    trees = ("--columns", "label=label", "--species", "peach")
    picks = ("--columns", "tree=label,amount=yield_lb", "--unit", "lb", "--season", "1934/35")
    assert import_all(log, "trees", peach_file, *trees) == (144, 0, 0, 0)
    assert import_all(log, "picks", peach_file, *picks) == (144, 0, 0, 0)
    printed, worked = mean_of(log, "1934/35")
    assert round(printed, 1) == 131.3 and round(worked, 1) == 131.3, (printed, worked)
    assert mean_of(log, "1934") == (printed, worked)
    row = [row for row in log.rows("season", "1934") if row["tree"] == "P01-01"][0]
    assert (row["season"], row["state"], row["picked_g"]) == ("1934/35", "complete", 38555), row


@fact
def the_1000_navel_trees_have_the_published_mean_of_137_985_lb():
    log = new_log("navel", "--lat", "33.9", "--units", "us")
    trees = ("--columns", "label=label,east=east_ft,north=north_ft", "--species", "orange",
             "--length-unit", "ft")
    picks = ("--columns", "tree=label,amount=yield_lb", "--unit", "lb", "--season", "1915/16")
    assert import_all(log, "trees", navel_file, *trees) == (1000, 0, 0, 0)
    assert import_all(log, "picks", navel_file, *picks) == (1000, 0, 0, 0)
    printed, worked = mean_of(log, "1915/16")
    assert printed == 137.985 and round(worked, 3) == 137.985, (printed, worked)
    assert "137985 lb" in log.ok("season", "1915").out
    spot = [row for row in log.rows("spot", "list") if row["spot"] == "N01-02"][0]
    assert spot["east_um"] == 22 * 304800 and spot["north_um"] == 1078 * 304800
    assert log.rows("entry", "list", "N01-01")[0]["words"] == "picked 142 lb"


@fact
def the_seven_seasons_of_orange_plots_have_the_published_means():
    log = new_log("seven", "--lat", "33.9", "--units", "us")
    trees = ("--columns", "label=label,east=east_ft,north=north_ft", "--species", "orange",
             "--length-unit", "ft")
    picks = ("--columns", "tree=label,amount=yield_lb_per_tree,year=year", "--unit", "lb",
             "--layout", "plots")
    assert import_all(log, "trees", orange_file, *trees) == (270, 0, 0, 0)
    said = log.ok("import", "picks", orange_file, *picks)
    assert "526 rows without an amount: not recorded, and not taken for zero" in said.out
    assert counts(said) == (1364, 0, 0, 0)
    assert counts(log.ok("import", "picks", orange_file, "--layout", "plots", "--unit", "lb")) == (
        0, 1364, 0, 0), "the layout was remembered"
    published = {1921: 21.13, 1922: 82.63, 1923: 73.15, 1924: 158.74, 1925: 141.44,
                 1926: 127.14, 1927: 170.47}
    for year, mean in published.items():
        printed, worked = mean_of(log, str(year))
        assert round(printed, 2) == mean and round(worked, 2) == mean, (year, printed, worked)
    missing = [row for row in log.rows("season", "1922") if row["picked_g"] is None]
    assert missing and {row["state"] for row in missing} == {"not-recorded"}


@fact
def a_dry_run_writes_nothing_and_says_what_it_would_do():
    log = new_log("dry", "--hemisphere", "south", "--units", "us")
    before = log.bytes()
    said = log.ok("import", "trees", peach_file, "--columns", "label=label", "--species", "peach",
                  "--dry-run")
    assert said.out.startswith("line 2: new: P01-01, peach\nline 3: new: "), said.out
    assert said.out.endswith("line 21: new: P03-04, peach\nand 124 more new\n"
                             "would be: 144 new, 0 the same, 0 changed, 0 refused\n"), said.out
    assert log.bytes() == before


@fact
def an_import_is_one_act():
    log = new_log("act", "--hemisphere", "south", "--units", "us")
    log.ok("import", "trees", peach_file, "--columns", "label=label", "--species", "peach")
    assert log.ok("undo").out == "undone: import trees\n"
    assert log.rows("tree", "list") == []
    log.ok("redo")
    assert len(log.rows("tree", "list")) == 144


# --- rows refused

hill = new_log("hill", "--lat", "38.2", "--units", "us")
hill.ok("tree", "add", "A1..A3", "--species", "apple", "--planted", "2010")


@fact
def refused_rows_of_trees_are_named_by_line_and_nothing_is_written():
    path = write("bad-trees.csv", "label,species,planted,east,north\r\n"
                 "X1,apple,2015,,\r\nX1,peach,2015,,\r\n,apple,,,\r\n\"X;4\",apple,,,\r\n"
                 "X5,apple,2015-13,,\r\nX6,apple,,3,4\r\nX7,apple,,,\r\n")
    before = hill.bytes()
    said = hill("import", "trees", path)
    assert said.status == 2 and "5 rows refused; nothing was written" in said.err, said.err
    for part in ("line 3, column 1 (label): label 'X1' stands on line 2 with other facts",
                 "line 4, column 1 (label): ", "line 5, column 1 (label): ",
                 "line 6, column 10 (planted): ",
                 "line 7, column 11 (east): east 3 of what? say --length-unit ft or m"):
        assert part in said.out, (part, said.out)
    assert "line 2" not in said.out.replace("on line 2", "") and "line 8" not in said.out
    assert hill.bytes() == before


@fact
def refused_rows_of_picks_are_named_by_line_and_nothing_is_written():
    path = write("bad-picks.csv", "tree,day,amount,count\nA1,2026-09-01,3 lb,\nA2,sometime,3 lb,\n"
                 "Z9,2026-09-02,4 lb,\nA2,2026-09-03,4 floz,\nA2,2026-09-03,,many\nA3,,3 lb,\n"
                 "A1,2026-09-04,12,\n")
    before = hill.bytes()
    said = hill("import", "picks", path)
    assert said.status == 2 and "6 rows refused; nothing was written" in said.err, said.err
    for part in ("line 3, column 4 (day): 'sometime'", "line 4, column 1 (tree): no tree 'Z9'",
                 "line 5, column 15 (amount): ", "line 6, column 16 (count): ",
                 "line 7, column 4 (day): no day, year or season",
                 "line 8, column 15 (amount): '12' of what? say --unit"):
        assert part in said.out, (part, said.out)
    assert hill.bytes() == before


@fact
def a_label_repeated_with_the_same_facts_is_one_tree():
    log = hill.copy("same")
    path = write("same.csv", "label,species\nX1,apple\nX1,apple\nX2,fig\n")
    assert counts(log.ok("import", "trees", path))[0] == 2


@fact
def equal_rows_of_picks_are_as_many_picks_and_no_more():
    log = hill.copy("equal")
    path = write("equal.csv", "tree,day,amount\nA1,2026-09-01,3 lb\nA1,2026-09-01,3 lb\n")
    assert counts(log.ok("import", "picks", path)) == (2, 0, 0, 0)
    assert counts(log.ok("import", "picks", path)) == (0, 2, 0, 0)
    more = write("more.csv", "tree,day,amount\n" + "A1,2026-09-01,3 lb\n" * 3)
    assert counts(log.ok("import", "picks", more)) == (1, 2, 0, 0)


@fact
def a_kind_in_doubt_is_asked_and_the_tree_kept():
    log = hill.copy("plum")
    path = write("plum.csv", "label,species\nX1,plum\nX2,Japanese plum\n")
    said = log.ok("import", "trees", path)
    assert "line 2: 'plum' could be European plum" in said.out, said.out
    assert "line 3: 'Japanese plum' could be loquat" in said.out
    assert {row["species_sure"] for row in log.rows("tree", "list")
            if row["tree"].startswith("X")} == {"candidate"}


@facts([
    ("the column is not there", ("--columns", "tree=label,amount=kilos"), 2, "it has: tree, day"),
    ("the name is not known", ("--columns", "tree=tree,mass=amount"), 2, "'mass'"),
    ("no pairs", ("--columns", "tree"), 2, "name=COLUMN"),
    ("no tree column", ("--columns", "amount=amount"), 2, "which column holds the tree"),
    ("no such layout", ("--layout", "zork"), 2, "zork"),
    ("no such encoding", ("--encoding", "ebcdic"), 2, "utf8, utf16 or latin1"),
    ("no such order", ("--dates", "ymd"), 2, "dmy or mdy"),
])
def import_picks_refuses(name, options, status, says):
    path = write("plain.csv", "tree,day,amount\nA1,2026-09-01,3 lb\n")
    before = hill.bytes()
    hill.no(status, "import", "picks", path, *options, says=says)
    assert hill.bytes() == before


@fact
def day_and_month_that_could_be_swapped_are_asked_unless_the_order_is_said():
    path = write("order.csv", "tree,day,amount\nA1,03/04/2026,3 lb\n")
    assert "03/04/2026" in hill("import", "picks", path).out
    for order, day in (("dmy", "2026-04-03"), ("mdy", "2026-03-04")):
        log = hill.copy("order")
        log.ok("import", "picks", path, "--dates", order)
        assert log.rows("entry", "list")[0]["day"] == day


@fact
def files_from_spreadsheets_are_read():
    text = "tree;day;amount\r\nA1;2026-09-01;3 lb\r\n"
    for encoding in ("utf-8-sig", "utf-16", "latin-1"):
        log = hill.copy("sheet")
        path = os.path.join(scratch, "sheet.csv")
        with open(path, "wb") as file:
            file.write(text.encode(encoding))
        words = ("--encoding", "latin1") if encoding == "latin-1" else ()
        assert counts(log.ok("import", "picks", path, *words))[0] == 1, encoding


@fact
def standard_input_is_a_file_too():
    log = hill.copy("stdin")
    assert counts(log.ok("import", "picks", "-", stdin="tree,day,amount\nA1,2026-09-01,3 lb\n"))[
        0] == 1


@facts([
    ("not there", os.path.join(scratch, "nowhere.csv"), 3, "there is no file"),
    ("a folder", scratch, 3, ""),
    ("empty", write("empty.csv", ""), 2, "holds no rows"),
    ("unclosed quote", write("quote.csv", 'tree,day,amount\nA1,"2026'), 2, "line 2"),
    ("binary", write("nul.csv", "tree\0,day\n"), 2, ""),
])
def a_file_that_is_none_is_refused(name, path, status, says):
    before = hill.bytes()
    hill.no(status, "import", "picks", path, says=says)
    assert hill.bytes() == before


# --- out

demo = demo_log("demo")


@facts(["trees", "entries", "picks", "flags"])
def a_table_is_exported_as_csv_and_as_json(what):
    path = os.path.join(scratch, what + ".csv")
    demo.ok("export", what, path)
    with open(path, encoding="utf-8", newline="") as file:
        text = file.read()
    assert text == demo.ok("export", what, "-").out
    assert text == demo.ok("export", what, "-", "--format", "csv").out
    rows = demo.ok("export", what, "-", "--format", "json").rows()
    table = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == len(table) > 5
    assert [list(map(str, row)) for row in rows] == [list(row) for row in table]


@fact
def export_refuses_what_it_does_not_write():
    demo.no(2, "export", "zork", "-", says="trees, entries, picks or flags")
    demo.no(3, "export", "trees", "/nowhere/x.csv", says="/nowhere/x.csv")


@fact
def picks_exported_are_the_weights_of_the_season():
    table = demo.table("export", "picks", "-")
    ours = sum(int(row["weight_low_g"]) for row in table
               if row["subject"] == "A1" and row["day"].startswith("2026"))
    season = [row for row in demo.rows("season", "2026") if row["tree"] == "A1"][0]
    assert abs(ours - season["picked_g"]) <= 1


main()
