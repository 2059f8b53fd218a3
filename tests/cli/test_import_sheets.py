# SPDX-License-Identifier: MIT
"""Sheets as growers keep them: a column a year, a column a tree, a table of entries; layouts,
dialects, and files that are no tables. Totals are worked out a second way, from the file itself."""
import csv
import io
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

orange_file = os.path.join(DATA, "yield-orange-7-years.csv")


def counts(said):
    return tuple(map(int, re.search(
        r"(\d+) new, (\d+) the same, (\d+) changed, (\d+) refused\n$", said.out).groups()))


def put(name, text, encoding="utf-8"):
    path = os.path.join(scratch, name)
    with open(path, "wb") as file:
        file.write(text.encode(encoding) if isinstance(text, str) else text)
    return path


yard = new_log("yard", "--lat", "38.2", "--units", "us")
yard.ok("tree", "add", "A1..A4", "--species", "apple", "--planted", "2005")
yard.ok("tree", "add", "fig by gate", "--species", "fig")


def words_of(log, *label):
    return [(row["tree" if "tree" in row else "subject"], row["day"], row["words"])
            for row in log.rows("entry", "list", *label)]


# --- a column a year

def orange_rows():
    with open(orange_file, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def orange_sheet():
    """The seven seasons turned: a row a plot and a column a year."""
    rows = orange_rows()
    years = sorted({row["year"] for row in rows})
    cells = {(row["label"], row["year"]): row["yield_lb_per_tree"] for row in rows}
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";")
    writer.writerow(["Plot"] + years)
    for label in sorted({row["label"] for row in rows}):
        writer.writerow([label] + [cells.get((label, year), "").replace(".", ",")
                                   for year in years])
    return out.getvalue()


@fact
def the_seven_seasons_as_a_sheet_give_what_they_gave_as_a_list():
    log = new_log("turned", "--lat", "33.9", "--units", "us")
    log.ok("import", "trees", orange_file, "--columns", "label=label", "--species", "orange")
    path = put("orange.csv", orange_sheet())
    said = log.ok("import", "picks", path, "--columns", "tree=Plot", "--years", "1921..1927",
                  "--unit", "lb", "--numbers", "comma", "--layout", "sheet")
    assert counts(said) == (1364, 0, 0, 0), said.out
    for year in range(1921, 1928):
        figures = [float(row["yield_lb_per_tree"]) for row in orange_rows()
                   if row["year"] == str(year) and row["yield_lb_per_tree"]]
        grams = [row["picked_g"] for row in log.rows("season", str(year))
                 if row["picked_g"] is not None]
        assert len(grams) == len(figures)
        assert abs(sum(grams) / 453.59237 - sum(figures)) < 0.3, year  # grams are whole
    assert counts(log.ok("import", "picks", path, "--layout", "sheet")) == (0, 1364, 0, 0)


@fact
def a_figure_mended_in_the_sheet_changes_that_pick_and_no_other():
    log = yard.copy("mended")
    sheet = "Tree,2023,2024\nA1,30,41\nA2,,20\n"
    words = ("--columns", "tree=Tree", "--years", "2023..2024", "--unit", "lb")
    log.ok("enter", "A1 picked 5 lb @ 2024-09-01")
    assert counts(log.ok("import", "picks", put("m.csv", sheet), *words)) == (3, 0, 0, 0)
    said = log.ok("import", "picks", put("m.csv", sheet.replace("41", "44")), *words)
    assert counts(said) == (0, 2, 1, 0)
    assert "line 2: changed: A1 2024: picked 41 lb is now picked 44 lb" in said.out
    assert sorted(words_of(log, "A1")) == [
        ("A1", "2023", "picked 30 lb"), ("A1", "2024", "picked 44 lb"),
        ("A1", "2024-09-01", "A1 picked 5 lb @ 2024-09-01")]
    log.ok("undo")
    assert ("A1", "2024", "picked 41 lb") in words_of(log, "A1")


@fact
def counts_of_fruit_stand_beside_weights_of_the_same_year():
    log = yard.copy("both")
    words = ("--columns", "tree=Tree", "--years", "2023..2023", "--unit")
    log.ok("import", "picks", put("w.csv", "Tree,2023\nA1,30\n"), *words, "lb")
    said = log.ok("import", "picks", put("c.csv", "Tree,2023\nA1,85\n"), *words, "fruit")
    assert counts(said) == (1, 0, 0, 0)


