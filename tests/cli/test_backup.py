# SPDX-License-Identifier: MIT
"""Copies made and put back by command: nothing that stood there is ever lost, and what is no
sound log is not put in a log's place."""
import os
import re
import shutil
import sqlite3
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")


def yard(name):
    """A copy of the demo yard in a folder of its own."""
    os.mkdir(os.path.join(scratch, name))
    return demo.copy(name + "/yard")


def names(log):
    return sorted(os.listdir(os.path.dirname(log.path)))


def made_by(said):
    """The path that `backup` answers with."""
    path, _, rest = " ".join(said.out.split()).partition(": checked copy")
    assert rest == " written", said.out
    return path


def kept_by(said):
    return " ".join(said.out.split()).split("kept as ")[1]


def at(path):
    log = Log("none", demo.today)
    log.path = path
    return log


def assert_sound(log):
    said = log.ok("verify")
    assert said.out.count("sound") == 1 and said.out.count("\n") == 1, said.out


def entries(log):
    return log.table("entry", "list")


@fact
def a_backup_is_a_sound_log_of_its_own_and_the_log_stays_as_it_is():
    log = yard("made")
    copy = made_by(log.ok("backup"))
    assert log.bytes() == demo.bytes()
    assert names(log) == ["yard.bough", "yard.bough.backups"]
    assert os.listdir(log.path + ".backups") == [os.path.basename(copy)]
    assert os.stat(copy).st_mode & 0o777 == 0o600
    assert os.stat(log.path + ".backups").st_mode & 0o777 == 0o700
    assert_sound(at(copy))
    assert entries(at(copy)) == entries(demo)
    assert at(copy).ok("history").out == demo.ok("history").out


@fact
def a_backup_never_writes_over_another():
    log = yard("twice")
    copy = made_by(log.ok("backup"))
    before = at(copy).bytes()
    log.ok("enter", "A1", "picked", "3", "lb")
    for _ in range(3):  # a name is of a second: within one the next is refused
        said = log("backup")
        assert said.status == 0 and made_by(said) != copy or said.status == 3 and \
            "is there already" in said.err, said.err
    assert at(copy).bytes() == before


@fact
def what_is_put_back_keeps_what_it_replaces():
    log = yard("back")
    copy = made_by(log.ok("backup"))
    log.ok("enter", "A1", "picked", "3", "lb")
    later = log.bytes()
    said = log.ok("backup", "--restore", copy)
    kept = at(kept_by(said))
    assert entries(log) == entries(demo)
    assert kept.bytes() == later
    assert names(log) == ["yard.bough", "yard.bough.backups", os.path.basename(kept.path)]
    assert os.stat(log.path).st_mode & 0o777 == 0o600
    assert_sound(log)
    assert_sound(kept)
    assert os.path.exists(copy)


@fact
def what_was_kept_can_be_put_back_too():
    log = yard("forth")
    copy = made_by(log.ok("backup"))
    log.ok("enter", "A1", "picked", "3", "lb")
    later = entries(log)
    kept = kept_by(log.ok("backup", "--restore", copy))
    said = log("backup", "--restore", kept, "--today", "2026-11-25")
    assert said.status == 0, said.err
    assert entries(log) == later
    assert entries(at(kept_by(said))) == entries(demo)


@fact
def work_goes_on_after_a_copy_was_put_back():
    log = yard("on")
    log.ok("enter", "A1", "picked", "3", "lb")
    copy = made_by(log.ok("backup"))
    log.ok("enter", "A1", "picked", "5", "lb")
    log.ok("backup", "--restore", copy)
    assert "picked 3 lb" in log.ok("undo").out
    assert entries(log) == entries(demo)
    assert "picked 3 lb" in log.ok("redo").out
    log.ok("enter", "A1", "picked", "7", "lb")
    assert_sound(log)


@fact
def two_restores_in_one_second_lose_nothing():
    log = yard("second")
    copy = made_by(log.ok("backup"))
    kept = kept_by(log.ok("backup", "--restore", copy))
    log.ok("enter", "A1", "picked", "3", "lb")
    before, first = log.bytes(), at(kept).bytes()
    said = log("backup", "--restore", copy)
    if said.status == 0:  # the second was over
        assert kept_by(said) != kept and at(kept_by(said)).bytes() == before
    else:
        assert said.status == 3 and "is there already" in said.err, said.err
        assert log.bytes() == before
        assert names(log) == ["yard.bough", "yard.bough.backups", os.path.basename(kept)]
    assert at(kept).bytes() == first


def spoiled(content):
    content = bytearray(content)
    content[8192:8208] = bytes(16)
    return bytes(content)


def changed(sql):
    log = demo.copy("changed")
    with sqlite3.connect(log.path) as other:
        other.executescript(sql)
    other.close()
    return log.bytes()


