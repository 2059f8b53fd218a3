# SPDX-License-Identifier: MIT
"""What the stored weather gave. Totals of real files stand beside the same totals worked out a
second way, by tests/tools/second_way.py."""
import csv
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../tools"))
from cli import *
import second_way

days_file = os.path.join(DATA, "weather-seattle-days.csv")
hours_file = os.path.join(DATA, "weather-seattle-hours.csv")
DAYS = ("--columns", "day=day,min=min_c,max=max_c,rain=rain_mm", "--units", "si")
PLAIN = ("--columns", "day=day,min=min,max=max,rain=rain", "--units", "si")
SPAN_KEYS = ("from to days missing chill_hours chill_utah chill_portions degree_days heat_days "
             "frost_nights rain_um").split()

with open(days_file, newline="") as file:
    record = list(csv.DictReader(file))


def log_of(name, *options, today="2015-12-31"):
    return new_log(name, "--lat", "47.45", "--wet", "winter", "--winter", "frosty", "--units", "us",
                   *options, today=today)


def put(log, name, rows, *words):
    path = write(name + ".csv", "day,min,max,rain\n" + "\n".join(rows) + "\n")
    log.ok("weather", "import", path, *PLAIN, *words)


def show(log, *words):
    return log.ok("weather", "show", *words, "--format", "json").rows()


def enter(log, *lines):
    for line in lines:
        log.ok("enter", line)


def told(said):
    return " ".join(said.out.split())


seattle = log_of("seattle")
seattle.ok("weather", "import", days_file, *DAYS, "--station", "airport")


# --- totals, a second way

@facts([
    ("a calendar year", "2013-01-01", "2013-12-31"),
    ("a season to a day in March", "2014-11-01", "2015-03-20"),
    ("a summer", "2015-06-01", "2015-08-31"),
    ("one day", "2014-02-06", "2014-02-06"),
    ("three years", "2012-12-31", "2015-12-30"),
])
def totals_of_a_real_record_come_out_the_same_a_second_way(name, first, last):
    row, = show(seattle, "--from", first, "--to", last)
    want = second_way.tell_span(record, first, last)
    assert list(row)[:len(SPAN_KEYS)] == SPAN_KEYS
    assert (row["from"], row["to"], row["missing"]) == (first, last, 0)
    for key, value in want.items():
        allowed = 0 if isinstance(value, int) else 0.06 if key == "growing_degree_hours" else 0.006
        assert abs(row[key] - value) <= allowed, f"{key}: {row[key]}, a second way {value}"


@fact
def hours_of_a_station_are_counted_as_they_are():
    log = log_of("hours", today="2010-12-31")
    log.ok("weather", "import", hours_file, "--columns", "time=hour,temperature=celsius",
           "--units", "si")
    with open(hours_file, newline="") as file:
        hours = [(row["hour"][:10], float(row["celsius"])) for row in csv.DictReader(file)]
    hours.insert(0, hours[0])  # the file begins at one o'clock; the hour beside it stands for it
    whole = [day for day in sorted({day for day, _ in hours})
             if sum(1 for one, _ in hours if one == day) >= 23]
    row, = show(log, "--from", whole[0], "--to", whole[-1])
    inside = [celsius for day, celsius in hours if day <= whole[-1]]
    assert row["days_of_hours"] == row["days"] == len(whole)
    assert row["chill_hours"] == sum(1 for t in inside if 0 <= t <= 7.2)
    assert abs(row["chill_utah"] - sum(map(second_way.utah, inside))) < 0.06
    assert abs(row["chill_portions"] - second_way.portions(inside)) < 0.001
    assert abs(row["growing_degree_hours"] - sum(map(second_way.growing, inside))) < 0.06


@fact
def the_same_days_of_the_stored_years_stand_below_newest_first():
    rows = show(seattle, "years", "--from", "2014-11-01", "--to", "2015-02-28")
    assert [(row["season"], row["from"], row["to"], row["missing"]) for row in rows] == [
        ("2015", "2014-11-01", "2015-02-28", 0), ("2014", "2013-11-01", "2014-02-28", 0),
        ("2013", "2012-11-01", "2013-02-28", 0), ("2012", "2011-11-01", "2012-02-28", 61)]
    for row in rows[:3]:
        want = second_way.tell_span(record, row["from"], row["to"])
        assert row["frost_nights"] == want["frost_nights"]
        assert abs(row["chill_portions"] - want["chill_portions"]) < 0.001
    text = told(seattle.ok("weather", "show", "--season", "2015", "--today", "2015-02-28"))
    assert "weather of season 2015, 1 November 2014 to 28 February 2015, 120 days" in text