@fact
def a_zero_is_a_year_without_fruit_and_a_dash_says_nothing():
    log = yard.copy("zero")
    path = put("zero.csv", "Tree,2023\nA1,0\nA2,-\nA3,n/a\nA4,frosted\n")
    words = ("--columns", "tree=Tree", "--years", "2023..2023", "--unit", "lb")
    assert "line 5, column 4 (2023): " in log(*("import", "picks", path), *words).out
    log.ok("import", "picks", path, *words, "--missing", "frosted")
    states = {row["tree"]: row["state"] for row in log.rows("season", "2023")}
    assert states["A1"] == "none-seen" and states["A2"] == "not-recorded", states


@facts([
    ("heads", "Yields of the yard\n\nTree,kg 2023,2024/25\nA1,3,4\n", 2),
    ("blank rows", "Tree,2023,2024\nA1,3,\n,,\nA2,,4\n", 2),
    ("heading again", "Tree,2023,2024\nA1,3,\nTree,2023,2024\nA2,4,5\n", 3),
    ("lone CR", "Tree,2023,2024\rA1,3,4\r", 2),
    ("tabs", "Tree\t2023\t2024\nA1\t3\t4\n", 2),
    ("quotes", '"Tree","2023","2024"\r\n"A1","3","4"', 2),
    ("not all columns", "Tree,2023,2024,Sum\nA1,3,4,7\n", 2),
])
def sheets_of_all_sorts_are_read(name, text, new):
    log = yard.copy("sort")
    said = log.ok("import", "picks", put("sort.csv", text), "--columns", "tree=Tree", "--years",
                  "2023..2024", "--unit", "kg")
    assert counts(said) == (new, 0, 0, 0), said.out


@facts([
    ("a year is missing", "Tree,2023\nA1,3\n", "2023..2024", "no column for 2024"),
    ("a year stands twice", "Tree,2023,old 2023\nA1,3,4\n", "2023..2023", "two columns"),
    ("no years", "Tree,2023\nA1,3\n", "2023", "as 2019..2024"),
    ("backwards", "Tree,2023\nA1,3\n", "2024..2023", "as 2019..2024"),
    ("a column twice", "Tree,Tree,2023\nA1,A2,3\n", "2023..2023", "two columns of the file"),
    ("no heading", "A1,3\nA2,4\n", "2023..2023", "no column 'Tree'; it has: A1, 3"),
])
def sheets_in_doubt_are_refused(name, text, years, says):
    before = yard.bytes()
    yard.no(2, "import", "picks", put("doubt.csv", text), "--columns", "tree=Tree", "--years",
            years, "--unit", "kg", says=says)
    assert yard.bytes() == before


# --- a column a tree

@fact
def a_row_a_day_and_a_column_a_tree_are_picks_of_those_days():
    log = yard.copy("days")
    path = put("days.csv", "Date,A1,A2,fig by gate,Weather\n1/8/2026,3,4.5,,hot\n"
               "3/8/2026,,2,1,\n")
    words = ("--unit", "lb", "--dates", "dmy")
    before = log.bytes()
    log.no(2, "import", "picks", path, "--columns", "day=Date", *words,
           says="line 1, column 24: 'Weather' is no tree; --columns skip=Weather")
    assert log.bytes() == before
    said = log.ok("import", "picks", path, "--columns", "day=Date,skip=Weather", *words,
                  "--layout", "daily")
    assert counts(said) == (4, 0, 0, 0)
    assert ("fig by gate", "2026-08-03", "picked 1 lb") in words_of(log)
    said = log.ok("import", "picks", put("days.csv", open(path).read().replace("4.5", "5.5")),
                  "--layout", "daily")
    assert counts(said) == (0, 3, 1, 0), "units, order of day and month, skip: all remembered"


# --- entries

ENTRIES = ("tree,day,kind,amount,words,note\nA1,2026-02-01,cut,20%,shape,leader down\n"
           "A1,2026-03-01,feed,2 lb,10-10-10,\nA2,3/4/2026,saw,,aphids light,\n"
           ",2026-03-06,weather,,frost 29 F,\n\"fig by gate\",2026-08-20,picked,3 lb,,\"sweet; \"\"first\"\"\"\n")


