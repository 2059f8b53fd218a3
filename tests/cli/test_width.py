# SPDX-License-Identifier: MIT
"""What people read is at most 80 cells wide, whatever the grower has written."""
import os
import re
import sys
import unicodedata

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

WIDTH = 80
DAY = "2026-10-15"

demo = demo_log("demo", today=DAY)


def cells(text):
    """Cells of a terminal: marks none, wide signs two."""
    taken = 0
    for sign in text:
        if unicodedata.category(sign) in ("Mn", "Me", "Cf"):
            continue
        taken += 2 if unicodedata.east_asian_width(sign) in "WF" else 1
    return taken


def assert_fits(said, words):
    for line in said.out.splitlines():
        assert cells(line) <= WIDTH, f"{words}: {cells(line)} cells: {line}"
        assert line == line.rstrip(" "), f"{words}: blanks at the end of: {line!r}"
    return said


def column(rows, key):
    return [row[key] for row in rows]


COMMANDS = re.findall(r"^  ([a-z-]+) +\S", run("help").out, re.M)
LABELS = column(demo.rows("tree", "list", "--gone"), "tree")
KINDS = column(run("almanac", "--format", "json").rows(), "key")
LISTS = [("place", "show"), ("area", "list"), ("spot", "list"), ("obstacle", "list"),
         ("route", "show"), ("product", "list"), ("container", "list"), ("own", "list"),
         ("tree", "list"), ("tree", "list", "--gone"), ("plan", "list"), ("entry", "list"),
         ("history",), ("find", "the"), ("review",), ("review", "--all"), ("rules",),
         ("sun",), ("sun", "A1"), ("sun", "B3", "--day", DAY), ("sun", "E4"),
         ("season",), ("season", "2024"), ("season", "2024", "--units", "si"), ("almanac",),
         ("weather", "show"), ("weather", "show", "--units", "si"),
         ("weather", "show", "frost"), ("weather", "show", "days", "--days", "40"),
         ("export", "report", "-"), ("export", "walk", "-"), ("export", "sheet", "-"),
         ("calendar",),
         ("verify",)]
answered = set()


@fact
def every_command_is_listed():
    assert len(COMMANDS) >= 30 and "review" in COMMANDS, COMMANDS
    assert len(LABELS) >= 20 and len(KINDS) >= 7


@facts([("the list", ()), *[(name, (name,)) for name in COMMANDS]])
def help_fits(name, words):
    said = assert_fits(run("help", *words), name)
    assert said.status == 0 and said.out


@facts([(" ".join(words), words) for words in LISTS])
def of_the_demo_yard_fits(name, words):
    said = assert_fits(demo.ok(*words), words)
    assert said.out or words == ("area", "list"), words


@facts(LABELS)
def a_tree_shown_fits(label):
    assert assert_fits(demo.ok("tree", "show", label), label).out


@facts(LABELS[::4])
def all_about_a_tree_fits(label):
    for words in [("history", label), ("entry", "list", label), ("review", "--tree", label),
                  ("season", "--tree", label)]:
        assert_fits(demo.ok(*words), words)
    for words in [("dose", label), ("water", label), ("ask", label, "cut", "shape", "20%")]:
        said = demo(*words)
        assert said.status in (0, 1, 2), said.err
        answered.add((words[0], said.status == 2))
        assert_fits(said, words)


@fact
def doses_and_answers_were_among_them():
    assert ("dose", False) in answered and ("ask", False) in answered


@facts(KINDS)
def the_almanac_of_a_kind_fits(kind):
    said = run("almanac", kind)
    if said.status == 2:  # known by name only
        assert_one_line(said.err)
        return
    assert said.status == 0 and said.out.count("\n") > 10, said.err
    assert_fits(said, kind)


# --- what a grower may write ---

LONG = "a good year for it, and the wall is warm there " * 8
WIDE = "枇杷の木は南の壁のそばに立っている" * 12
UNBROKEN = "W" * 300
LABEL = {"plain": "the old tree behind the long south wall",
         "wide": "南の壁のそばの古い枇杷の木であるよ" * 2 + "一二三四五六",
         "unbroken": "W" * 40}


@facts([("plain", LONG), ("wide", WIDE), ("unbroken", UNBROKEN)])
def free_text_of_a_grower_wraps(name, text):
    log = new_log("free-" + name, "--hemisphere", "north", "--units", "us", today=DAY)
    label, text = LABEL[name], text.strip()
    short = text[:20]
    said = []
    for words in [
        ("place", "set", "--name", label),
        ("area", "add", label),
        ("spot", "add", label, "--area", label),
        ("tree", "add", label, "--species", "loquat", "--cultivar", short, "--spot", label,
         "--note", text[:120], "--hazard", short, "--rootstock", short, "--planted", "2011"),
        ("tree", "add", label[:-1] + "g", "--species", "loquat", "--host", label),
        ("enter", f"{label} picked 30 lb ; {text}"),
        ("enter", f"{label} note {text[:120]}"),
        ("plan", f"{label} prune @ 2027-05 ; {text}"),
        ("obstacle", "add", label, "--kind", "wall", "--points", "0,0 12,0 24,0 36,0 48,0 60,0"),
        ("obstacle", "add", label[:-1] + "h", "--kind", "house", "--points", "0,0 12,0 12,12",
         "--height", "9ft"),
        ("place", "set", "--lat", "38.2"), ("spot", "set", label, "--east", "3ft", "--north", "9ft"),
        ("product", "add", label, "--analysis", "10-10-10"),
        ("container", "add", label, "--species", "loquat", "--weight", "9lb"),
        ("own", "choice", "feed-over", "usu-fertilizing"),
        ("enter", f"{label} fed 3 lb {label}"),
        ("set-aside", label, "girth-stale", text),
        ("undo",), ("redo",),
    ]:
        done = log(*words)
        if words[0] != "set-aside":  # not every yard has the flag
            assert done.status == 0, f"{words}: {done.err}"
        assert_fits(done, words)
    for words in [("place", "show"), ("area", "list"), ("spot", "list"), ("spot", "show", label),
                  ("obstacle", "list"), ("product", "list"), ("container", "list"),
                  ("own", "list"), ("tree", "list"), ("tree", "show", label), ("plan", "list"),
                  ("entry", "list"), ("history",), ("history", label), ("find", text[:4]),
                  ("review",), ("review", "--all"), ("season",), ("season", "--tree", label),
                  ("dose", label), ("sun",), ("sun", label), ("verify",)]:
        done = log(*words)
        assert done.status in (0, 1), f"{words}: {done.err}"
        assert_fits(done, words)


@fact
def a_path_is_not_broken():
    """It is there to be copied, however long."""
    deep = scratch
    for _ in range(5):
        deep = os.path.join(deep, "a-folder-with-a-long-name")
    os.makedirs(deep)
    path = os.path.join(deep, "yard.bough")
    said = run("--log", path, "new", "--name", "Hill yard")
    assert said.status == 0 and path in said.out, said.out
    said = run("--log", path, "backup")
    assert said.status == 0 and path + ".backups/" in said.out, said.out


@fact
def plain_ascii_fits_too():
    for words in [("review", "--all"), ("tree", "show", "A1"), ("season",), ("rules",)]:
        said = run("--log", demo.path, "--today", DAY, *words, env={"LANG": "C", "LC_ALL": "C"})
        assert said.status == 0 and said.out.isascii(), words
        assert_fits(said, words)


main()
