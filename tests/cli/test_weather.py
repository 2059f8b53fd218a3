# SPDX-License-Identifier: MIT
"""A station's days and hours into the log. The real files are described in tests/data/README.md;
their totals are worked out here from the files themselves."""
import csv
import os
import re
import sqlite3
import sys
from decimal import Decimal

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

days_file = os.path.join(DATA, "weather-seattle-days.csv")
hours_file = os.path.join(DATA, "weather-seattle-hours.csv")
DAYS = ("--columns", "day=day,min=min_c,max=max_c,rain=rain_mm", "--units", "si")
HOURS = ("--columns", "time=hour,temperature=celsius", "--units", "si")
PLAIN = ("--columns", "day=day,min=min,max=max,rain=rain,wind=wind")


def counts(said):
    """(new, the same, changed, refused) of the line that an import ends with."""
    return tuple(map(int, re.search(
        r"(\d+) new, (\d+) the same, (\d+) changed, (\d+) refused\n$", said.out).groups()))


def stored(log, sql):
    base = sqlite3.connect("file:" + log.path + "?mode=ro", uri=True)
    try:
        return base.execute(sql).fetchall()
    finally:
        base.close()


def days(log):
    return stored(log, "SELECT day, min_decic, max_decic, rain_um, wind_mms FROM weather_day "
                  "WHERE struck = 0 ORDER BY day, kind, station")


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def tenths(text):
    return int(Decimal(text) * 10)


def log_of(name, *options):
    return new_log(name, "--lat", "47.6", "--units", "us", *options)


def put(log, name, text, *words):
    return log.ok("weather", "import", write(name + ".csv", text), *PLAIN, *words)


# --- the real files

@fact
def four_years_of_days_come_in_whole_and_a_second_time_add_nothing():
    log = log_of("days")
    rows = read(days_file)
    said = log.ok("weather", "import", days_file, *DAYS)
    assert counts(said) == (len(rows), 0, 0, 0), said.out
    assert "2012-01-01 to 2015-12-31: 1461 days with figures" in said.out
    assert days(log) == [(row["day"], tenths(row["min_c"]), tenths(row["max_c"]),
                          int(Decimal(row["rain_mm"]) * 1000), None) for row in rows]
    before = log.bytes()
    assert counts(log.ok("weather", "import", days_file, *DAYS)) == (0, len(rows), 0, 0)
    assert log.bytes() == before
    assert log.ok("verify").status == 0


@fact
def hours_give_their_days_the_extremes_of_the_file():
    log = log_of("hours")
    extremes = {}
    for row in read(hours_file):
        extremes.setdefault(row["hour"][:10], []).append(tenths(row["celsius"]))
    said = log.ok("weather", "import", hours_file, *HOURS)
    assert counts(said) == (len(read(hours_file)), 0, 0, 0)
    assert [row[:3] for row in days(log)] == [
        (day, min(hours), max(hours)) for day, hours in sorted(extremes.items())
        if len(hours) >= 23]
    assert counts(log.ok("weather", "import", hours_file, *HOURS))[1] == len(read(hours_file))


@fact
def an_import_is_one_act():
    log = log_of("act")
    log.ok("weather", "import", hours_file, *HOURS)
    assert log.ok("undo").out == "undone: import weather\n"
    assert days(log) == []
    assert stored(log, "SELECT count(*) FROM weather_hour WHERE struck = 0") == [(0,)]
    log.ok("redo")
    assert len(days(log)) == 120


@fact
def a_dry_run_writes_nothing():
    log = log_of("dry")
    before = log.bytes()
    said = log.ok("weather", "import", days_file, *DAYS, "--dry-run")
    assert said.out.endswith("would be: 1461 new, 0 the same, 0 changed, 0 refused\n")
    assert log.bytes() == before


@fact
def a_layout_keeps_columns_units_and_the_order_of_dates():
    log = log_of("layout")
    text = "when,low,high\n03/05/2026,1,12\n04/05/2026,2,13\n"
    path = write("layout.csv", text)
    log.ok("weather", "import", path, "--columns", "day=when,min=low,max=high", "--units", "si",
           "--dates", "dmy", "--layout", "hill")
    assert days(log) == [("2026-05-03", 10, 120, None, None), ("2026-05-04", 20, 130, None, None)]
    assert counts(log.ok("weather", "import", path, "--layout", "hill")) == (0, 2, 0, 0)
    log.no(2, "weather", "import", path, "--layout", "dale", says="no layout called dale")