@fact
def a_table_of_entries_is_read_as_lines_are():
    log = yard.copy("entries")
    path = put("entries.csv", ENTRIES)
    said = log("import", "entries", path)
    assert said.status == 2 and "line 4, column 4 (day): '3/4/2026' could be" in said.out
    said = log.ok("import", "entries", path, "--dates", "mdy")
    assert counts(said) == (5, 0, 0, 0)
    assert counts(log.ok("import", "entries", path, "--dates", "mdy")) == (0, 5, 0, 0)
    rows = {row["words"]: row for row in log.rows("entry", "list")}
    one = [row for row in rows.values() if row["kind"] == "pick"][0]
    assert one["note"] == 'sweet; "first"', one
    assert [row["day"] for row in rows.values() if row["kind"] == "saw"] == ["2026-03-04"]
    assert log.ok("undo").out == "undone: import entries\n"
    assert log.rows("entry", "list") == []


@fact
def whole_lines_and_batches_come_in_once():
    log = yard.copy("lines")
    path = put("lines.csv", "Tree,When,What\n,2026-06-01,all apples watered 5 gal\n"
               "A1,2026-06-02,picked 3 lb\n,,A2 cut heading 10% @ 2026-02-03 ; tips\n")
    words = ("--columns", "tree=Tree,day=When,line=What")
    assert counts(log.ok("import", "entries", path, *words)) == (3, 0, 0, 0)
    assert len(log.rows("entry", "list")) == 6
    assert counts(log.ok("import", "entries", path, *words)) == (0, 3, 0, 0)
    assert len(log.rows("entry", "list")) == 6


@fact
def a_row_a_day_and_a_column_a_tree_may_hold_what_was_done():
    log = yard.copy("diary")
    path = put("diary.tsv", "Date\tA1\tA2\n2026-05-01\tcut shape 10%\t\n"
               "2026-05-02\t\"saw aphids\nwatered 5 gal\"\tbloom\n")
    assert counts(log.ok("import", "entries", path, "--columns", "day=Date")) == (4, 0, 0, 0)
    assert counts(log.ok("import", "entries", path, "--columns", "day=Date")) == (0, 4, 0, 0)
    assert {row["kind"] for row in log.rows("entry", "list", "A1")} == {"cut", "saw", "water"}


@facts([
    ("no tree", "tree,day,kind\nZ9,2026-01-01,cut\n", "line 2, column 1 (tree): no tree 'Z9'"),
    ("no day", "tree,kind,words\nA1,cut,shape\n", "line 2, column 4 (kind): no day"),
    ("no such kind", "tree,day,kind\nA1,2026-01-01,pondered\n", "line 2, column 15 (kind): "),
    ("a day alone", "line,day\n@ 2026-01-01,\n", "line 2, column 1 (line): a day alone"),
    ("yesterday", "line\nA1 thinned yesterday\n", "line 2, column 1 (line): "),
    ("two things", "line,day\nA1 picked 3 lb and fed 2 lb,2026-01-01\n", "line 2, column 1 "),
])
def rows_of_entries_in_doubt_are_named(name, text, says):
    before = yard.bytes()
    said = yard("import", "entries", put("row.csv", text))
    assert said.status == 2 and says in said.out.replace("\n  ", " "), said.out
    assert yard.bytes() == before


# --- trees told of again

@fact
def a_tree_told_of_again_gets_the_facts_it_lacks_and_keeps_the_others():
    log = yard.copy("again")
    path = put("again.csv", "label,rootstock,planted,note,spot,species\nA1,M9,2005,old,,apple\n"
               "A2,,,,row 2,\nB1,,,,,fig\n")
    assert counts(log.ok("import", "trees", path)) == (1, 0, 2, 0)
    assert counts(log.ok("import", "trees", path)) == (0, 3, 0, 0)
    said = log.ok("tree", "show", "A1").out
    assert "M9" in said and "2005" in said and "old" in said, said
    other = put("other.csv", "label,planted,species,rootstock\nA1,2006,,\nA2,,quince,\nB1,,,\n"
                "A3,,,\nA1,,,M26\n")
    before = log.bytes()
    said = log("import", "trees", other)
    text = said.out.replace("\n  ", " ")
    assert "line 2, column 1 (label): planted is '2005' in the log, '2006' here" in text, text
    assert "line 3, column 1 (label): species is 'apple' in the log, 'quince' here" in text
    assert "line 6, column 1 (label): label 'A1' stands on line 2 with other facts" in text
    assert said.status == 2 and log.bytes() == before


