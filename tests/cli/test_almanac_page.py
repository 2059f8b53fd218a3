# SPDX-License-Identifier: MIT
"""A kind's page of the almanac: no row of the tables is lost, sources are told, days are the place's."""
import csv
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

KINDS = [row["key"] for row in run("almanac", "--format", "json").rows()]
PARTS = "year cuts feeding crop pollination pests water cold tree people work".split()


def table(name):
    with open(os.path.join(SOURCE, "share/almanac", name + ".csv"), encoding="utf-8") as file:
        return list(csv.DictReader(file))


TABLES = {name: table(name) for name in ("windows", "cuts", "facts", "feeding", "sources", "work")}
TITLES = {row["source"]: row["title"] for row in TABLES["sources"]}


def squashed(text):
    return re.sub(r"\s+", " ", text)


def page(kind, *more):
    said = run("almanac", kind, *more)
    assert said.status == 0, said.err
    return said.out


def rows_of(name, kind):
    return [row for row in TABLES[name] if row["species"] in ("", kind)]


def part(text, title):
    """What stands below a heading, up to the next blank line."""
    lines = text.split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith(title))
    end = next((i for i, line in enumerate(lines) if i > at and line == ""), len(lines))
    return "\n".join(lines[at + 1 : end])


@facts([(kind,) for kind in KINDS])
def no_row_is_lost_on_a_page(kind):
    text = squashed(page(kind))
    for name, column in (("windows", "reason"), ("cuts", "text"), ("feeding", "condition")):
        for row in rows_of(name, kind):
            assert squashed(row[column]) in text, (name, row)
    for row in rows_of("facts", kind):
        if not row["key"].startswith(("kill-", "kc-")):
            assert squashed(row["text"]) in text, row


@facts([(kind,) for kind in KINDS])
def frost_and_coefficients_stand_in_one_line_each(kind):
    text = squashed(page(kind, "--units", "us"))
    for row in rows_of("facts", kind):
        if row["key"].startswith("kill-10-"):
            stage = row["key"][8:].replace("-", " ")
            assert (f"{stage}: 30 minutes at {row['low']} F take one bud in ten" in text or
                    f"{stage}: {row['low']} F; one bud in ten, 30 minutes" in text), row
        elif row["key"].startswith("kc-ini"):
            assert re.search(rf"crop coefficient[^:]*: {float(row['low']):.2f} at the start", text), row
    assert "kill 10" not in text and "kc ini" not in text and " kc " not in text


@facts([(kind,) for kind in KINDS])
def every_source_on_a_page_is_told_at_its_end(kind):
    text = page(kind)
    named = set(re.findall(r"\[([a-z][a-z0-9-]*)(?:, [a-z -]+)?\]", squashed(text)))
    named -= {"from", "memory"}
    end = squashed(part(text, "Sources"))
    assert len(named) > 10
    for key in named:
        assert f"- {key}: {squashed(TITLES[key])}" in end, key
    for name in ("windows", "cuts", "facts", "feeding"):
        for row in rows_of(name, kind):
            assert f"- {row['source']}: " in end, row


@facts([(name,) for name in PARTS])
def a_part_can_be_asked_for_alone(name):
    whole, one = page("peach"), page("peach", "--part", name)
    headings = [line for line in one.split("\n") if line and line[0] != " "]
    assert len(headings) == 3 and headings[0].startswith("peach (") and headings[2] == "Sources"
    body = part(one, headings[1])
    assert body in whole and len(body) > 100


@fact
def an_unknown_part_is_refused_with_those_there_are():
    said = run("almanac", "peach", "--part", "cutting")
    assert said.status == 2 and "no part 'cutting'" in said.err, said.err
    assert all(name in said.err for name in PARTS), said.err
    assert_one_line(said.err)


@fact
def what_holds_at_the_place_stands_first():
    log = new_log("dry", "--lat", "38.2", "--wet", "winter", "--winter", "frosty")
    text = log.ok("almanac", "peach").out
    cuts = part(text, "Cuts")
    here = cuts[cuts.index("Here: wet winters, dry summers") : cuts.index("Elsewhere")]
    assert re.search(r"01-15 to 02-28 +clear", here), here
    assert "Georgia" not in here and "Georgia" in cuts
    clear = [here.index(word) for word in (" clear ", " allowed ", " avoid ")]
    assert clear == sorted(clear)
    assert re.search(r"Here: wet winters.*?05-01 to 09-30  harvest", part(text, "Its year"), re.S)


@fact
def the_south_reads_its_own_days():
    log = new_log("south", "--lat=-37.8", "--wet", "winter", "--winter", "mild")
    text = log.ok("almanac", "loquat").out
    assert "of the southern hemisphere" in squashed(text)
    assert "08-01 to 12-15  harvest" in text
    assert re.search(r"02-15 to 03-31  avoid ", text), "up to the month's last day"
    assert re.search(r"11-08? +codling|fire blight", part(text, "Pests"))
    first = [int(line[2:4]) for line in part(text, "Pests").split("\n")
             if re.match(r"  \d\d", line) and not line.startswith("  01-12")]
    assert first == sorted(first) and len(first) > 5
    assert "frosted wood, cut back in: November to December" in squashed(text)
    north = page("loquat")
    assert "02-01 to 06-15  harvest" in north and "of the northern hemisphere" in squashed(north)


@fact
def a_place_without_dates_is_told_so():
    log = new_log("tropics", "--lat", "5", "--wet", "all")
    assert "do not hold at this place" in squashed(log.ok("almanac", "guava").out)
    assert "do not hold" not in page("guava")


@fact
def rates_say_of_what_how_often_and_for_what():
    text = squashed(page("peach", "--units", "us"))
    for words in ("Colorado: 2 oz actual N a year for each inch of trunk; trunk measured 12 in up;",
                  "California: 2 lb product (46 % N) a year for a tree; from 5 years old;",
                  "1 lb product for each inch of trunk; how often is not said;",
                  "spacing: 12 to 15 ft"):
        assert words in text, words
    assert "for each inch (2.5 cm) of trunk" in squashed(page("peach", "--units", "si"))
    assert "pot, at least: 15 gal" in page("olive", "--units", "us")
    assert "pot, at least: 56.8 l" in page("olive", "--units", "si")
    assert "fruit weight: 2.5 to 4 g" in page("hazelnut", "--units", "us")


@fact
def a_page_is_plain_where_the_locale_is():
    for kind in KINDS:
        said = run("almanac", kind, env={"LC_ALL": "C"})
        assert said.status == 0 and said.out.isascii(), kind
        assert max(map(len, said.out.split("\n"))) <= 80, kind


main()