@fact
def a_layout_keeps_how_figures_are_written_and_whose_they_are():
    log = log_of("kept")
    path = write("kept.csv", "day;min;max;rain;wind\n2026-05-01;-1,5;12,8;0,5;36\n"
                 "2026-05-02;2,5;13;M;-9999\n")
    log.ok("weather", "import", path, *PLAIN, "--units", "si", "--numbers", "comma",
           "--column-units", "wind=km/h,rain=in", "--missing", "-9999,M", "--station", "field",
           "--layout", "field sheet")
    want = [("2026-05-01", -15, 128, 12700, 10000), ("2026-05-02", 25, 130, None, None)]
    assert days(log) == want
    said = log.ok("weather", "import", path, "--layout", "field sheet")
    assert counts(said) == (0, 2, 0, 0), said.out
    assert 'as layout field sheet: station "field"' in said.out
    assert stored(log, "SELECT DISTINCT station FROM weather_day") == [("field",)]
    said = log.ok("weather", "import", path, "--layout", "field sheet", "--kind", "forecast",
                  "--station", "other")
    assert counts(said) == (2, 0, 0, 0) and "as layout" not in said.out
    said = log.ok("weather", "import", path, "--layout", "field sheet")
    assert "as layout field sheet: a forecast; --kind observed says otherwise" in said.out
    log.no(2, "weather", "import", path, "--layout", "dale",
           says="no layout called dale for weather; there is: field sheet")


@facts([
    ("a unit of another thing", ("--column-units", "wind=mm"), "'mm' is no unit of wind"),
    ("no column", ("--column-units", "snow=cm"), "--column-units wants pairs like"),
    ("no unit", ("--column-units", "wind"), "--column-units wants pairs like"),
    ("no style", ("--numbers", "dots"), "--numbers is point or comma"),
    ("a station of two lines", ("--station", "a\nkind=forecast"), "are one line each"),
])
def settings_that_cannot_be_are_refused(name, words, says):
    path = write("settings.csv", "day,min,max,rain,wind\n2026-05-01,1,5,,\n")
    log_of("settings " + name).no(2, "weather", "import", path, *PLAIN, "--units", "si", *words, says=says)


@fact
def a_word_for_nothing_that_is_not_said_is_refused():
    path = write("nothing.csv", "day,min,max,rain,wind\n2026-05-01,1,5,M,-9999\n")
    said = log_of("nothing").no(2, "weather", "import", path, *PLAIN, "--units", "si",
                                says="1 rows refused")
    assert "column 16 (rain)" in said.out or "column 16 (rain)" in " ".join(said.out.split())


@facts([
    ("frost -2 C last night", "2026-11-24", -20, None, None, "frost"),
    ("rain 13 mm", "2026-11-24", None, None, 13000, "rain"),
    ("rain 1/2 in @ 2026-11-20", "2026-11-20", None, None, 12700, "rain"),
    ("hail", "2026-11-24", None, None, None, "hail"),
    ("heat 104 F @ 2026-07-01", "2026-07-01", None, 400, None, "heat"),
])
def a_day_is_told_by_a_line(line, day, low, high, rain, word):
    log = new_log("line " + day + word, "--lat", "47.6", "--units", "us")
    log.ok("enter", line)
    row, = log.ok("weather", "show", "days", "--from", day, "--to", day, "--format", "json").rows()
    assert (row["min_decic"], row["max_decic"], row["rain_um"], row["said"]) == (
        low, high, rain, word)


# --- what is stored already

@fact
def blank_cells_and_missing_days_stay_unknown():
    log = log_of("blank")
    said = put(log, "blank", "day,min,max,rain,wind\n2026-05-01,1,12,,\n2026-05-02,,,,\n"
               "2026-05-05,NA,13,-,3\n", "--units", "si")
    assert days(log) == [("2026-05-01", 10, 120, None, None), ("2026-05-05", None, 130, None, 3000)]
    assert "1 rows without a figure: not recorded, and not taken for zero" in said.out
    assert "3 days between are missing, 3 in a row at most" in said.out


@fact
def an_overlap_says_new_same_and_changed():
    log = log_of("overlap")
    put(log, "first", "day,min,max,rain,wind\n2026-05-01,1,12,5,\n2026-05-02,2,13,0,\n",
        "--units", "si")
    said = put(log, "second", "day,min,max,rain,wind\n2026-05-01,1,,5,\n2026-05-02,2,13.5,,\n"
               "2026-05-03,3,14,,\n", "--units", "si")
    assert counts(said) == (1, 1, 1, 0), said.out
    assert "line 3: 2026-05-02 changed: maximum was 13 C, is 13.5 C" in said.out, said.out
    assert days(log)[:2] == [("2026-05-01", 10, 120, 5000, None), ("2026-05-02", 20, 135, 0, None)]
    log.ok("undo")
    assert days(log)[1] == ("2026-05-02", 20, 130, 0, None) and len(days(log)) == 2


