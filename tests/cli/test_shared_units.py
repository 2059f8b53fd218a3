# SPDX-License-Identifier: MIT
"""Grafts on one trunk and trees in one hole, over seeded logs: their picks add up to the whole in
every report, and nothing is counted twice or shared out."""
import os
import random
import sqlite3
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

SEED = int(os.environ.get("SEED", "20261130"))
LOGS = int(os.environ.get("LOGS", "3"))
YEARS = (2023, 2024, 2025)
KINDS = {"apple": "09", "peach": "07", "european_plum": "08"}


def make(number):
    """A yard of shared holes and grafted trees; what was picked of each, in pounds, by year."""
    dice = random.Random(SEED + number)
    log = new_log(f"shared-{number}", "--lat", "38.2", "--wet", "winter", "--winter", "frosty",
                  "--units", "si")
    units = {}  # subject as typed: kind
    plants = 0
    for hole in range(3):
        kind = dice.choice(sorted(KINDS))
        for tree in range(dice.randint(1, 3)):
            label = f"H{hole} {tree}"
            log.ok("tree", "add", label, "--species", kind, "--planted", "2012", "--spot",
                   f"hole {hole}")
            units[label] = kind
            plants += 1
        units[f"spot hole {hole}"] = kind
    for graft in range(dice.randint(1, 3)):
        host = dice.choice([unit for unit in units if unit.startswith("H")])
        log.ok("tree", "add", f"G{graft}", "--species", units[host], "--host", host, "--how",
               "graft", "--planted", "2015")
        units[f"G{graft}"] = units[host]
    lines, whole = [], {}
    for year in YEARS:
        for unit, kind in units.items():
            for _ in range(dice.randint(0, 2)):
                grams = dice.randint(1, 400) * 50
                day = f"{year}-{KINDS[kind]}-{dice.randint(10, 28)}"
                lines.append(f"{unit} picked {grams} g @ {day}")
                whole.setdefault((year, unit), []).append(grams)
    pooled = {}  # totals of all trees of a kind: of no one unit
    for year in YEARS:
        kind = dice.choice(sorted(set(units.values())))
        grams = dice.randint(1, 400) * 50
        lines.append(f"all {kind} picked {grams} g total @ {year}-{KINDS[kind]}-15")
        pooled[year] = grams
    dice.shuffle(lines)
    log.ok("enter", "-", stdin="\n".join(lines) + "\n")
    return log, dice, units, plants, whole, pooled


def name(unit):
    return unit[5:] if unit.startswith("spot ") else unit


def check(log, whole, pooled, what):
    for year in YEARS:
        told = {unit: sum(grams) for (when, unit), grams in whole.items() if when == year}
        rows = {row["tree"].split(" (")[0]: row["picked_g"] or 0 for row in log.rows("season", str(year))}
        for unit, grams in told.items():
            assert rows.get(name(unit)) == grams, (what, year, unit, rows)
        assert sum(rows.values()) == sum(told.values()), (what, year, rows, told)
        stock = sum(row["picked_g"] or 0 for row in log.rows("stock", str(year)))
        assert stock == sum(told.values()) + pooled[year], (what, year, stock)
    everything = sum(sum(grams) for grams in whole.values()) + sum(pooled.values())
    picks = sum(int(row["weight_low_g"]) for row in log.table("export", "picks", "-"))
    assert picks == everything, (what, picks, everything)
    with sqlite3.connect(f"file:{log.path}?mode=ro", uri=True) as file:
        view = file.execute("SELECT sum(picked_mg) / 1000 FROM yield_by_season").fetchone()[0]
    assert (view or 0) == everything, (what, view, everything)


@facts([(f"log {number}", number) for number in range(LOGS)])
def units_add_up_to_the_whole(_, number):
    log, dice, units, plants, whole, pooled = make(number)
    check(log, whole, pooled, f"SEED={SEED} log {number}")
    listed = log.rows("tree", "list")
    assert sum(row["host"] is None for row in listed) == plants, listed
    # one of them goes: a host takes its grafts along, the hole keeps its others, all keep the past
    gone = dice.choice([unit for unit in units if unit.startswith("H")])
    log.ok("enter", f"{gone} died drought @ 2025-12-01")
    check(log, whole, pooled, f"SEED={SEED} log {number} without {gone}")
    left = {row["tree"] for row in log.rows("tree", "list")}
    hosts = {row["tree"]: row["host"] for row in listed}
    assert left == {label for label, host in hosts.items() if gone not in (label, host)}, left


@fact
def a_flag_and_a_line_of_a_graft_are_its_own():
    log = new_log("own", "--lat", "38.2", "--wet", "winter", "--winter", "frosty", "--units", "us")
    log.ok("tree", "add", "B1", "--species", "apple", "--planted", "2010", "--spot", "B1")
    log.ok("tree", "add", "B1 top", "--species", "apple", "--cultivar", "Fuji", "--host", "B1")
    log.ok("enter", "B1 top picked 6 lb @ 2025-10-02", "B1 picked 20 lb @ 2025-10-04")
    of_graft = [row["kind"] for row in log.rows("entry", "list", "B1 top")]
    of_host = [row["subject"] for row in log.rows("entry", "list", "B1")]
    assert of_graft == ["pick"] and of_host == ["B1"], (of_graft, of_host)
    log.ok("enter", "B1 top died broke off @ 2025-11-01")
    assert [row["tree"] for row in log.rows("tree", "list")] == ["B1"]


main()
