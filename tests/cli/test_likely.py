# SPDX-License-Identifier: MIT
"""Which cultivar a tree could be, from outside: what is kept of it, what its picks say, doubt."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

SEEDLING = "a seedling, or not on this list"

yard = new_log("likely", "--lat", "38.2", "--wet", "winter", "--winter", "frosty", "--units", "us")
south = new_log("likely-south", "--lat", "-33.9", "--units", "si")
for log, label, species, cultivar in (
        (yard, "K1", "sweet_cherry", "Bing"),
        (yard, "old cherry", "sweet_cherry", ""),
        (yard, "S1", "peach or apricot", ""),
        (yard, "X1", "", ""),
        (south, "N1", "orange", ""),
):
    named = ("--cultivar", cultivar, "--sure", "certain") if cultivar else ()
    kind = ("--species", species) if species else ()
    log.ok("tree", "add", label, *kind, *named, "--planted", "2010")


def rows(label, *traits, log=yard):
    return log.ok("likely", label, *traits, "--format", "json").rows()


def names(label, *traits, log=yard, rank=1):
    return [row["cultivar"] for row in rows(label, *traits, log=log) if row["rank"] == rank]


@fact
def every_cultivar_stays_and_a_seedling_is_always_one_more():
    for traits in ((), ("skin=yellow",), ("skin=black", "flesh=yellow", "self=yes")):
        found = rows("old cherry", *traits)
        assert len(found) == 61, len(found)
        assert found[-1]["cultivar"] == SEEDLING and found[-1]["rank"] is None
        assert SEEDLING in yard.ok("likely", "old cherry", *traits).out


@fact
def what_is_said_now_is_not_kept_and_what_is_kept_holds():
    before = yard.ok("history", "old cherry", "--format", "csv").out
    assert names("old cherry", "skin=yellow")[0] != names("old cherry", "skin=black")[0]
    assert yard.ok("history", "old cherry", "--format", "csv").out == before
    yard.ok("tree", "trait", "old cherry", "skin=yellow", "colour=Yellow", "--by", "a neighbour")
    assert rows("old cherry")[0]["noted"] == "skin yellow"
    assert "skin" in rows("old cherry")[0]["fits"]
    yard.ok("tree", "trait", "old", "cherry", "flesh=dark", "red", "or", "red")
    assert rows("old cherry")[0]["noted"] == "skin yellow; flesh dark-red/red"
    yard.ok("tree", "trait", "old cherry", "skin=")
    assert rows("old cherry")[0]["noted"] == "flesh dark-red/red"
    yard.ok("undo")
    assert rows("old cherry")[0]["noted"] == "flesh dark-red/red; skin yellow" or \
        rows("old cherry")[0]["noted"] == "skin yellow; flesh dark-red/red"
    assert "old cherry noted: skin yellow" in yard.ok("history", "old cherry").out
    yard.ok("tree", "trait", "old cherry", "skin=", "flesh=")
    assert rows("old cherry")[0]["noted"] is None


@fact
def its_own_first_picks_say_when_it_ripens():
    for year in (2024, 2025):
        yard.ok("enter", "K1 picked 5 lb @ %d-06-10" % year)
    yard.ok("enter", "old cherry picked 4 lb @ 2024-07-06")
    assert rows("old cherry")[0]["noted"] is None, "one season says nothing"
    yard.ok("enter", "old cherry picked 4 lb @ 2025-07-06")
    assert rows("old cherry")[0]["noted"] == "by first picks 26 days after Bing (K1, 2 seasons)"
    assert "Staccato" in names("old cherry") and "Chelan" not in names("old cherry")
    assert rows("old cherry", "order=12 days before Bing")[0]["noted"] == "order 12 days before Bing"
    assert "Chelan" in names("old cherry", "order=12 days before Bing")


@fact
def a_private_tree_is_not_named_beside_another():
    log = yard.copy("likely-private")
    log.ok("tree", "trait", "old cherry", "skin=dark red")
    said = log.ok("export", "sheet", "-", "--tree", "old cherry").out
    assert "(K1, 2 seasons)" in " ".join(said.split()), said
    log.ok("tree", "set", "K1", "--private")
    said = log.ok("export", "sheet", "-", "--tree", "old cherry", "--without-private").out
    assert "26 days after Bing (a tree here, 2 seasons)" in " ".join(said.split()), said
    assert "K1" not in said


@fact
def all_kinds_that_it_may_be_are_candidates():
    found = rows("S1", "flesh=orange")
    assert {row["key"] for row in found[:-1]} == {"peach", "apricot"}
    assert found[0]["key"] == "apricot"
    said = yard.ok("likely", "S1", "flesh=orange").out
    assert "peach (42 cultivars), apricot (36 cultivars)" in said, said
    assert "To tell the first 12 apart, look at\n  season" in said, said


@fact
def an_unknown_kind_is_asked_and_its_traits_are_kept():
    said = yard("likely", "X1", "flesh=white")
    assert said.status == 2 and "of which kind X1 is is not known" in said.err, said.err
    yard.ok("tree", "trait", "X1", "flesh=white", "juice=red")
    yard.ok("tree", "identify", "X1", "--species", "loquat")
    said = yard.ok("likely", "X1").out
    assert "noted: flesh white" in said and "no trait of this kind here: juice red" in said, said


@fact
def no_name_is_said_to_be_the_one():
    said = yard.ok("likely", "X1", "skin=yellow", "seeds=1-2", "peel=thin").out
    assert "1= Advance" in said and "Looks settle no name" in said, said
    assert "(second-hand)" in said or "(from memory)" in said
    assert "weight" not in " ".join(rows("X1")[0]["noted"].split()), "weight is no trait"
    refused = yard("likely", "X1", "weight=20 g")
    assert refused.status == 2 and "no trait 'weight' here" in refused.err


@fact
def months_are_those_of_the_place():
    south.ok("tree", "trait", "N1", "season=aug")
    found = rows("N1", log=south)
    assert found[0]["noted"] == "season aug"
    fits = {row["cultivar"] for row in found if row["fits"] == "season"}
    north_fits = {row["cultivar"] for row in rows("N1", "season=feb", log=south)
                  if row["fits"] == "season"}
    assert "Washington Navel" in fits and "Hamlin" not in fits, fits
    assert fits != north_fits
    near = [row["near"] for row in found if row["cultivar"] == "Hamlin"]
    assert near == ["season (may-jul)"], near


@fact
def a_page_keeps_to_80_columns():
    for words in (("S1", "flesh=orange"), ("old cherry",), ("X1",)):
        for line in yard.ok("likely", *words).out.splitlines():
            assert len(line) <= 80, line


main()
