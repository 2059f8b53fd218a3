# SPDX-License-Identifier: MIT
"""A tree's week of water from a real station's days, worked out here a second time; volumes."""
import csv
import math
import os
import sys
from datetime import date, timedelta

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

LATITUDE = 47.6
days_file = os.path.join(DATA, "weather-seattle-days.csv")
with open(days_file, encoding="utf-8") as file:
    DAYS = {date.fromisoformat(row["day"]): row for row in csv.DictReader(file)}


def hargreaves_mm(day):
    """FAO-56, equations 21 to 25 and 52, from the printed page."""
    row = DAYS[day]
    low, high = float(row["min_c"]), float(row["max_c"])
    turn = 2 * math.pi * day.timetuple().tm_yday / 365
    phi = math.radians(LATITUDE)
    nearness = 1 + 0.033 * math.cos(turn)
    delta = 0.409 * math.sin(turn - 1.39)
    sunset = math.acos(-math.tan(phi) * math.tan(delta))
    radiation = 24 * 60 / math.pi * 0.0820 * nearness * (
        sunset * math.sin(phi) * math.sin(delta)
        + math.cos(phi) * math.cos(delta) * math.sin(sunset))
    return 0.0023 * ((low + high) / 2 + 17.8) * math.sqrt(high - low) * 0.408 * radiation


def counts_mm(rain_mm):
    inches = rain_mm / 25.4
    kept = min(inches, 1) - 0.1 + (min(inches, 2) - 1) * 2 / 3 * (inches > 1)
    return max(kept, 0) * 25.4


def yard(name, today):
    log = new_log(name, "--lat", str(LATITUDE), "--lon", "-122.3", "--wet", "winter", "--winter",
                  "mild", "--units", "si", today=today)
    log.ok("spot", "add", "hole 1", "--soil", "loam", "--cover", "bare", "--root-depth", "1m",
           "--emitters", "4", "--flow", "8l/h", "--efficiency", "80%")
    log.ok("tree", "add", "A1", "--species", "apple", "--planted", "2000", "--spot", "hole 1")
    log.ok("enter", "A1 spread 4 m @ 2012-05-01")
    log.ok("--today", "2016-01-01", "weather", "import", days_file, "--columns",
           "day=day,min=min_c,max=max_c,rain=rain_mm", "--units", "si", "--station", "airport")
    return log


@facts([("2013-07-20", 0.95), ("2014-08-31", 0.95), ("2015-06-07", 0.95)])
def a_week_is_that_of_the_equations(today, kc):
    log = yard("week " + today, today)
    last = date.fromisoformat(today)
    week = [last - timedelta(days=n) for n in range(7)]
    reference = sum(hargreaves_mm(day) for day in week)
    rain = sum(counts_mm(float(DAYS[day]["rain_mm"])) for day in week)
    row = log.rows("water", "A1")[0]
    assert row["rule"] == "weather" and row["from"] == str(week[-1]) and row["to"] == today, row
    assert abs(row["reference_um"] / 1000 - reference) < 0.01, (row, reference)
    assert row["kc_low"] == row["kc_high"] == kc, row
    depth = max(reference * kc - rain, 0)
    assert abs(row["depth_low_um"] / 1000 - depth) < 0.01, (row, depth)
    litres = depth * math.pi / 4 * 16
    assert abs(row["need_low_ul"] / 1e6 - litres) < 0.1, (row, litres)
    assert abs(row["give_low_ul"] / 1e6 - litres / 0.8) < 0.2, (row, litres)
    assert abs(row["run_low_s"] - litres / 0.8 / 32 * 3600) < 30, (row, litres)
    assert row["unknown"] is None, row


@fact
def a_week_is_the_sum_of_its_days():
    log = yard("sum", "2013-07-20")
    rows = [log.rows("--today", f"2013-07-{day}", "water", "A1")[0]["reference_um"]
            for day in (14, 21)]
    whole = sum(hargreaves_mm(date(2013, 7, 8) + timedelta(days=n)) for n in range(14))
    assert abs(sum(rows) / 1000 - whole) < 0.02, (rows, whole)


@fact
def in_winter_a_bare_tree_asks_for_none():
    log = yard("winter", "2014-01-10")
    said = log.ok("water", "A1").out
    assert "bare now" in said and "a week" not in said, said
    row = log.rows("water", "A1")[0]
    assert row["phase"] == "rest" and row["depth_low_um"] == row["depth_high_um"] == 0, row


@fact
def both_units_stand_side_by_side():
    log = yard("units", "2013-07-20")
    us, si = log.ok("water", "A1", "--units", "us").out, log.ok("water", "A1").out
    assert " gal (" in us and " l) a week" in us, us
    assert " l (" in si and " gal, US) a week" in si, si


@fact
def a_graft_is_asked_of_its_host():
    log = yard("graft", "2013-07-20")
    log.ok("tree", "add", "A1 top", "--host", "A1", "--species", "apple")
    log.no(2, "water", "A1 top", says="ask the water of that")
    log.no(2, "water", "Z9", says="Z9")
    log.no(2, "water", says="usage")


