# SPDX-License-Identifier: MIT
"""The manual and the program name the same commands, acts, options and keys, both ways."""
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

with open(os.path.join(SOURCE, "man/boughbook.1"), encoding="utf-8") as page:
    MANUAL = page.read()


def section(name):
    return MANUAL.split(f".Sh {name}\n")[1].split("\n.Sh ")[0]


def items(text):
    """Heading and whole text of each item of a list."""
    for part in re.split(r"^\.It ", text, flags=re.M)[1:]:
        yield part.split("\n")[0], part


def names_of(heading):
    """'Cm undo , redo' names two."""
    return [re.match(r"(?:Cm )?([a-z-]+)", name).group(1) for name in heading.split(" , ")]


def told():
    """Each command of the manual with the text of its items."""
    found = {}
    for heading, text in items(section("COMMANDS")):
        for name in names_of(heading):
            found[name] = found.get(name, "") + text
    return found


def options_in(text):
    return set(re.findall(r"Fl Fl ([a-z-]+)", text))


def helped(name):
    return run("help", name).out


TOLD = told()
LISTED = re.findall(r"^  ([a-z-]+) +\S", run("help").out, re.M)


@fact
def commands_are_the_same_and_in_the_same_order():
    assert list(TOLD) == LISTED, set(TOLD) ^ set(LISTED)


@fact
def global_options_are_the_same():
    refused = run("--zork").err
    known = set(re.findall(r"--([a-z-]+)", refused.split("before the command: ")[1]))
    assert len(known) >= 8, refused
    described = options_in(section("DESCRIPTION"))
    assert described == known, described ^ known
    shown = options_in(section("SYNOPSIS"))
    assert shown == known - {"help", "version"}, shown ^ known
    first = run("--help").out.split("With no command")[0]
    assert set(re.findall(r"--([a-z-]+)", first)) <= shown, first


@facts(LISTED)
def options_of_a_command_are_the_same(name):
    known = set(re.findall(r"--([a-z][a-z-]*)", helped(name).partition("options:")[2]))
    text = TOLD[name]
    if name != "new" and "place options" in text:
        text += TOLD["new"]
    given = options_in(text) - {"today", "format"}
    assert given == known, f"not in the manual: {known - given}; not known: {given - known}"


def acts_of(usage):
    """The first words of its forms that are words to be typed: add, list, show."""
    forms = " ".join(usage.split("\n    ")[0].split()).split(" | ")
    return {word for form in forms for word in re.findall(r"^[a-z|-]+", form)}


@facts(["place", "area", "spot", "obstacle", "route", "product", "container", "own", "tree",
        "entry", "plan", "volume"])
def acts_of_a_command_are_the_same(name):
    usage = helped(name).replace("\n          ", " ").split("\n")[0]
    acts = acts_of(usage[len(f"boughbook {name} "):])
    assert acts, usage
    heading = TOLD[name].split("\n")[0][len(f"Cm {name}"):]
    given = {word for word in re.findall(r"\b[a-z-]+\b", heading)}
    assert given == acts, given ^ acts


@facts(["import", "export"])
def kinds_of_files_are_the_same(name):
    kinds = helped(name).split()[2].split("|")
    heading = TOLD[name].split("\n")[0]
    assert re.findall(r"\b[a-z]+\b", heading.split(" Ar ")[0])[1:] == kinds, heading


# --- keys ---

def yard():
    log = demo_log("demo")
    log.ok("area", "add", "North")
    log.ok("route", "set", "A1", "A2")
    log.ok("enter", "C1 full bloom @ 2026-11-20")
    log.ok("enter", "frost -3 C @ 2026-11-21")
    other = log.copy("other-copy")
    log.ok("tree", "set", "A1", "--rootstock", "seedling")
    other.ok("tree", "set", "A1", "--rootstock", "quince")
    log.ok("merge", other.path)
    return log


LOG = yard()

PRINTS = [
    ("review", ["review", "--all"]), ("ask", ["ask", "A1", "cut", "shape", "20%"]),
    ("export flags", ["export", "flags", "-"]), ("dose", ["dose", "A1"]),
    ("water", ["water", "A1"]), ("volume", ["volume", "pot", "--across", "12in", "--bottom", "10in",
                                           "--depth", "11in"]),
    ("season", ["season", "2025"]), ("stock", ["stock", "2025"]), ("sun", ["sun", "A1"]),
    ("sun Fl Fl day", ["sun", "A1", "--day", "2026-06-21"]), ("almanac", ["almanac"]),
    ("almanac Fl Fl cultivars", ["almanac", "apple", "--cultivars"]),
    ("calendar", ["calendar"]), ("partners", ["partners", "B1"]),
    ("partners Fl Fl bloom", ["partners", "--bloom"]), ("descent", ["descent", "A2"]), ("rules", ["rules"]),
    ("likely", ["likely", "F1"]),
    ("tree list", ["tree", "list"]),
    ("tree list Fl Fl day", ["tree", "list", "--day", "2020-06-01"]), ("tree show", ["tree", "show", "A1"]),
    ("export trees", ["export", "trees", "-"]), ("entry list", ["entry", "list", "A1"]),
    ("plan list", ["plan", "list"]), ("find", ["find", "the"]),
    ("export entries", ["export", "entries", "-"]), ("export picks", ["export", "picks", "-"]),
    ("history", ["history", "A1"]), ("place show", ["place", "show"]),
    ("weather show", ["weather", "show"]),
    *[(f"weather show {part}", ["weather", "show", part])
      for part in ("years", "days", "chill", "warmth", "harvest", "frost")],
    ("area list", ["area", "list"]), ("spot list", ["spot", "list"]),
    ("spot show", ["spot", "show", "B3"]), ("obstacle list", ["obstacle", "list"]),
    ("route show", ["route", "show"]), ("product list", ["product", "list"]),
    ("container list", ["container", "list"]), ("own list", ["own", "list"]),
    ("merge Fl Fl clashes", ["merge", "--clashes"]),
]


def keys_told():
    """What the manual says that each prints, in order."""
    found = {}
    for heading, text in items(section("JSON")):
        keys = []
        for line in re.findall(r"^\.Va (.*)$", text.split("\n.Pp")[0], re.M):
            keys += line.split()
        for name in heading[len("Cm "):].split(" , "):
            found[name] = keys
    return found


KEYS = keys_told()


@fact
def every_command_that_prints_rows_is_in_the_manual():
    printing = {name for name, _ in PRINTS}
    assert set(KEYS) == printing, set(KEYS) ^ printing


@facts(PRINTS)
def keys_are_those_of_the_manual(name, words):
    said = LOG(*words, "--format", "json")
    assert said.status in (0, 1), said.err
    rows = said.rows()
    assert rows, f"{words}: no rows"
    for row in rows:
        assert list(row) == KEYS[name], f"{list(row)} is not {KEYS[name]}"
    said = LOG(*words, "--format", "csv")
    assert said.out.split("\n")[0].rstrip("\r").split(",") == KEYS[name]


@fact
def no_other_command_answers_format():
    """Each command of the list was tried above, or has nothing to list."""
    tried = {name.split()[0] for name in KEYS}
    for name in set(LISTED) - tried - {"help"}:
        for words in [(name,), (name, "list"), (name, "show")]:
            said = LOG.copy("other")(*words, "--format", "json", cwd=scratch)
            assert not said.out.startswith("["), f"{name} prints rows"


main()