# --- gaps, and what is not known

@fact
def gaps_are_said_and_never_taken_for_zero():
    log = log_of("gaps", today="2026-01-10")
    put(log, "gaps", ["2026-01-01,1,9,2", "2026-01-02,,9,", "2026-01-05,-1,8,", "2026-01-06,2,9,0"])
    row, = show(log, "--from", "2026-01-01", "--to", "2026-01-07")
    assert (row["days"], row["missing"], row["longest_gap"], row["chill_gaps"]) == (7, 4, 3, 1)
    assert (row["rain_um"], row["rain_days"], row["frost_nights"]) == (2000, 2, 1)
    text = told(log.ok("weather", "show", "--days", "10"))
    assert "gaps: 7 of 10 days lack an extreme, 4 in a row at most" in text, text
    assert "1 gap: each may have cost up to a portion" in text


@fact
def nothing_stored_is_nothing_known():
    log = log_of("bare")
    before = log.bytes()
    row, = show(log)
    assert row["missing"] == row["days"]
    for key in ("chill_hours", "chill_utah", "chill_portions", "degree_days", "heat_days",
                "frost_nights", "rain_um", "lowest_decic"):
        assert row[key] is None, key
    assert "no weather is stored" in told(log.ok("weather", "show"))
    assert log.bytes() == before


@fact
def without_a_latitude_there_is_no_chill_and_all_else():
    log = new_log("unplaced", "--hemisphere", "north", today="2026-01-10")
    put(log, "unplaced", ["2026-01-01,1,29,2", "2026-01-02,1,29,2"])
    row, = show(log, "--from", "2026-01-01", "--to", "2026-01-02")
    assert row["chill_portions"] is None and row["degree_days"] == 10.0
    assert "hours need the place's latitude" in told(log.ok("weather", "show"))


@fact
def a_forecast_is_never_counted():
    log = log_of("forecast", today="2026-01-10")
    put(log, "forecast", ["2026-01-08,-9,1,20"], "--kind", "forecast")
    row, = show(log, "--days", "5")
    assert row["missing"] == 5 and row["frost_nights"] is None
    assert "not counted in any figure" in told(log.ok("weather", "show"))


@fact
def lines_of_the_grower_stand_before_a_station():
    log = log_of("lines", today="2026-01-10")
    put(log, "lines", ["2026-01-08,1,9,2", "2026-01-09,1,9,2"])
    enter(log, "frost -2 C @ 2026-01-08", "rain 13 mm @ 2026-01-08", "hail @ 2026-01-09")
    rows = show(log, "days", "--days", "3")
    assert [(row["day"], row["min_decic"], row["max_decic"], row["rain_um"], row["min_by_hand"],
             row["said"]) for row in rows] == [
        ("2026-01-08", -20, 90, 13000, True, "frost rain"),
        ("2026-01-09", 10, 90, 2000, False, "hail")]
    row, = show(log, "--days", "3")
    assert (row["frost_nights"], row["rain_um"], row["missing"]) == (1, 15000, 1)


@fact
def extremes_that_cross_are_left_out_and_said():
    log = log_of("cross", today="2026-01-10")
    put(log, "cross", ["2026-01-08,-9,-4,", "2026-01-09,1,9,"])
    enter(log, "frost -1 C @ 2026-01-08")
    row, = show(log, "--from", "2026-01-08", "--to", "2026-01-09")
    assert row["missing"] == 1
    assert "1 of them for a minimum above the maximum" in told(
        log.ok("weather", "show", "--days", "3"))


@fact
def in_the_south_seasons_begin_in_may():
    log = new_log("south", "--lat=-38.2", "--wet", "winter", "--winter", "mild", today="2026-08-10")
    put(log, "south", [f"2026-07-{day:02d},1,9,2" for day in range(1, 32)])
    row, = show(log)
    assert (row["from"], row["to"], row["missing"]) == ("2026-05-01", "2026-08-10", 71)
    assert show(log, "years")[0]["season"] == "2026/27"