@fact
def a_forecast_and_another_station_stand_beside():
    log = log_of("beside")
    text = "day,min,max,rain,wind\n2026-11-30,1,12,,\n"
    path = write("beside.csv", text)
    said = log.no(2, "weather", "import", path, *PLAIN, "--units", "si", says="1 rows refused")
    assert "line 2: 2026-11-30 is still to come: say --kind forecast" in said.out
    log.ok("weather", "import", path, *PLAIN, "--units", "si", "--kind", "forecast")
    put(log, "now", "day,min,max,rain,wind\n2026-11-20,1,12,,\n", "--units", "si")
    put(log, "now", "day,min,max,rain,wind\n2026-11-20,2,11,,\n", "--units", "si",
        "--station", "hill")
    assert stored(log, "SELECT station, kind, min_decic FROM weather_day ORDER BY row") == [
        ("", "forecast", 10), ("", "observed", 10), ("hill", "observed", 20)]


@fact
def a_file_in_us_units_is_stored_in_base_units():
    log = log_of("us")
    put(log, "us", "day,min,max,rain,wind\n5/13/2026,28.4,50,0.25,10\n", "--units", "us")
    assert days(log) == [("2026-05-13", -20, 100, 6350, 4470)]


@fact
def a_decimal_comma_is_read_where_the_place_writes_it():
    log = log_of("comma", "--numbers", "comma")
    text = "day;min;max;rain;wind\n2026-05-01;-1,5;12,8;10,9;\n"
    put(log, "comma", text, "--units", "si")
    assert days(log) == [("2026-05-01", -15, 128, 10900, None)]
    said = log_of("unsaid").no(2, "weather", "import", write("comma.csv", text), *PLAIN,
                               "--units", "si")
    assert "line 2, column 12 (min): '1,5' could be" in said.out, said.out


# --- refused

log = log_of("refused")


@facts([
    ("minimum above maximum", "2026-05-02,9,5,,", "column 12 (min): minimum 9 is above maximum 5"),
    ("not a number", "2026-05-02,nan,5,,", "column 12 (min): 'nan'"),
    ("no air is as cold", "2026-05-02,-99.9,5,,", "minimum -99.9 is outside -90 to 60 C"),
    ("no air is as hot", "2026-05-02,5,60.1,,", "column 14 (max): maximum 60.1 is outside"),
    ("rain below zero", "2026-05-02,1,5,-3,", "column 16 (rain): "),
    ("rain in words", "2026-05-02,1,5,wet,", "column 16 (rain): "),
    ("a range", "2026-05-02,1,5-7,,", "maximum '5-7' is not one figure"),
    ("too much rain", "2026-05-02,1,5,2001,", "rain 2001 is outside 0 to 2000 mm"),
    ("too much wind", "2026-05-02,1,5,,121", "wind 121 is outside 0 to 120 m/s"),
    ("no such day", "2026-02-30,1,5,,", "column 1 (day): "),
    ("a month", "2026-05,1,5,,", "column 1 (day): '2026-05' is not one day"),
    ("no day", ",1,5,,", "column 1 (day): no day"),
    ("a day twice", "2026-05-02,1,5,,\n2026-05-02,1,6,,",
     "line 4: 2026-05-02 stands on line 3 with other figures"),
])
def a_row_is_refused_by_line_and_nothing_is_written(name, row, reason):
    before = log.bytes()
    path = write("refused.csv", "day,min,max,rain,wind\n2026-05-01,1,12,,\n" + row + "\n")
    said = log.no(2, "weather", "import", path, *PLAIN, "--units", "si",
                  says="1 rows refused; nothing was written")
    told = " ".join(said.out.split())
    assert reason in told and re.search(r"^line [34][:,]", told), told
    assert log.bytes() == before


@fact
def what_is_stored_may_not_end_with_a_minimum_above_the_maximum():
    log = log_of("crossed")
    put(log, "crossed", "day,min,max,rain,wind\n2026-05-01,1,5,,\n", "--units", "si")
    path = write("crossed.csv", "day,min,max,rain,wind\n2026-05-01,7,,,\n")
    said = log.no(2, "weather", "import", path, *PLAIN, "--units", "si", says="1 rows refused")
    assert "minimum above the maximum with what is stored" in said.out
    assert days(log) == [("2026-05-01", 10, 50, None, None)]


