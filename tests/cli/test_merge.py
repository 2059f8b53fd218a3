# SPDX-License-Identifier: MIT
"""Two copies of a log joined by command: what is told, what waits, and what is left alone."""
import os
import shutil
import sqlite3
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")


def pair(name):
    """Two copies, each written in by itself."""
    one = demo.copy(name + "-one")
    two = demo.copy(name + "-two")
    two.today = "2019-02-03"  # a clock that is years behind
    one.ok("tree", "set", "A3", "--planted", "2015")
    two.ok("tree", "set", "A3", "--planted", "2017-03")
    two.ok("tree", "set", "A2", "--hazard", "low wire")
    two.ok("enter", "A2 cut shape 20% @ 2018-05-01 ; from a ladder")
    return one, two


def planted(log):
    return next(row for row in log.rows("tree", "list") if row["tree"] == "A3")["planted"]


def records(log):
    return [log.ok("export", what, "-").out for what in ("trees", "entries", "picks")]


def plain(said):
    return " ".join(said.out.split())


@fact
def dry_run_tells_the_same_account_and_leaves_the_log():
    one, two = pair("dry")
    before = one.bytes()
    tried = plain(one.ok("merge", two.path, "--dry-run"))
    assert one.bytes() == before
    done = plain(one.ok("merge", two.path))
    account = tried.partition("nothing of this is in the log: ")[2]
    assert account and done.startswith(account), f"{tried}\n{done}"
    assert "3 acts; 1 new entry, 1 field changed" in account, account
    assert not os.path.exists(one.path + ".backups")


@fact
def dry_run_goes_where_nothing_can_be_written():
    one, two = pair("looking")
    os.chmod(two.path, 0o444)
    there = os.path.join(scratch, "looking")
    os.mkdir(there)
    path = shutil.move(one.path, there)
    with as_another(path, 0o444, 0o555) as how:
        said = run("--log", path, "--today", TODAY, "merge", two.path, "--dry-run", **how)
    assert said.status == 0 and "1 new entry" in said.out, said.out + said.err
    assert os.listdir(there) == [os.path.basename(path)]


@fact
def either_way_shows_the_same():
    one, two = pair("either")
    was = one.copy("either-was")
    one.ok("merge", two.path)
    two.ok("merge", was.path)
    two.today = one.today
    assert records(one) == records(two)
    assert planted(one) == "2023-11-20", planted(one)
    def waiting(log):
        return [(r["record"], r["field"], r["side"], r["value"])
                for r in log.rows("merge", "--clashes")]
    assert waiting(one) == waiting(two)
    assert [row[3] for row in waiting(one)][0] == "2023-11-20"
    assert {row[3] for row in waiting(one)[1:]} == {"2015", "2017-03"}


@fact
def twice_adds_nothing():
    one, two = pair("twice")
    one.ok("merge", two.path)
    before = one.bytes()
    said = one.ok("merge", two.path)
    assert "holds nothing that is not here already" in plain(said), said.out
    assert one.bytes() == before


@fact
def undo_takes_it_back_and_redo_brings_it():
    one, two = pair("undo")
    before = records(one)
    one.ok("merge", two.path)
    merged = records(one)
    assert merged != before
    assert "merge undo-two.bough" in one.ok("undo").out
    assert records(one) == before
    one.ok("redo")
    assert records(one) == merged
    assert "sound" in one.ok("verify").out


@fact
def clash_is_settled_by_its_letter_and_travels():
    one, two = pair("settle")
    one.ok("merge", two.path)
    letter = next(row["side"] for row in one.rows("merge", "--clashes")
                  if row["value"] == "2017-03")
    assert "changed in two copies" in plain(one.ok("verify"))
    assert "planted: 2017-03" in one.ok("merge", "--keep", "1", letter).out
    assert planted(one) == "2017-03"
    assert "nothing waits" in one.ok("merge", "--clashes").out
    two.ok("merge", one.path)
    assert planted(two) == "2017-03"
    assert "nothing waits" in two.ok("merge", "--clashes").out
    one.ok("undo")
    assert planted(one) == "2023-11-20"
    one.ok("merge", "--keep", "1", "before")
    assert "nothing waits" in one.ok("merge", "--clashes").out


@fact
def value_of_ones_own_settles_one():
    one, two = pair("own")
    one.ok("merge", two.path)
    one.no(2, "merge", "--keep", "1", "own", "someday", says="someday")
    assert "before" in one.ok("merge", "--clashes").out
    said = one.ok("merge", "--keep", "1", "own", "about 2016").out
    assert "kept for A3: about 2016" in said, said
    assert planted(one) == "2016~", planted(one)
    assert "nothing waits" in one.ok("merge", "--clashes").out
    assert "sound" in one.ok("verify").out
    two.ok("merge", one.path)  # it is the other copy's from then on
    assert planted(two) == "2016~", planted(two)
    assert "nothing waits" in two.ok("merge", "--clashes").out
    one.ok("undo")
    assert "planted: 2017-03" in one.ok("merge", "--clashes").out


@fact
def several_fields_are_named_and_the_others_wait_on():
    one, two = pair("several")
    for log, height, note in ((one, "3 m", "wire"), (two, "4 m", "limb; a nest")):
        log.ok("tree", "set", "B1", "--target-height", height, "--note", note)
    one.ok("merge", two.path)
    number = next(str(r["number"]) for r in one.rows("merge", "--clashes") if r["record"] == "B1")
    one.no(2, "merge", "--keep", number, "own", "3.5 m", says="as in '")
    one.no(2, "merge", "--keep", number, "own", "target height: tall", says="tall")
    one.ok("merge", "--keep", number, "own", "target height: 3.5 m; note: both; a nest")
    assert not [r for r in one.rows("merge", "--clashes") if r["record"] == "B1"]
    assert "sound" in one.ok("verify").out
    shown = one.ok("tree", "show", "B1").out
    assert "both; a nest" in shown, shown
    one.ok("undo")
    one.ok("merge", "--keep", number, "own", "note: nothing")
    left = [r["field"] for r in one.rows("merge", "--clashes") if r["record"] == "B1"]
    assert set(left) == {"target height"}, left