@facts([
    ("two spans", ("--season", "2015", "--days", "3"), "give one of --season, --days"),
    ("no days", ("--days", "0"), "--days is a number from 1 to"),
    ("words", ("--days", "3x"), "--days is a number from 1 to"),
    ("backward", ("--from", "2015-03-01", "--to", "2015-02-01"), "ends before it begins"),
    ("too long", ("--from", "1700-03-01", "--to", "2015-02-01"), "at most 100 years long"),
    ("no day", ("--from", "2015-02-30"), "--from: "),
    ("no part", ("moon",), "days, years, chill, warmth, harvest, frost"),
])
def a_span_that_cannot_be_is_refused(name, words, says):
    seattle.no(2, "weather", "show", *words, says=says)


# --- against the kinds

def planted(log, label, *words):
    log.ok("tree", "add", label, "--planted", "2005", *words)


@fact
def chill_stands_beside_what_each_kind_is_listed_with():
    log = log_of("needs", today="2015-02-28")
    log.ok("weather", "import", days_file, *DAYS, "--today", "2015-12-31")
    log.ok("spot", "add", "hollow", "--offset", "-2C")
    planted(log, "A1", "--species", "sweet_cherry")
    planted(log, "A2", "--species", "sweet_cherry", "--cultivar", "Lapins", "--sure", "certain")
    planted(log, "A3", "--species", "sweet_cherry", "--spot", "hollow")
    planted(log, "A4", "--species", "orange")
    rows = show(log, "chill")
    span, = show(log, "--from", "2014-11-01", "--to", "2015-02-28")
    portions = {(row["cultivar"], row["warmer_decic"]): row for row in rows
                if row["kind"] == "sweet_cherry" and row["unit"] == "portions"}
    kind, own, cold = (portions[key] for key in ((None, 0), ("Lapins", 0), (None, -20)))
    assert (kind["need_low"], kind["need_high"]) == (30, 70) and kind["trees"] == 1
    assert (own["need_low"], own["need_high"]) == (35, 35)
    assert abs(kind["so_far"] - span["chill_portions"]) <= 0.05
    # 2 C colder, worked out from a record whose every figure is 2 C lower
    lower = [dict(row, min_c=float(row["min_c"]) - 2, max_c=float(row["max_c"]) - 2)
             for row in record]
    want = second_way.tell_span(lower, "2014-11-01", "2015-02-28")
    assert abs(cold["so_far"] - want["chill_portions"]) <= 0.05, (cold, want)
    text = told(log.ok("weather", "show", "chill"))
    assert "sweet cherry (A3), on spots 3.6 F colder" in text, text
    assert "needs none" in text


@fact
def a_figure_logged_at_a_tree_stands_for_its_own_chill():
    log = log_of("own-chill", today="2015-02-28")
    log.ok("weather", "import", days_file, *DAYS, "--today", "2015-12-31")
    log.ok("spot", "add", "hollow", "--offset", "-2C")
    planted(log, "A1", "--species", "sweet_cherry")
    planted(log, "A2", "--species", "sweet_cherry")
    planted(log, "A3", "--species", "sweet_cherry", "--spot", "hollow")
    enter(log, "A2 frost -6 C @ 2014-12-20", "A2 frost -5 C @ 2014-12-21",
          "A3 frost -7 C @ 2014-12-20", "A1 frost -9 C @ 2014-10-20",  # no day of this winter
          "A1 frost -9 C forecast @ 2014-12-20")
    rows = {(row["own_days"], row["warmer_decic"]): row for row in show(log, "chill")
            if row["unit"] == "portions"}
    assert sorted(rows) == [(0, 0), (1, -20), (2, 0)], rows

    def second(warmer, own):
        there = [dict(row, min_c=own.get(row["day"], float(row["min_c"]) + warmer),
                      max_c=float(row["max_c"]) + warmer) for row in record]
        return second_way.tell_span(there, "2014-11-01", "2015-02-28")["chill_portions"]

    for key, warmer, own in (((0, 0), 0, {}), ((2, 0), 0, {"2014-12-20": -6, "2014-12-21": -5}),
                             ((1, -20), -2, {"2014-12-20": -7})):
        want = second(warmer, own)
        assert abs(rows[key]["so_far"] - want) <= 0.05, (key, rows[key]["so_far"], want)
    text = told(log.ok("weather", "show", "chill"))
    assert "sweet cherry (A2), on 2 days by your figure at the tree" in text, text
    assert "sweet cherry (A3), on spots 3.6 F colder, on 1 day by your figure at the tree" in text