@fact
def units_are_asked_for_once_and_never_guessed():
    path = write("bare.csv", "day,min,max,rain,wind\n2026-05-01,1,5,,\n2026-05-02,1,5,,\n")
    log.no(2, "weather", "import", path, *PLAIN, says="say --units us (F, in, mph) or si")
    said = put(log, "said", "day,min,max,rain,wind\n2026-05-01,1 C,41 F,,\n")
    assert counts(said) == (1, 0, 0, 0)
    assert days(log) == [("2026-05-01", 10, 50, None, None)]


@facts([
    ("no day", "min=min", "which column holds the day?"),
    ("no figure", "day=day", "no column of figures"),
    ("hours with extremes", "time=day,min=min", "hours have temperature="),
    ("days with a temperature", "day=day,temperature=min", "temperature= is of an hour"),
    ("a column that is not there", "day=day,min=low", "no column 'low'"),
])
def columns_that_make_no_weather_are_refused(name, columns, says):
    path = write("columns.csv", "day,min,max,rain,wind\n2026-05-01,1,5,,\n")
    log.no(2, "weather", "import", path, "--columns", columns, "--units", "si", says=says)


# --- hours

def hourly(log, name, rows, *words, head="time,temperature,rain,wind"):
    path = write(name + ".csv", head + "\n" + "\n".join(rows) + "\n")
    columns = ",".join(f"{column}={column}" for column in head.split(","))
    return log.ok("weather", "import", path, "--columns", columns, "--units", "si", *words)


@fact
def rain_of_hours_adds_up_and_wind_is_their_mean():
    log = log_of("wet")
    hourly(log, "wet", [f"2026-05-01 {hour:02d}:00,{hour / 2},0.5,{hour % 3}" for hour in range(24)])
    assert days(log) == [("2026-05-01", 0, 115, 12000, 1000)]


@fact
def a_day_of_too_few_hours_stays_unknown_until_the_rest_comes():
    log = log_of("half")
    rows = [f"2026-05-01T{hour:02d}:00:00,{hour},,," for hour in range(24)]
    said = hourly(log, "half", rows[:12])
    assert days(log) == [] and "1 days have fewer than 23 hours" in said.out
    hourly(log, "rest", rows[12:])
    assert days(log) == [("2026-05-01", 0, 230, None, None)]


@fact
def extremes_of_a_file_of_days_stand_before_those_of_hours():
    log = log_of("both")
    put(log, "both", "day,min,max,rain,wind\n2026-05-01,-1,24,,\n", "--units", "si")
    hourly(log, "both", [f"2026-05-01T{hour:02d}:00,{hour},1,," for hour in range(24)])
    assert days(log) == [("2026-05-01", -10, 240, 24000, None)]


@fact
def times_are_read_as_stations_write_them():
    log = log_of("times")
    hourly(log, "times", ["5/1/2026 12:00 AM,1,,", "5/1/2026 1:00 PM,2,,", "5/13/2026 23:00,3,,",
                          "2026-05-14T24:00,4,,", "2026-05-16T06:00:00+02:00,5,,"],
           "--dates", "mdy")
    hourly(log, "apart", ["2026-05-17,7,6"], head="day,time,temperature")
    assert stored(log, "SELECT day, hour, temperature_decic FROM weather_hour ORDER BY row") == [
        ("2026-05-01", 0, 10), ("2026-05-01", 13, 20), ("2026-05-13", 23, 30),
        ("2026-05-15", 0, 40), ("2026-05-16", 6, 50), ("2026-05-17", 7, 60)]


@facts([("13:30", "is not a full hour"), ("13:00Z", "is of the zero meridian"),
        ("25:00", "is not a time of day"), ("13:00 PM", "is not a time of day")])
def a_time_that_is_no_hour_is_refused(time, reason):
    path = write("time.csv", f"time,temperature\n2026-05-01 {time},5\n")
    said = log("weather", "import", path, "--columns", "time=time,temperature=temperature",
               "--units", "si")
    told = " ".join(said.out.split())
    assert said.status == 2 and "line 2, column 1 (time): " in told, told
    assert reason in told, told


@fact
def the_hour_that_comes_twice_when_the_clock_goes_back_is_kept_once():
    log = log_of("back")
    rows = [f"2026-10-25 {hour:02d}:00,{hour}" for hour in [0, 1, 2, *range(3, 24)]]
    rows.insert(3, "2026-10-25 02:00,1.5")
    said = hourly(log, "back", rows, head="time,temperature")
    assert counts(said) == (24, 1, 0, 0)
    assert "line 5: 2026-10-25 02:00 comes twice" in said.out, said.out
    assert stored(log, "SELECT temperature_decic FROM weather_hour WHERE hour = 2") == [(20,)]


main()
