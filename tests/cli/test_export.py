# SPDX-License-Identifier: MIT
"""Tables out, and the same tables in again: export trees, entries, picks, flags."""
import csv
import io
import os
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
demo.ok("enter", "A1", "picked", "last", "~6-8", "lb,", "30", "fruit", "@", "2025-05-20", ";",
        "=1+1, \"sweet\"\u200f \U0001f333")
demo.ok("enter", "A1", "picked", "none", "@", "2024-05-20")
demo.ok("enter", "A1", "picked", "@", "2023-05-20")


def exported(log, what, name):
    path = os.path.join(scratch, name)
    log.ok("export", what, path)
    with open(path, encoding="utf-8", newline="") as file:
        return path, list(csv.DictReader(file))


@facts(["picks", "entries"])
def what_was_exported_is_all_the_same(what):
    path, rows = exported(demo, what, what + ".csv")
    before = demo.bytes()
    said = demo.ok("import", what, path).out
    assert said == f"0 new, {len(rows)} the same, 0 changed, 0 refused\n", said
    assert demo.bytes() == before


@facts(["picks", "entries"])
def it_reads_into_another_log_of_the_same_trees(what):
    log = demo.copy("bare-" + what)
    path, rows = exported(demo, what, what + "-2.csv")
    for _ in range(3):  # the three lines typed above
        log.ok("undo")
    said = log.ok("import", what, path).out
    assert said == f"3 new, {len(rows) - 3} the same, 0 changed, 0 refused\n", said
    again = exported(log, what, what + "-3.csv")[1]
    own = ("id", "typed_at")
    assert [{key: row[key] for key in row if key not in own} for row in again] == \
           [{key: row[key] for key in row if key not in own} for row in rows]
    assert log.ok("import", what, path).out.startswith("0 new"), "twice"


@fact
def words_changed_in_the_file_are_refused():
    path, rows = exported(demo, "picks", "changed.csv")
    with open(path, encoding="utf-8", newline="") as file:
        text = file.read()
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(text.replace("A1 picked 31 lb 420 fruit", "A1 picked 30 lb 420 fruit", 1))
    said = demo("import", "picks", path)
    assert said.status == 2 and "(words): 'A1 picked 31 lb 420 fruit' in the log" in \
        " ".join(said.out.split()), said.out
    assert_one_line(said.err)


@fact
def a_pick_says_its_season_and_its_figures():
    rows = exported(demo, "picks", "figures.csv")[1]
    last = [row for row in rows if row["day"] == "2025-05-20"][0]
    assert (last["subject"], last["subject_kind"], last["season"]) == ("A1", "tree", "2025"), last
    assert (last["weight_low_g"], last["weight_high_g"], last["about"]) == ("2722", "3629", "1")
    assert last["note"] == "'=1+1, \"sweet\"\u200f \U0001f333", last
    none = [row for row in rows if row["day"] == "2024-05-20"][0]
    assert none["none"] == "1", none
    bare = [row for row in rows if row["day"] == "2023-05-20" and row["weight_low_g"] == ""]
    assert len(bare) == 1, "an amount not known is empty, never 0"
    winter = [row for row in rows if row["season"] == "2019/20"]
    assert winter and winter[0]["day"] == "2020-01-20"


@fact
def seasons_are_those_of_the_views():
    rows = exported(demo, "picks", "views.csv")[1]
    done = subprocess.run(
        ["sqlite3", demo.path, "SELECT entry_id, season_year FROM pick_season WHERE kind = 'pick'"],
        capture_output=True, text=True, check=True)
    years = dict(line.split("|") for line in done.stdout.splitlines())
    told = {row["id"]: row["season"][:4] for row in rows if row["planned"] == "0"}
    assert told == years


@facts(["trees", "entries", "picks", "flags"])
def csv_and_json_say_the_same(what):
    plain = list(csv.DictReader(io.StringIO(demo.ok("export", what, "-").out)))
    objects = demo.rows("export", what, "-")
    assert len(plain) == len(objects) > 10
    for row, one in zip(plain, objects):
        assert list(row) == list(one)
        for key, value in one.items():
            text = "" if value is None else str(int(value)) if isinstance(value, bool) else str(value)
            assert row[key] in (text, "'" + text), (what, key, row[key], value)


@fact
def an_old_file_stays_when_the_new_one_fails():
    path = write("kept.csv", "mine")
    os.chmod(path, 0o640)
    demo.no(2, "export", "trees", path, "--tree", "A1", says="usage")
    assert open(path).read() == "mine"
    demo.ok("export", "picks", path)
    assert os.stat(path).st_mode & 0o777 == 0o640
    assert open(path).read().startswith("id,subject,day,")
    demo.no(3, "export", "picks", os.path.join(scratch, "no/such.csv"), says="No such file")
    demo.no(3, "export", "picks", "/dev/full", says="No space left")
    assert not [name for name in os.listdir(scratch) if name.startswith(".")]


# ---- trees ----