# --- volumes

def one(*words):
    rows = run("volume", *words, "--format", "json").rows()
    assert len(rows) == 1, rows
    return rows[0]


@fact
def mulch_needs_no_log():
    row = one("mulch", "--across", "6ft", "--gap", "6in", "--depth", "3in", "--bag", "2cuft")
    assert abs(row["volume_ul"] / 28316846.592 - 6.8722) < 1e-4, row
    assert row["bags"] == 4 and row["bare_radius_um"] == 152400, row
    row = one("mulch", "--area", "500 sq ft", "--depth", "2 in", "--bag", "3 cu ft")
    assert row["bags"] == 28 and row["across_um"] is None, row


@fact
def a_trunk_widens_the_bare_ground():
    thin = one("mulch", "--across", "2m", "--gap", "15cm", "--depth", "75mm")
    thick = one("mulch", "--across", "2m", "--gap", "15cm", "--depth", "75mm", "--trunk", "20cm")
    assert abs(thin["volume_ul"] / 1e6 - 230.318) < 1e-3, thin
    assert thick["volume_ul"] < thin["volume_ul"] and thick["bare_radius_um"] == 250000, thick


@fact
def a_tree_says_its_crown_and_trunk():
    log = yard("mulch", "2013-07-20")
    log.ok("enter", "A1 trunk 20 cm @ 2013-02-01")
    said = " ".join(log.ok("volume", "mulch", "A1", "--depth", "8cm").out.split())
    assert "ring across 4 m (its crown, measured 1 May 2012)" in said, said
    assert "bare from the bark 15.2 cm (not said: common practice)" in said, said
    row = log.rows("volume", "mulch", "A1", "--depth", "8cm")[0]
    area = math.pi * (2 ** 2 - (0.1 + 0.1524) ** 2)
    assert abs(row["volume_ul"] / 1e6 - area * 80) < 1e-3, (row, area)


@fact
def a_hole_goes_back_less_its_ball():
    row = one("hole", "--across", "36in", "--depth", "12in", "--ball", "12in", "--ball-bottom",
              "10in", "--ball-depth", "12in")
    assert abs(row["volume_ul"] / 28316846.592 - 6.4068) < 1e-4, row
    said = run("volume", "hole", "--across", "20in", "--depth", "15in", "--ball", "12in",
               "--ball-depth", "12in").out
    assert "two to three times" in said and "no deeper than the ball" in said, said
    assert "buried lines" in said, said


@fact
def a_pot_holds_less_than_its_name():
    row = one("pot", "--across", "198mm", "--bottom", "170mm", "--depth", "211mm")
    assert abs(row["volume_ul"] / 1e6 - 5.62141) < 1e-4, row
    said = run("volume", "pot", "--across", "198mm", "--bottom", "170mm", "--depth", "211mm").out
    assert "1.49 US gal" in said and "5.62 l" in said and "names a size of pot" in said, said


@facts([
    ("no depth", ("mulch", "--across", "6ft", "--gap", "6in"), "say --depth"),
    ("no gap", ("mulch", "--across", "6ft", "--depth", "3in"), "say --gap"),
    ("no ring", ("mulch", "--gap", "6in", "--depth", "3in"), "say --across"),
    ("nothing left", ("mulch", "--across", "1ft", "--gap", "6in", "--depth", "3in"), "nothing"),
    ("no area", ("mulch", "--area", "0m2", "--depth", "3in"), "area"),
    ("two ways", ("mulch", "--area", "5m2", "--gap", "6in", "--depth", "3in"), "one of them"),
    ("a span", ("mulch", "--area", "5-6m2", "--depth", "3in"), "one area"),
    ("no bottom", ("pot", "--across", "12in", "--depth", "11in"), "say --bottom"),
    ("no height", ("pot", "--across", "12in", "--bottom", "9in", "--depth", "0in"), "nothing"),
    ("a gap of a pot", ("pot", "--gap", "6in"), "not for volume pot"),
    ("ball too wide", ("hole", "--across", "10in", "--depth", "30in", "--ball", "12in",
                       "--ball-depth", "12in"), "does not go into"),
    ("ball too large", ("hole", "--across", "12in", "--depth", "10in", "--ball", "12in",
                        "--ball-depth", "12in"), "does not go into"),
    ("no ball's depth", ("hole", "--across", "36in", "--depth", "12in", "--ball", "12in"),
     "say --ball-depth"),
    ("too far", ("hole", "--across", "2000m", "--depth", "1m"), "outside 0..1000"),
    ("no bag", ("pot", "--across", "12in", "--bottom", "9in", "--depth", "11in", "--bag", "0l"),
     "bag"),
    ("no such thing", ("bucket",), "usage"),
    ("no tree of a pot", ("pot", "A1"), "usage"),
])
def what_makes_no_volume_is_refused_with_the_reason(name, words, says):
    said = run("volume", *words)
    assert said.status == 2 and not said.out, (said.status, said.out, said.err)
    assert_one_line(said.err)
    assert says in said.err, said.err


main()