@facts([
    ("with_a_page_written_over", spoiled(demo.bytes()), "is damaged"),
    ("cut_off", demo.bytes()[:300000], "is damaged"),
    ("empty", b"", "is empty"),
    ("of_words", b"what I picked in 2024\n" * 50, "is not a log"),
    ("of_a_newer_program", changed("PRAGMA user_version = 99"), "newer version"),
    ("of_another_program", changed("PRAGMA application_id = 7"), "another program"),
])
def a_backup_is_refused(name, content, says):
    log = yard(name)
    copy = os.path.join(scratch, name, "copy.bough")
    with open(copy, "wb") as file:
        file.write(content)
    log.no(3, "backup", "--restore", copy, says=["copy.bough", says])
    assert log.bytes() == demo.bytes()
    assert names(log) == ["copy.bough", "yard.bough"]
    missing = os.path.join(scratch, name, "new.bough")
    at(missing).no(3, "backup", "--restore", copy, says="copy.bough")
    assert names(log) == ["copy.bough", "yard.bough"]


@fact
def a_backup_that_is_not_there_or_a_folder_is_refused():
    log = yard("absent")
    log.no(3, "backup", "--restore", os.path.join(scratch, "absent/no.bough"),
           says="there is no backup at")
    log.no(3, "backup", "--restore", os.path.join(scratch, "absent"), says="folder")
    assert log.bytes() == demo.bytes() and names(log) == ["yard.bough"]


@fact
def the_log_itself_is_no_backup_of_it():
    log = yard("itself")
    link = os.path.join(scratch, "itself/link.bough")
    os.symlink("yard.bough", link)
    for copy in [log.path, link]:
        log.no(3, "backup", "--restore", copy, says="the log itself")
    assert log.bytes() == demo.bytes() and names(log) == ["link.bough", "yard.bough"]


@fact
def a_copy_of_another_log_is_put_there_and_the_log_is_kept():
    log = yard("other")
    other = new_log("other/hill")
    said = log.ok("backup", "--restore", other.path)
    assert log.rows("place", "show")[0]["name"] == "Hill yard"
    kept = at(kept_by(said))
    assert kept.bytes() == demo.bytes()
    assert_sound(log)


@facts([
    ("damaged", demo.bytes()[:9000]),
    ("spoilt", spoiled(demo.bytes())),
    ("empty-file", b""),
    ("no-log", b"what I picked in 2024\n"),
])
def what_is_no_sound_log_gives_way_and_is_kept(name, content):
    log = yard(name)
    copy = made_by(log.ok("backup"))
    with open(log.path, "wb") as file:
        file.write(content)
    said = log.ok("backup", "--restore", copy)
    assert at(kept_by(said)).bytes() == content
    assert_sound(log)
    assert entries(log) == entries(demo)


@fact
def a_log_that_was_lost_comes_back():
    log = yard("lost")
    copy = made_by(log.ok("backup"))
    os.remove(log.path)
    said = log.ok("backup", "--restore", copy)
    assert "nothing stood there" in said.out.replace("\n", " ") and "kept as" not in said.out
    assert names(log) == ["yard.bough", "yard.bough.backups"]
    assert_sound(log)


@fact
def a_save_that_was_broken_off_does_not_get_into_what_is_put_back():
    """A journal beside the log belongs to what stood there, and goes with it."""
    log = yard("journal")
    copy = made_by(log.ok("backup"))
    journal = log.path + "-journal"
    with open(log.path, "wb") as file:
        file.write(b"no log any more")
    with open(journal, "wb") as file:
        file.write(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + bytes(504))
    kept = kept_by(log.ok("backup", "--restore", copy))
    assert os.path.exists(kept + "-journal") and not os.path.exists(journal)
    assert_sound(log)
    assert entries(log) == entries(demo)


# --- verify ---

@facts([
    ("new", lambda log: None),
    ("demo", None),
    ("with_a_tree", lambda log: log.ok("tree", "add", "A1", "--species", "apple")),
    ("after_undo", lambda log: (log.ok("area", "add", "North"), log.ok("undo"))),
])
def a_sound_log_is_called_so_once(name, does):
    log = yard("v-" + name) if does is None else new_log("v-" + name, "--hemisphere", "north")
    if does is not None:
        does(log)
    before = log.bytes()
    assert_sound(log)
    assert_sound(log)
    assert log.bytes() == before


@fact
def a_sound_log_read_with_another_almanac_is_still_sound():
    log = yard("almanac")
    tables = os.path.join(scratch, "almanac-other")
    shutil.copytree(os.path.join(SOURCE, "share/almanac"), tables)
    with open(os.path.join(tables, "sources.csv"), "a", encoding="utf-8") as file:
        file.write("another-page,A page nobody cites,,\n")
    said = log.ok("verify", "--almanac", tables)
    assert said.out.count("sound") == 1, said.out


@fact
def damage_is_counted_and_exits_1():
    log = yard("harm")
    with sqlite3.connect(log.path) as other:
        other.execute("UPDATE tree SET label = 'Z9' WHERE label = 'A1'")
    other.close()
    said = log("verify")
    assert said.status == 1 and said.err == "", said.err
    assert "DAMAGE: " in said.out and "sound" not in said.out, said.out
    assert len(re.findall(r"\d+ faults? found", said.out)) == 1, said.out


@facts([
    ("a_word_too_many", ("backup", "now"), "usage: boughbook backup"),
    ("restore_of_nothing", ("backup", "--restore"), "wants a value"),
    ("verify_of_a_word", ("verify", "A1"), "usage: boughbook verify"),
])
def words_that_do_not_fit_are_refused(name, words, says):
    demo.no(2, *words, says=says)


main()