def yard():
    log = new_log("trees", "--lat", "38")
    log.ok("area", "add", "Orchard")
    log.ok("tree", "add", "Old", "--species", "plum", "--planted", "1990~", "--spot", "Corner")
    log.ok("tree", "remove", "Old", "died of canker, \"honey\" fungus")
    log.ok("tree", "add", "Old", "--species", "apple", "--cultivar", "Kidd's Orange Red", "--sure",
           "certain", "--planted", "2024-03-04", "--spot", "Corner", "--rootstock", "M9",
           "--how", "bought", "--note", "=1+1; 'quoted' \u202ertl")
    log.ok("spot", "set", "Corner", "--area", "Orchard", "--east", "-3 m", "--north", "4 m")
    log.ok("tree", "add", "A10", "--species", "apple", "--parent", "Old", "--how", "seed",
           "--over-fence", "--private", "--hazard", "power line, north side",
           "--target-height", "3 m")
    log.ok("tree", "add", "A2", "--species", "fig", "--sure", "suspected")
    log.ok("tree", "add", "A1 graft", "--host", "Old", "--species", "pear", "--planted", "2025")
    log.ok("tree", "add", "Unknown")
    log.ok("tree", "add", "Far", "--species", "mango")
    return log


trees = yard()


@fact
def trees_exported_are_all_the_same():
    path, rows = exported(trees, "trees", "trees.csv")
    before = trees.bytes()
    assert trees.ok("import", "trees", path).out == "0 new, 7 the same, 0 changed, 0 refused\n"
    assert trees.bytes() == before
    path, rows = exported(demo, "trees", "demo-trees.csv")
    assert demo.ok("import", "trees", path).out.startswith(f"0 new, {len(rows)} the same, 0 ")


@fact
def trees_exported_make_the_same_trees():
    path, rows = exported(trees, "trees", "trees-2.csv")
    log = new_log("trees-again", "--lat", "38")
    said = log.ok("import", "trees", path)
    assert "7 new, 0 the same, 0 changed, 0 refused" in said.out, said.out
    again = exported(log, "trees", "trees-3.csv")[1]
    assert [dict(row, id="") for row in again] == [dict(row, id="") for row in rows]
    assert log.ok("import", "trees", path).out.startswith("0 new, 7 the same"), "twice"
    assert "sound" in log.ok("verify").out
    assert log.ok("tree", "list").out == trees.ok("tree", "list").out
    held = {row["tree"]: row for row in rows if not row["gone"]}
    assert held["A1 graft"]["host"] == "Old" and held["A10"]["parent"] == "Old"
    assert held["Old"]["area"] == "Orchard" and held["Old"]["east_um"] == "-3000000"
    assert held["Old"]["note"].startswith("'=1+1")
    assert held["A10"]["over_fence"] == held["A10"]["private"] == "1"


@fact
def private_trees_stay_behind_when_asked():
    trees.ok("tree", "add", "A10 graft", "--host", "A10", "--species", "apple")
    trees.ok("enter", "A10 picked 77 lb @ 2026-09-01")
    trees.ok("enter", "A10 graft picked 78 lb @ 2026-09-01")
    trees.ok("enter", "Old picked 3 lb @ 2026-09-01")
    for what in ("trees", "picks", "entries"):
        open_, whole = (trees.ok("export", what, "-", *more).out
                        for more in (("--without-private",), ()))
        assert "A10" in whole and "A10" not in open_, open_
        assert len(open_.splitlines()) == len(whole.splitlines()) - 2
    trees.no(2, "export", "flags", "-", "--without-private", says="trees, entries, picks")
    for _ in range(4):
        trees.ok("undo")


@facts([
    ("a note", "power line, north side", "power line", "(hazard): 'power line, north side' in"),
    ("a species", "fig,suspected", "loquat,suspected", "(species): 'fig' in the log"),
    ("a place", "-3000000", "-2000000", "(east_um): '-3000000' in the log, '-2000000' here"),
])
def a_tree_told_otherwise_is_refused(name, old, new, says):
    path = exported(trees, "trees", "told.csv")[0]
    with open(path, encoding="utf-8", newline="") as file:
        text = file.read()
    assert old in text, old
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(text.replace(old, new))
    before = trees.bytes()
    said = trees("import", "trees", path)
    assert said.status == 2 and says in " ".join(said.out.split()), said.out + said.err
    assert trees.bytes() == before


@facts([
    ("Old,4", ",Old,Corner,", ",Nobody,Corner,", "its host 'Nobody' is neither in the file nor"),
    ("how", ",bought,", ",stolen,", "(how): 'stolen' is no word for it"),
    ("height", ",3000000,", ",3 m,", "(target_height_um): '3 m' is no whole number"),
    ("sure", "apple,certain", "apple,surely", "(species_sure): 'surely' is no word for it"),
])
def a_new_tree_that_cannot_be_is_told_by_line(name, old, new, says):
    path = exported(trees, "trees", "cannot.csv")[0]
    with open(path, encoding="utf-8", newline="") as file:
        text = file.read()
    assert old in text, (old, text)
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(text.replace(old, new))
    log = new_log("cannot-" + name, "--lat", "38")
    said = log("import", "trees", path)
    told = " ".join((said.out + said.err).split())
    assert said.status == 2 and says in told and "line " in told, told
    assert log.rows("tree", "list") == []


main()