@fact
def entry_says_a_line_of_ones_own():
    one = demo.copy("line-one")
    one.ok("enter", "A2 picked 4 lb @ 2026-09-01")
    two = one.copy("line-two")
    entry = next(r["id"] for r in one.rows("entry", "list", "A2") if "4 lb" in str(r))
    one.ok("entry", "mend", entry, "A2 picked 5 lb @ 2026-09-01")
    two.ok("entry", "mend", entry, "A2 picked 6 lb @ 2026-09-02")
    one.ok("merge", two.path)
    one.no(2, "merge", "--keep", "1", "own", "A2 picked @ 2026-13-01", says="month 13")
    one.ok("merge", "--keep", "1", "own", "A2 picked 7 lb @ 2026-09-03")
    while one.rows("merge", "--clashes"):
        one.ok("merge", "--keep", "1", "own", "A2 picked 7 lb @ 2026-09-03")
    assert "7 lb" in one.ok("entry", "list", "A2").out
    assert "sound" in one.ok("verify").out


@fact
def editing_the_field_settles_it():
    one, two = pair("edit")
    one.ok("merge", two.path)
    one.ok("tree", "set", "A3", "--hazard", "steep")
    assert len(one.rows("merge", "--clashes")) == 3
    one.ok("tree", "set", "A3", "--planted", "2016")
    assert "nothing waits" in one.ok("merge", "--clashes").out


@fact
def doubles_and_labels_are_told():
    one, two = demo.copy("doubles-one"), demo.copy("doubles-two")
    for log in (one, two):
        log.ok("enter", "A1 picked 3 lb @ 2026-11-20")
        log.ok("tree", "add", "ZZ9", "--species", "fig")
    said = plain(one.ok("merge", two.path))
    assert "ZZ9: 2 trees have it" in said, said
    assert "A1 picked 3 lb @ 2026-11-20 (2026-11-20) (" in said, said


@fact
def season_names_are_those_of_the_merged_trees():
    one, two = demo.copy("turns-one"), demo.copy("turns-two")
    two.ok("tree", "add", "N1", "--species", "loquat")
    two.ok("enter", "N1 picked 3 lb @ 2026-05-20")
    one.ok("merge", two.path)
    assert "season names" not in one.ok("verify").out
    assert any(row["tree"] == "N1" for row in one.rows("season", "2026"))


def stranger():
    log = Log("stranger")
    if not os.path.exists(log.path):
        log.ok("new", "--name", "Another yard")
        log.ok("tree", "add", "Q1", "--species", "quince")
    return log


@fact
def log_that_was_never_a_copy_is_added_when_asked():
    one = demo.copy("related")
    before = one.bytes()
    one.no(2, "merge", stranger().path, says=["never was a copy", "--unrelated"])
    assert one.bytes() == before
    assert "1 new tree" in one.ok("merge", stranger().path, "--unrelated").out
    assert any(row["tree"] == "Q1" for row in one.rows("tree", "list"))


def damaged():
    other = demo.copy("damaged")
    with open(other.path, "r+b") as file:
        for page in range(8, 60, 3):
            file.seek(page * 4096)
            file.write(b"\xff" * 512)
    return other.path


def text_file():
    path = os.path.join(scratch, "trees.csv")
    with open(path, "w") as file:
        file.write("label,species\nA1,fig\n")
    return path


def other_program():
    path = os.path.join(scratch, "other.db")
    base = sqlite3.connect(path)
    base.execute("CREATE TABLE IF NOT EXISTS mine (x)")
    base.commit()
    base.close()
    return path


@facts([("damaged", damaged, "is damaged"), ("text", text_file, "not a log"),
        ("other_program", other_program, "another program"),
        ("not_there", lambda: os.path.join(scratch, "nowhere.bough"), "there is no log"),
        ("a_folder", lambda: scratch, "is a folder")])
def file_that_is_no_sound_log_is_named_and_left(name, make, says):
    one = demo.copy("wrong-" + name)
    path = make()
    before = one.bytes()
    def there():
        with open(path, "rb") as file:
            return file.read()
    was = there() if os.path.isfile(path) else None
    said = one("merge", path)
    assert said.status in (2, 3), said.status
    assert says in said.err and os.path.basename(path) in said.err, said.err
    assert one.bytes() == before
    assert was is None or there() == was


@facts([("itself", lambda log: ("merge", log.path), "is the log itself"),
        ("no_words", lambda log: ("merge",), "usage: boughbook merge"),
        ("two_files", lambda log: ("merge", "a", "b"), "usage: boughbook merge"),
        ("nothing_waits", lambda log: ("merge", "--keep", "1", "a"), "nothing waits"),
        ("no_side", lambda log: ("merge", "--keep", "1"), "usage: boughbook merge")])
def words_that_mean_nothing_are_refused(name, words, says):
    log = demo.copy("words-" + name)
    log.no(2, *words(log), says=says)


@fact
def sides_and_numbers_that_are_not_there_are_refused():
    one, two = pair("sides")
    one.ok("merge", two.path)
    one.no(2, "merge", "--keep", "1", "c", says="say a to b, before")
    one.no(2, "merge", "--keep", "1", "a lot", says="say a to b")
    one.no(2, "merge", "--keep", "2", "a", says="lists 1 to 1")
    one.no(2, "merge", "--keep", "x", "a", says="no number")


main()