@fact
def a_harvest_to_come_is_a_range_with_its_basis():
    log = log_of("harvest", today="2015-05-20")
    for label, species in (("A1", "sour_cherry"), ("A2", "sour_cherry"), ("A3", "apple")):
        planted(log, label, "--species", species)
    enter(log, "A1 full bloom @ 2015-04-10", "A2 bloom @ 2013-04-10",
           "A2 picked 3 kg @ 2013-06-19", "A2 bloom @ 2014-04-20", "A2 picked 3 kg @ 2014-07-03",
           "A2 bloom @ 2015-04-12")
    rows = {row["tree"]: row for row in show(log, "harvest")}
    assert rows["A1"]["basis"] == "days" and rows["A1"]["bloom"] == "2015-04-10"
    assert rows["A1"]["from"] < rows["A1"]["to"]
    assert (rows["A2"]["basis"], rows["A2"]["from"], rows["A2"]["to"], rows["A2"]["seasons"]) == (
        "own-bloom", "2015-06-21", "2015-06-25", 2)  # 70 and 74 days
    assert "A3" not in rows  # a span of many cultivars says no day
    assert "70 to 74 days from its bloom of 12 April 2015, as in 2 seasons of its own" in told(
        log.ok("weather", "show", "harvest"))


@fact
def a_harvest_by_warmth_says_how_much_of_it_there_is():
    log = log_of("warmth", today="2015-06-20")
    log.ok("weather", "import", days_file, *DAYS, "--today", "2015-12-31")
    planted(log, "A1", "--species", "loquat")
    enter(log, "A1 full bloom @ 2015-01-02")
    row, = [row for row in show(log, "harvest") if row["tree"] == "A1"]
    inside = [(float(r["min_c"]) + float(r["max_c"])) / 2 - 3 for r in record
              if "2015-01-02" <= r["day"] <= "2015-06-20"]
    assert abs(row["heat"] - sum(max(0, t) for t in inside)) <= 0.5
    assert (row["heat_needed"], row["heat_base_c"]) == (1500, 3)


@fact
def warmth_stands_beside_what_each_kind_takes():
    log = log_of("warm-kinds", today="2015-06-20")
    log.ok("weather", "import", days_file, *DAYS, "--today", "2015-12-31")
    log.ok("spot", "add", "hollow", "--offset", "-2C")
    planted(log, "A1", "--species", "loquat")
    planted(log, "A2", "--species", "loquat", "--spot", "hollow")
    planted(log, "A3", "--species", "loquat")
    planted(log, "B1", "--species", "apple")
    enter(log, "A1 full bloom @ 2014-11-10", "A2 bloom @ 2014-11-10", "A3 bloom @ 2013-11-10")
    rows = {row["tree"]: row for row in show(log, "warmth") if row["tree"]}
    assert list(rows) == ["A1", "A2", "A3"], rows  # of an apple no total is known
    days = [(float(r["min_c"]), float(r["max_c"])) for r in record
            if "2014-11-10" <= r["day"] <= "2015-06-20"]
    for label, warmer in (("A1", 0), ("A2", -2)):
        want = sum(max(0, (low + high) / 2 + warmer - 3) for low, high in days)
        assert abs(rows[label]["so_far"] - want) <= 0.06, (label, rows[label], want)
        assert (rows[label]["from"], rows[label]["missing"]) == ("2014-11-10", 0)
        assert (rows[label]["need_low"], rows[label]["base_c"]) == (1500, 3)
    assert rows["A3"]["so_far"] is None, "that bloom is of another crop"
    text = told(log.ok("weather", "show"))
    assert "of about 1500 C degree-days over 3.0 C" in text and "no total is known for: apple" in text
    assert "A3 loquat: no bloom is logged to count from" in text
    earlier = {row["tree"]: row for row in show(log, "warmth", "--season", "2014") if row["tree"]}
    assert (earlier["A3"]["from"], earlier["A3"]["to"]) == ("2013-11-10", "2014-10-31")


