# SPDX-License-Identifier: MIT
"""Pests as the program shows them: on the almanac's page, at the tree, on saving."""
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

KINDS = [row["key"] for row in run("almanac", "--format", "json").rows()]


def page(kind, *more):
    said = run("almanac", kind, *more)
    assert said.status == 0, said.err
    return said.out


def section(text, start):
    """The lines below a heading, up to the next blank one."""
    lines = text.split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith(start))
    end = next((i for i, line in enumerate(lines) if i > at and line == ""), len(lines))
    return lines[at + 1 : end]


def yard(name):
    log = Log(name, "2026-04-10")
    log.ok("new", "--name", "Hill yard", "--hemisphere", "north", "--wet", "all",
           "--winter", "frosty", "--units", "us")
    log.ok("tree", "add", "A1", "--species", "apple", "--planted", "2010")
    return log


@facts([(kind,) for kind in KINDS])
def a_page_fits_80_columns(kind):
    for line in page(kind).split("\n"):
        assert len(line) <= 80 or "http" in line, line


@facts([(kind,) for kind in KINDS])
def pests_stand_in_the_order_of_their_months(kind):
    months = [line[2:7] for line in section(page(kind), "Pests")
              if re.match(r"  \d\d", line) and line[2:7] != "01-12"]
    assert len(months) >= 3, months
    first = [int(month[:2]) for month in months]
    assert first == sorted(first), months


@fact
def an_apple_s_page_says_what_to_do_first():
    text = "\n".join(section(page("apple"), "Pests"))
    assert re.search(r"03-06 +apple scab: rake", text), text
    assert "the label is the law" in re.sub(r"\s+", " ", text)
    assert re.search(r"citrus and Asian longhorn beetles \(!\)", text), text
    assert "Queensland fruit fly (!)" in text


@fact
def cut_distances_follow_the_units():
    us = re.sub(r"\s+", " ", page("apple", "--units", "us"))
    si = re.sub(r"\s+", " ", page("apple", "--units", "si"))
    assert "cut 6 in to 18 in below the last sign" in us
    assert "cut 15.2 cm to 45.7 cm below the last sign" in si


@fact
def degree_days_keep_their_base_start_and_place():
    text = re.sub(r"\s+", " ", page("apple"))
    assert "codling moth, Michigan, over 50 F from first moth" in text
    assert "first egg hatch 250;" in text


@fact
def json_of_a_kind_keeps_its_keys():
    rows = run("almanac", "apple", "--format", "json").rows()
    assert [list(row) for row in rows] == [["key", "name", "botanical", "evergreen", "source"]]


@fact
def saving_names_a_pest_that_was_called_otherwise():
    log = yard("named")
    assert "it may be apple scab" in log.ok("enter", "A1 saw black spot @ 2026-04-09").out
    assert "it may be" not in log.ok("enter", "A1 saw fire blight @ 2026-04-09").out
    assert "it may be" not in log.ok("enter", "A1 saw odd dents @ 2026-04-09").out


@fact
def a_tree_shows_what_its_sightings_may_be_with_the_source():
    log = yard("shown")
    log.ok("enter", "A1 saw black spot heavy @ 2026-04-09")
    text = re.sub(r"\s+", " ", log.ok("tree", "show", "A1").out)
    assert "black spot, heavy (it may be apple scab)" in text
    assert "apple scab; first: rake, compost hot or bury leaves at leaf fall" in text
    assert "Vossen" in text.split("What was seen may be")[1]


@fact
def words_that_name_nothing_stay_words():
    log = yard("words")
    log.ok("enter", "A1 saw odd dents @ 2026-04-09")
    assert "What was seen may be" not in log.ok("tree", "show", "A1").out
    assert "odd dents" in log.ok("tree", "show", "A1").out


main()