# --- layouts and encodings

@fact
def a_layout_keeps_the_encoding_and_the_unit():
    log = yard.copy("latin")
    log.ok("tree", "add", "Gräfin", "--species", "pear")
    path = put("latin.csv", "Baum;Tag;Ertrag\nGräfin;1.9.2026;3,5\n", "latin-1")
    log.no(2, "import", "picks", path, "--columns", "tree=Baum,day=Tag,amount=Ertrag",
           says="try the encoding latin1")
    said = log.ok("import", "picks", path, "--columns", "tree=Baum,day=Tag,amount=Ertrag",
                  "--encoding", "latin1", "--numbers", "comma", "--unit", "kg", "--dates", "dmy",
                  "--layout", "heft")
    assert counts(said) == (1, 0, 0, 0)
    assert counts(log.ok("import", "picks", path, "--layout", "heft")) == (0, 1, 0, 0)
    log.no(2, "import", "picks", path, "--layout", "zettel", says="there is: heft")


@facts([
    ("utf-8-sig", ()), ("utf-16", ()), ("utf-16-le", ("--encoding", "utf16")),
    ("latin-1", ("--encoding", "latin1")),
])
def a_table_of_entries_is_read_in_any_encoding(encoding, words):
    log = yard.copy("coded")
    log.ok("tree", "add", "Níspero", "--species", "loquat")
    path = put("coded.csv", "tree;day;kind;note\r\nNíspero;2026-01-02;bloom;über\r\n", encoding)
    assert counts(log.ok("import", "entries", path, *words)) == (1, 0, 0, 0)
    assert log.rows("entry", "list", "Níspero")[0]["note"] == "über"


# --- what is no table

NUL, HALF = b"tree,day\0,amount\n", b"\xff\xfet\0r\0e\0e\0,"


@facts([
    ("unclosed quote", b'label,tree,line\nA1,"2026', "line 2, column 4: a quote opened here"),
    ("NUL", NUL, "line 1, column 9: a NUL byte"),
    ("UTF-16 of odd length", HALF, "line 1, column 5: the file ends inside a UTF-16"),
    ("a cell of two megabytes", b"label,tree,line\nA1," + b"x" * (1 << 21) + b",3 lb\n",
     "a row of more than a megabyte"),
    ("10,000 columns", b",".join(b"c%d" % i for i in range(10000)) + b"\n", "more than 4096 cells"),
    ("words after a quote", b'label,tree,line\n"A1"x,2026-01-01,3 lb\n', "line 2, column 5: words"),
])
def hostile_files_are_refused_with_the_place(name, content, says):
    before = yard.bytes()
    for kind in ("trees", "picks", "entries"):
        said = yard("import", kind, put("hostile.csv", content))
        assert said.status == 2 and says in said.err.replace("\n", " "), (kind, said.err)
    assert yard.bytes() == before


@fact
def a_cell_of_a_megabyte_is_refused_by_its_row():
    said = yard("import", "picks", put("wide.csv", b"tree,day,amount\nA1,2026-01-01," +
                                       b"9" * 1000000 + b"\n"))
    assert said.status == 2 and said.out.startswith("line 2, column 15 (amount):\n"), said.out[:99]


@fact
def a_long_file_from_a_pipe_and_from_a_file_is_the_same():
    days = [f"2020-{1 + i % 12:02d}-{1 + i // 12 % 28:02d}" for i in range(5000)]
    text = "tree,day,amount\n" + "".join(
        f"A{1 + i % 4},{day},{1 + i % 7} lb\n" for i, day in enumerate(days))
    total = sum(1 + i % 7 for i in range(5000))
    for name, path, stdin in (("file", put("long.csv", text), None), ("pipe", "-", text)):
        log = yard.copy("long" + name)
        assert counts(log.ok("import", "picks", path, stdin=stdin)) == (5000, 0, 0, 0)
        grams = sum(int(row["weight_low_g"]) for row in log.table("export", "picks", "-"))
        assert abs(grams / 453.59237 - total) < 2, grams
        assert counts(log.ok("import", "picks", path, stdin=stdin)) == (0, 5000, 0, 0)


main()