@fact
def totals_of_pests_go_by_their_own_base_cutoff_and_start():
    log = log_of("warm-pests", today="2015-06-20")
    log.ok("weather", "import", days_file, *DAYS, "--today", "2015-12-31")
    planted(log, "B1", "--species", "apple")
    rows = [row for row in show(log, "warmth") if row["pest"] == "codling-moth"]
    moth, = [row for row in rows if row["event"] == "first moth, rounded"]
    assert (moth["from"], moth["need_low"], moth["unit"], moth["method"]) == (
        "2015-01-01", 175, "F", "sine")
    days = [(float(r["min_c"]), float(r["max_c"])) for r in record
            if "2015-01-01" <= r["day"] <= "2015-06-20"]
    want = 1.8 * second_way.degree_days(days, 10, 31.1, False)
    assert abs(moth["so_far"] - want) < 0.6, (moth, want)
    rough, = [row for row in rows if row["place"] == "SW Colorado"]
    assert (rough["from"], rough["method"], rough["upper_c"]) == ("2015-04-01", "mean", None)
    want = 1.8 * sum(max(0, (low + high) / 2 - 10) for low, high in days[90:])
    assert abs(rough["so_far"] - want) < 0.06, (rough, want)
    assert not any(row["event"] == "adults start" for row in rows), "it counts from a catch"
    assert "codling moth" in told(log.ok("weather", "show", "warmth"))
    assert "codling moth" not in told(log.ok("weather", "show"))


@fact
def in_the_south_they_start_half_a_year_later():
    log = new_log("warm-south", "--lat=-38.2", "--wet", "winter", "--winter", "mild",
                  today="2026-12-10")
    put(log, "warm-south", [f"2026-{month:02d}-{day:02d},5,19,0" for month in (7, 8, 9, 10, 11)
                            for day in range(1, 31)])
    planted(log, "B1", "--species", "apple")
    rows = {(row["place"], row["event"]): row for row in show(log, "warmth") if row["pest"]}
    moth = rows["Washington", "first moth, rounded"]
    assert (moth["from"], moth["missing"]) == ("2026-07-01", 13)
    want = 1.8 * second_way.degree_days([(5, 19)], 10, 31.1, False) * 150
    assert abs(moth["so_far"] - want) < 0.6, (moth, want)
    tropics = new_log("warm-tropics", "--lat", "5", today="2026-12-10")
    planted(tropics, "B1", "--species", "apple")
    assert not show(tropics, "warmth")
    assert "none is known for the kinds here" in told(tropics.ok("weather", "show", "warmth"))


@fact
def a_frost_night_says_stage_table_and_what_was_seen():
    log = log_of("frost", today="2026-04-20")
    log.ok("spot", "add", "hollow", "--offset", "-2C")
    put(log, "frost", ["2026-03-12,-3.5,11,0", "2026-04-02,-1,11,0", "2026-01-02,-5,3,0"],
        "--station", "hill")
    planted(log, "A1", "--species", "peach")
    planted(log, "A2", "--species", "peach", "--spot", "hollow")
    enter(log, "A1 full bloom @ 2026-03-10", "A1 saw frost damage 40% @ 2026-03-14")
    rows = show(log, "frost", "--season", "2026")
    logged, = [row for row in rows if row["tree"] == "A1" and row["day"] == "2026-03-12"]
    assert (logged["stage"], logged["stage_logged"], logged["min_decic"]) == (
        "full bloom", True, -35)
    # 28 F and 24 F are printed for a peach in full bloom
    assert (logged["ten_decic"], logged["ninety_decic"], logged["table_minutes"]) == (-28, -44, 30)
    assert (logged["loss_low"], logged["loss_high"]) == (0.1, 0.9)
    assert abs(logged["loss_linear"] - (0.1 + 0.8 * 7 / 16)) < 0.006
    assert logged["observed"] == "A1 saw frost damage 40% @ 2026-03-14"
    window, = [row for row in rows if row["tree"] == "A2" and row["day"] == "2026-04-02"]
    assert (window["min_decic"], window["stage_logged"], window["stage_known"]) == (
        -30, False, "by the almanac")
    assert window["observed"] is None
    text = told(log.ok("weather", "show", "frost", "--season", "2026"))
    assert "with this spot 3.6 F colder; at full bloom by the almanac" in text, text
    assert "expected by the table for 30 minutes (10 % die at 27 F, 90 % at 24 F)" in text, text
    assert "10 to 15 % of buds alive is enough for a crop" in text, text
    assert (logged["needed_low"], logged["needed_high"]) == (0.1, 0.15)
    assert "observed on 14 March 2026: A1 saw frost damage 40%" in text
    assert "no stage is known that a table speaks of" in text  # the night in January


main()
