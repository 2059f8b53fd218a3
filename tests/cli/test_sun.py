# SPDX-License-Identifier: MIT
"""sun: rise and set, hours of direct sun at the spots, and what could not be counted."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

ISTANBUL = ("--lat", "41.01384", "--lon", "28.94966", "--units", "si")


def yard(name, *place):
    """A long wall south of A1, A2 in the open, a tall tree west of both; B1 nowhere."""
    log = new_log(name, *(place or ISTANBUL), today="2026-06-21")
    for spot, east, north in [("A1", "0m", "0m"), ("A2", "40m", "0m"), ("W", "-6m", "0m")]:
        log.ok("spot", "add", spot, "--east", east, "--north", north)
    log.ok("spot", "add", "B1")
    log.ok("obstacle", "add", "long wall", "--kind", "wall", "--height", "4m", "--length-unit", "m",
           "--points", "-30,-3 30,-3")
    log.ok("tree", "add", "A1", "--species", "fig", "--spot", "A1")
    log.ok("tree", "add", "old walnut", "--species", "walnut", "--spot", "W")
    log.ok("enter", "old walnut height 9 m @ 2025-05-02")
    log.ok("enter", "old walnut spread 8 m @ 2025-05-02")
    return log


LOG = yard("yard")


@fact
def the_level_is_never_a_broken_number_of_inches():
    for words, says in [((), "100 cm above ground"), (("--level", "5 ft"), "5 ft above ground")]:
        said = LOG.ok("--units", "us", "sun", *words).out
        assert says in said, said


def hours(log, *words):
    """Rows by spot, then month."""
    found = {}
    for row in log.rows("sun", *words):
        found.setdefault(row["spot"], {})[row["month"]] = row
    return found


@fact
def day_is_told_by_the_clock_of_the_machine():
    said = LOG.ok("sun", "--day", "2026-06-21")
    assert said.out.startswith("21 June 2026: rises 2:32, highest 10:06, sets 17:40 (UTC); "
                               "a day of 15.1 h, 72\n"), said.out
    for zone, words in [("Europe/Istanbul", "rises 5:32, highest 13:06, sets 20:40 (UTC+3)"),
                        ("XYZ3:30", "rises 23:02, highest 6:36, sets 14:10 (UTC-3:30)")]:
        said = LOG("sun", "--day", "2026-06-21", env={"TZ": zone})
        assert words in said.out, said.out


@fact
def day_of_data_is_utc():
    (row,) = LOG.rows("sun", "--day", "2026-12-21")
    assert row["rise_utc"] == "2026-12-21T05:26Z" and row["set_utc"] == "2026-12-21T14:39Z", row
    assert row["noon_utc"] == "2026-12-21T10:02Z" and row["day"] == "2026-12-21", row
    assert row["noon_altitude_deg"] == 25.55 and 540 <= row["length_min"] <= 556, row
    assert row["spot"] is None and row["sun_min"] is None and row["up_min"] == 543, row
    west = yard("west", "--lat", "4.60971", "--lon", "-174.08175")
    (row,) = west.rows("sun", "--day", "2026-06-21")
    assert row["set_utc"].startswith("2026-06-22T05:"), row
    east = yard("east", "--lat", "-37.814", "--lon", "144.96332")
    (row,) = east.rows("sun", "--day", "2026-06-21")
    assert row["rise_utc"] == "2026-06-20T21:36Z", row


@fact
def months_of_a_spot_behind_a_wall():
    found = hours(LOG)
    behind, open_ground = found["A1"], found["A2"]
    assert len(behind) == 12 and set(found) == {"A1", "A2", "W", "B1"}, list(found)
    assert behind[12]["sun_min"] < 60 < open_ground[12]["sun_min"], behind[12]
    assert behind[12]["built_min"] > 300, behind[12]
    assert behind[6]["built_min"] == 0 and behind[6]["tree_min"] > 60, behind[6]
    for spot in ("A1", "A2", "W"):
        for row in found[spot].values():
            assert abs(row["sun_min"] + row["built_min"] + row["tree_min"] - row["up_min"]) <= 2
            assert row["afternoon_sun_min"] <= row["afternoon_up_min"] + 1
    one = hours(LOG, "A1")
    assert one == {"A1": behind}, "one spot by itself is what it was among all"
    table = LOG.table("sun", "A1")
    assert [int(row["sun_min"]) for row in table] == [behind[m]["sun_min"] for m in range(1, 13)]


@fact
def what_is_not_known_is_never_zero():
    row = hours(LOG)["B1"][6]
    assert row["sun_min"] is None and row["built_min"] is None and row["up_min"] > 800, row
    said = LOG.ok("sun")
    assert "Not known, no position on the plan: B1" in said.out, said.out
    said = LOG.ok("sun", "B1")
    assert "has no position on the plan" in said.out and "not known" in said.out, said.out
    assert " 0.0" not in said.out
    log = LOG.copy("gaps")
    log.ok("obstacle", "add", "barn", "--kind", "house", "--points", "0,9 5,9 5,14 0,14")
    log.ok("tree", "add", "A2", "--species", "fig", "--spot", "A2")
    log.ok("enter", "A2 height 3 m")
    said = log.ok("sun", "A1")
    assert "Not counted, so there may be less sun than said:\n" in said.out, said.out
    assert "  no height: barn\n" in said.out and "  no spread: A2\n" in said.out, said.out
    assert hours(log, "A1")["A1"][6]["not_counted"] == 2
    assert "A2" not in log.ok("sun", "A2").out.split("Not counted")[1], "its own tree is no gap"


@fact
def shade_has_names():
    said = LOG.ok("sun", "A1").out
    assert "Shaded by, over the year: long wall " in said, said
    assert "old walnut" in said and "(9 m high, 8 m wide, measured 2 May" in said, said
    assert "Afternoons of summer, June to August: " in said, said
    assert "bare crown" in said, "a walnut drops its leaves"
    south = hours(yard("south", "--lat", "-41", "--lon", "0"), "A1")["A1"]
    assert south[6]["built_min"] == 0, "a wall in the south takes no winter sun there"


@fact
def heat_is_what_the_weather_says():
    log = LOG.copy("heat")
    path = write("heat.csv", "d,lo,hi\n2026-05-30,20,35.0\n2025-09-04,20,38\n2026-05-31,20,34.9\n")
    log.ok("weather", "import", path, "--columns", "day=d,min=lo,max=hi", "--units", "si")
    said = log.ok("sun", "A1").out
    assert "Afternoons in heat, May, September (days of 35 C and more in stored" in said, said


@fact
def place_without_latitude_is_asked():
    log = new_log("nowhere")
    log.no(2, "sun", says=["no latitude", "place set --lat"])
    log.ok("place", "set", "--lat", "52")
    said = log.ok("sun", "--day", "2026-12-21")
    assert "rises" not in said.out.split("\n")[0] and "a day of 7.7 h" in said.out, said.out
    assert "wants the longitude too" in said.out
    (row,) = log.rows("sun", "--day", "2026-12-21")
    assert row["rise_utc"] is None and row["set_utc"] is None and row["length_min"] in (464, 465), row


@fact
def polar_day_and_night_are_answers():
    log = yard("polar", "--lat", "70.5", "--lon", "25")
    assert "stays down all day (polar night)" in log.ok("sun", "--day", "2026-12-21").out
    assert "stays up all day (polar day)" in log.ok("sun", "--day", "2026-06-21").out
    (row,) = log.rows("sun", "--day", "2026-12-21")
    assert row["rise_utc"] is None and row["length_min"] == 0, row
    (row,) = log.rows("sun", "--day", "2026-06-21")
    assert row["set_utc"] is None and row["length_min"] == 1440, row
    assert hours(log)["A2"][6]["up_min"] == 1440


@fact
def spot_is_found_by_its_name_or_by_its_tree():
    (by_tree,) = LOG.rows("sun", "old walnut", "--day", "2026-06-21")
    (by_spot,) = LOG.rows("sun", "W", "--day", "2026-06-21")
    assert by_tree == by_spot and by_tree["spot"] == "W"
    log = LOG.copy("graft")
    log.ok("tree", "add", "W graft", "--species", "walnut", "--host", "old walnut")
    (by_graft,) = log.rows("sun", "W graft", "--day", "2026-06-21")
    assert by_graft == by_spot, by_graft
    LOG.no(2, "sun", "nobody", says="no tree 'nobody'")
    log.ok("tree", "add", "loose", "--species", "fig")
    log.no(2, "sun", "loose", says="stands in no spot")


@fact
def higher_up_there_is_more_sun():
    low, high = (hours(LOG, "A1", "--level", level)["A1"][1]["sun_min"] for level in ("0m", "3m"))
    assert low < high, (low, high)
    assert hours(LOG, "A1", "--level", "1m") == hours(LOG, "A1")
    LOG.no(2, "sun", "--level", "often")
    LOG.no(2, "sun", "--day", "june 2026", says="one day")
    LOG.no(2, "sun", "--day", "1066-10-14", says="1600..2400")


@fact
def tree_page_tells_its_sun_where_there_is_a_plan():
    said = LOG.ok("tree", "show", "A1").out
    assert "  direct sun " in said and " h in June, " in said and "December" in said, said
    assert "afternoon shade in summer, June to August" in " ".join(said.split()), said
    bare = new_log("bare", *ISTANBUL)
    bare.ok("spot", "add", "A1", "--east", "0m", "--north", "0m")
    bare.ok("tree", "add", "A1", "--species", "fig", "--spot", "A1")
    bare.ok("enter", "A1 height 3 m")
    bare.ok("enter", "A1 spread 3 m")
    assert "direct sun" not in bare.ok("tree", "show", "A1").out, "nothing else is drawn"
    bare.ok("obstacle", "add", "wall", "--kind", "wall", "--height", "4m", "--points", "0,-3 9,-3",
            "--length-unit", "m")
    assert "direct sun" in bare.ok("tree", "show", "A1").out
    bare.ok("tree", "remove", "A1", "dead")
    assert "direct sun" not in bare.ok("tree", "show", "A1").out, "it is gone"


main()
