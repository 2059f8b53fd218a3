# SPDX-License-Identifier: MIT
"""The whole log as a folder and back: export all, import all."""
import csv
import hashlib
import json
import os
import shutil
import sqlite3
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
CSV = os.path.join(scratch, "demo-csv")
JSON = os.path.join(scratch, "demo-json")
demo.ok("enter", "A1", "saw", "webs", ";", "=SUM(1), \"quoted\"\tN\u00edspero")
demo.ok("tree", "set", "A1", "--note", "+1 ladder; by the kitchen window")
demo.ok("undo")
demo.ok("export", "all", CSV)
demo.ok("export", "all", JSON, "--format", "json")


def copy(name, source=CSV):
    path = os.path.join(scratch, name)
    shutil.copytree(source, path)
    return path


def tables(path):
    """What the log holds, table by table, in order."""
    kept_out = ("season_turn", "draft", "walk", "kept_flag")
    with sqlite3.connect(path) as log:
        names = [name for (name,) in log.execute(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'word_index%'")]
        held = {name: log.execute(f"SELECT * FROM {name} ORDER BY rowid").fetchall()
                for name in names if name not in kept_out}
    log.close()
    # numbers of rows are local: their order is what counts
    return {name: [row[1:] if len(row) > 2 and isinstance(row[0], int) else row for row in rows]
            for name, rows in held.items()}


def files(path):
    held = {}
    for name in os.listdir(path):
        with open(os.path.join(path, name), "rb") as file:
            held[name] = file.read()
    return held


def seal(path):
    """A manifest for what lies there now, as somebody would write who knows how."""
    where = os.path.join(path, "manifest.sha256")
    lines = []
    with open(where, encoding="utf-8") as file:
        for line in file.read().splitlines()[:-1]:
            if not line.startswith("#"):
                name = line.split("  ")[1]
                with open(os.path.join(path, name), "rb") as table:
                    line = hashlib.sha256(table.read()).hexdigest() + "  " + name
            lines.append(line + "\n")
    write_manifest(path, "".join(lines))


def write_manifest(path, text):
    with open(os.path.join(path, "manifest.sha256"), "w", encoding="utf-8") as file:
        file.write(text + "# sha256 " + hashlib.sha256(text.encode()).hexdigest() + "\n")


def change(path, name, old, new, count=1):
    where = os.path.join(path, name)
    with open(where, encoding="utf-8", newline="") as file:
        text = file.read()
    assert old in text, f"{name} has no {old!r}"
    with open(where, "w", encoding="utf-8", newline="") as file:
        file.write(text.replace(old, new, count))
    seal(path)


def refused(name, path, *says):
    """Nothing is made, one sentence on standard error, each part told somewhere."""
    log = Log(name)
    said = log("import", "all", path)
    assert said.status != 0, said.out
    assert_one_line(said.err)
    assert not os.path.exists(log.path)
    left = [other for other in os.listdir(scratch) if other.startswith(name + ".bough")]
    assert not left, left
    told = " ".join((said.out + said.err).split())
    for part in says:
        assert part in told, f"no '{part}' in: {told}"
    return said


# ---- there and back ----

@facts(["csv", "json"])
def the_same_log_comes_back(format):
    folder = CSV if format == "csv" else JSON
    log = Log("back-" + format)
    said = log.ok("import", "all", folder)
    assert "into a new log" in said.out, said.out
    assert tables(log.path) == tables(demo.path)
    again = os.path.join(scratch, "again-" + format)
    log.ok("export", "all", again, "--format", format)
    assert files(again) == files(folder)
    assert "sound" in log.ok("verify").out
    assert log.ok("season").out == demo.ok("season").out
    assert log.ok("review").out == demo.ok("review").out
    assert log.ok("find", "webs").out == demo.ok("find", "webs").out


@fact
def undo_and_redo_go_on_in_the_log_that_came_back():
    log = Log("undone")
    log.ok("import", "all", CSV)
    other = demo.copy("undone-too")
    assert log.ok("redo").out == other.ok("redo").out
    assert log.ok("tree", "show", "A1").out == other.ok("tree", "show", "A1").out
    for _ in range(4):
        assert log.ok("undo").out == other.ok("undo").out
    assert "sound" in log.ok("verify").out


@fact
def the_same_folder_twice_adds_nothing():
    log = Log("twice")
    log.ok("import", "all", CSV)
    before = log.bytes()
    said = log.ok("import", "all", CSV)
    assert "nothing to add" in said.out, said.out
    assert log.bytes() == before
    log.ok("enter", "A1", "picked", "3", "lb")
    log.ok("tree", "set", "A1", "--note", "moved")
    said = log.ok("import", "all", JSON)
    assert "nothing to add" in said.out and "1 of them" in " ".join(said.out.split()), said.out


@fact
def an_empty_log_gives_way_and_is_kept():
    log = new_log("began")
    place = log.ok("place", "show").out
    said = log.ok("import", "all", CSV)
    kept = [name for name in os.listdir(scratch) if name.startswith("began.bough.replaced-")]
    assert len(kept) == 1 and kept[0] in said.out.replace("\n  ", " "), said.out
    assert tables(log.path) == tables(demo.path)
    old = Log("began-old")
    shutil.move(os.path.join(scratch, kept[0]), old.path)
    assert old.ok("place", "show").out == place
    assert not [name for name in os.listdir(scratch) if "import" in name]


@fact
def another_log_is_left_as_it_is():
    log = new_log("other")
    log.ok("tree", "add", "Z1")
    before = log.bytes()
    log.no(2, "import", "all", CSV, says=("has other records", "merge"))
    assert log.bytes() == before


@fact
def a_try_writes_nothing():
    log = Log("try")
    said = log.ok("import", "all", CSV, "--dry-run")
    assert said.out.startswith("would be: "), said.out
    assert not os.path.exists(log.path)
    began = new_log("try-began")
    before = began.bytes()
    began.ok("import", "all", CSV, "--dry-run")
    assert began.bytes() == before
    assert [name for name in os.listdir(scratch) if name.startswith("try")] == ["try-began.bough"]


# ---- what others read ----

@fact
def python_reads_each_file():
    for name, rows in tables(demo.path).items():
        with open(os.path.join(CSV, name + ".csv"), encoding="utf-8", newline="") as file:
            plain = list(csv.reader(file))
        with open(os.path.join(JSON, name + ".json"), encoding="utf-8") as file:
            objects = json.load(file)
        assert len(plain) == len(rows) + 1 and len(objects) == len(rows), name
        for row, cells, one in zip(rows, plain[1:], objects):
            assert list(one) == plain[0] and tuple(one.values()) == row, (name, one, row)
            for cell, value in zip(cells, row):
                text = "" if value is None else str(value)
                assert cell == text or cell == "'" + text, (name, cell, value)


@fact
def a_spreadsheet_runs_no_cell():
    with open(os.path.join(CSV, "entry.csv"), encoding="utf-8", newline="") as file:
        notes = [row["note"] for row in csv.DictReader(file)]
    assert '\'=SUM(1), "quoted"\tN\u00edspero' in notes, notes[-1]
    with open(os.path.join(CSV, "change.csv"), encoding="utf-8", newline="") as file:
        assert any(row["new"].startswith("'+1 ladder") for row in csv.DictReader(file))


@fact
def sha256sum_checks_the_folder():
    done = subprocess.run(["sha256sum", "--check", "--strict", "manifest.sha256"], cwd=CSV,
                          capture_output=True, text=True)
    assert done.returncode == 0 and "WARNING" not in done.stderr, done.stderr


# ---- the folder that is written ----

@fact
def an_export_of_the_same_log_is_replaced_whole():
    folder = copy("replace")
    os.chmod(folder, 0o750)
    os.chmod(os.path.join(folder, "tree.csv"), 0o640)
    demo.ok("export", "all", folder)
    assert files(folder) == files(CSV)
    assert os.stat(folder).st_mode & 0o777 == 0o750
    assert os.stat(os.path.join(folder, "tree.csv")).st_mode & 0o777 == 0o640
    assert os.stat(os.path.join(CSV, "tree.csv")).st_mode & 0o777 == 0o600
    demo.ok("export", "all", folder + "/", "--format", "json")
    assert files(folder) == files(JSON)
    assert not [name for name in os.listdir(scratch) if name.startswith(".")]


@fact
def an_empty_folder_is_filled():
    folder = os.path.join(scratch, "bare")
    os.mkdir(folder)
    demo.ok("export", "all", folder)
    assert files(folder) == files(CSV)


@fact
def nothing_of_another_hand_is_written_over():
    mixed, file, cut, strange = copy("mixed"), write("plain.txt", "x"), copy("cut"), copy("strange")
    with open(os.path.join(mixed, "my notes.csv"), "w") as out:
        out.write("mine")
    os.truncate(os.path.join(cut, "manifest.sha256"), 500)
    other = new_log("strange-log")
    pictures = os.path.join(scratch, "pictures")
    os.mkdir(pictures)
    with open(os.path.join(pictures, "tree.csv"), "w") as out:
        out.write("mine")
    for folder, words in ((mixed, "my notes.csv"), (file, "is a file, not a folder"),
                          (cut, "not whole"), (pictures, "'tree.csv', which no export wrote")):
        before = None if folder == file else files(folder)
        demo.no(2, "export", "all", folder, says=words)
        assert before is None or files(folder) == before
    other.no(2, "export", "all", strange, says="the export of another log")
    assert files(strange) == files(CSV)
    demo.no(3, "export", "all", os.path.join(scratch, "no/such"), says="No such file")
    demo.no(2, "export", "all", "-", says="name one")
    demo.no(2, "export", "all", CSV, "--tree", "A1", says="usage")
    demo.no(2, "export", "all", CSV, "--format", "html", says="not html")
    demo.no(2, "import", "all", CSV, "--unit", "lb", says="usage")
    Log("nowhere").no(3, "export", "all", os.path.join(scratch, "nothing"), says="no")
    assert not os.path.exists(os.path.join(scratch, "nothing"))


# ---- folders that are not whole, or were changed ----

@fact
def a_folder_copied_by_halves_is_refused():
    gone, cut, short = copy("gone"), copy("cut-2"), copy("short")
    os.remove(os.path.join(gone, "amount.csv"))
    refused("r1", gone, "amount.csv: it is not in the folder", "is not whole")
    with open(os.path.join(cut, "entry.csv"), "r+b") as file:
        file.truncate(9000)
    refused("r2", cut, "entry.csv: it is not as it was written", "copy it again")
    os.truncate(os.path.join(short, "manifest.sha256"), 700)
    refused("r3", short, "manifest.sha256 is not as it was written")
    os.remove(os.path.join(short, "manifest.sha256"))
    refused("r4", short, "no folder that 'export all' wrote")
    refused("r5", os.path.join(scratch, "no-such-folder"), "no folder that 'export all' wrote")
    with open(os.path.join(short, "manifest.sha256"), "w") as file:
        file.write("something else\n")
    refused("r6", short, "is not of an export of this program")


@fact
def every_byte_of_a_file_counts():
    folder = copy("byte")
    where = os.path.join(folder, "place.csv")
    with open(where, "rb") as file:
        sound = file.read()
    for at in range(0, len(sound), 7):
        with open(where, "wb") as file:
            file.write(sound[:at] + bytes([sound[at] ^ 1]) + sound[at + 1:])
        refused("byte-log", folder, "place.csv: it is not as it was written")


@fact
def a_newer_program_is_named():
    folder = copy("newer")
    change(folder, "manifest.sha256", "# schema 1\n", "# schema 77\n")
    refused("n1", folder, "schema 77", "a newer one reads it")
    folder = copy("newer-format")
    change(folder, "manifest.sha256", "format 1\n", "format 2\n")
    refused("n2", folder, "format 2", "a newer one reads it")


@facts([
    ("an unknown word", "spot.csv", ",hole,", ",pit,", "spot.csv line 2, kind: ", "CHECK"),
    ("no number", "spot.csv", ",hole,,", ",hole,,1x", "spot.csv line 2, east_um: '1x", "whole number"),
    ("a number written otherwise", "weather_day.csv", "wind_mms\r\n",
     "wind_mms\r\n" + "0" * 26 + "," + "1" * 26 + ",+0,2026-01-01,,observed,,,,\r\n",
     "weather_day.csv line 2, struck: '+0'"),
    ("a cell too many", "area.csv", "folded\r\n", "folded\r\na,b,c,d,e,f\r\n",
     "area.csv line 2: 6 cells, expected 5"),
    ("a row twice", "meta.csv", "\r\nlog,", "\r\nlog,x\r\nlog,", "meta.csv line 3, key: ", "UNIQUE"),
    ("another heading", "tree.csv", "label", "labels", "tree.csv: line 1: the heading is not that"),
    ("no hexadecimal", "place.csv", "Tern Hollow", "x'4g'", "place.csv line 2, name: it begins with x'"),
    ("a quote that is not closed", "tree.csv", ",by the kitchen window,", ",\"by the kitchen window,",
     "tree.csv: line 6, column 106: words after a closing quote"),
])
def a_row_that_no_log_holds_is_told_with_its_place(name, table, old, new, *says):
    folder = copy("bad " + name)
    change(folder, table, old, new)
    said = refused("bad-log", folder, *says)
    assert said.status in (2, 3)


@fact
def a_reference_to_nothing_is_told_with_its_place():
    folder = copy("dangling")
    with open(os.path.join(folder, "amount.csv"), encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    lost = rows[5][rows[0].index("entry_id")]
    change(folder, "amount.csv", lost, "0" * 26)
    refused("dangling-log", folder, "amount.csv line 6, entry_id: it names a row that is not there")


@facts([
    ("no JSON", '"struck": 0', '"struck" 0', "it is no JSON"),
    ("a list", ' {"id"', ' ["id"', "it is no JSON object"),
    ("another name", '"label"', '"labels"', "'labels' stands where label is expected"),
    ("true", '"is_gone": 0', '"is_gone": true', "tree.json line 2, is_gone: "),
    ("a text for a number", '"is_gone": 0', '"is_gone": "0"', "it is to be a whole number"),
    ("a number for a text", '"how": ""', '"how": 5', "it is to be a text"),
    ("a number too large", '"is_gone": 0', '"is_gone": 99999999999999999999', "too large"),
    ("a list inside", '"how": ""', '"how": []', "neither text"),
    ("a name too many", '"label_sort"', '"more": 1, "label_sort"', "'more' stands where"),
    ("the end lost", "\n]\n", "\n", "ends before its last line"),
])
def a_row_of_json_is_told_with_its_place(name, old, new, *says):
    folder = copy("json " + name, JSON)
    change(folder, "tree.json", old, new)
    refused("json-log", folder, "tree.json", *says)


@fact
def rows_that_the_manifest_does_not_count_are_refused():
    folder = copy("count")
    change(folder, "manifest.sha256", "# rows 1\n", "# rows 2\n")
    refused("count-log", folder, "1 rows, and manifest.sha256 says 2")


@fact
def no_name_leads_out_of_the_folder():
    folder = copy("out")
    shutil.move(os.path.join(folder, "area.csv"), os.path.join(scratch, "area.csv"))
    with open(os.path.join(folder, "manifest.sha256"), encoding="utf-8") as file:
        lines = file.read().replace("  area.csv", "  ../area.csv").splitlines(True)[:-1]
    write_manifest(folder, "".join(lines))
    refused("out-log", folder, "manifest.sha256 is not as it was written")


# ---- what stays private ----

@fact
def private_trees_stay_at_home():
    log = demo.copy("private")
    log.ok("tree", "add", "Hidden1", "--species", "loquat", "--spot", "Secret corner", "--private",
           "--note", "Hidden1 by the creek")
    log.ok("tree", "add", "Open1", "--species", "loquat", "--spot", "Gate")
    log.ok("enter", "Hidden1", "picked", "77", "lb", "@", "2026-05-01")
    log.ok("enter", "Open1", "picked", "5", "lb", "@", "2026-05-01")
    log.ok("tree", "rename", "Hidden1", "Hidden2")
    log.ok("enter", "all", "loquat", "fed", "1", "lb", "@", "2026-06-01")
    folder = os.path.join(scratch, "open")
    log.ok("export", "all", folder, "--without-private")
    held = b"".join(files(folder).values())
    for word in (b"Hidden", b"Secret", b"creek", b"77 lb"):
        assert word not in held, word
    assert b"Open1" in held and b"# without-private yes" in held
    given = Log("given")
    given.ok("import", "all", folder)
    assert "sound" in given.ok("verify").out
    labels = [row["tree"] for row in given.rows("tree", "list")]
    assert labels == [row["tree"] for row in log.rows("tree", "list")
                      if not row["tree"].startswith("Hidden")]
    assert given.ok("entry", "list", "Open1").out == log.ok("entry", "list", "Open1").out
    assert "Hidden" not in given.ok("history").out
    # the folder of the whole log is another one
    log.ok("export", "all", folder)
    assert b"Hidden2" in b"".join(files(folder).values())


@fact
def private_notes_stay_at_home():
    log = demo.copy("private-notes")
    hidden = ["A1 note private: quarrel at the fence", "A1 note Private",
              "A1 picked 7 lb @ 2025-05-05 ; private: sold unseen", "A1 saw aphids ; PRIVATE",
              "A1 plan cut shape @ 2026-11-25 ; private: hush",
             "A1 watered 9 gal (private)", "frost -4 C @ 2026-03-03 ; private: own figure"]
    plain = ["A1 note privately owned ladder", "A1 note a private: matter", "A1 note not private",
             "A1 saw aphids ; private road blocked"]
    log.ok("enter", *hidden, *plain)
    log.ok("tree", "set", "A2", "--note", "private: by the creek")
    first = [row["id"] for row in log.rows("entry", "list", "A1") if "31 lb" in row["words"]][0]
    log.ok("entry", "mend", first, "A1 picked 31 lb 420 fruit @ 2020-04-28 ; private: to the mill")
    log.ok("entry", "mend", first, "A1 picked 31 lb 420 fruit @ 2020-04-28")
    folder = os.path.join(scratch, "open-notes")
    log.ok("export", "all", folder, "--without-private")
    held = b"".join(files(folder).values()).lower()
    for word in (b"quarrel", b"unseen", b"9 gal", b"own figure", b"creek", b"to the mill"):
        assert word not in held, word
    assert b"privately owned" in held and b"road blocked" in held
    given = Log("given-notes")
    given.ok("import", "all", folder)
    assert "sound" in given.ok("verify").out
    # the same ones are left out of a table, and all of them without the option
    listed = log.ok("export", "entries", "-", "--without-private", "--format", "json").rows()
    there = given.ok("export", "entries", "-", "--format", "json").rows()
    assert [row["id"] for row in listed] == [row["id"] for row in there]
    whole = log.ok("export", "entries", "-", "--format", "json").rows()
    assert len(whole) == len(listed) + len(hidden)
    # and of what is printed
    for what in ("sheet", "report", "walk"):
        said = log.ok("export", what, "-", "--without-private").out.lower()
        for word in ("quarrel", "unseen", "watered 9 gal", "creek", "hush"):
            assert word not in said, (what, word)
    sheet = log.ok("export", "sheet", "-", "--tree", "A1").out
    assert "quarrel" in sheet and "unseen" in sheet
    # at home nothing is hidden
    assert len(log.rows("find", "quarrel")) == 1


main()
