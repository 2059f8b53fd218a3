# SPDX-License-Identifier: MIT
"""The plan as GeoJSON holds the spots and obstacles of the log, and nothing else."""
import json
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")


def plan(log, *words):
    return json.loads(log.ok("export", "plan", "-", *words).out)


@fact
def every_spot_and_obstacle_is_a_feature():
    features = plan(demo)["features"]
    spots = [one["properties"]["name"] for one in features if one["properties"]["what"] == "spot"]
    lines = [one["properties"]["name"] for one in features
             if one["properties"]["what"] == "obstacle"]
    assert sorted(spots) == sorted(row["spot"] for row in demo.rows("spot", "list"))
    assert sorted(lines) == sorted(row["obstacle"] for row in demo.rows("obstacle", "list"))
    trees = [tree for one in features for tree in one["properties"].get("trees", [])]
    assert len(trees) == len(demo.rows("tree", "list")), trees
    assert len({one["id"] for one in features}) == len(features)


@fact
def positions_are_degrees_near_the_place_within_the_box():
    told = plan(demo)
    place = demo.rows("place", "show")[0]
    west, south, east, north = told["bbox"]
    for one in told["features"]:
        if one["geometry"] is None or one["geometry"]["type"] != "Point":
            continue
        longitude, latitude = one["geometry"]["coordinates"]
        assert west <= longitude <= east and south <= latitude <= north
        assert abs(latitude - place["latitude_udeg"] / 1e6) < 0.001
        assert abs(longitude - place["longitude_udeg"] / 1e6) < 0.001


@fact
def the_file_is_written_whole_or_refused():
    path = os.path.join(scratch, "a.geojson")
    demo.ok("export", "plan", path)
    with open(path, encoding="utf-8") as file:
        assert file.read() == demo.ok("export", "plan", "-").out
    nowhere = new_log("nowhere", "--hemisphere", "north")
    nowhere.no(2, "export", "plan", path, says="place set --lat")
    with open(path, encoding="utf-8") as file:
        assert file.read() == demo.ok("export", "plan", "-").out
    demo.no(2, "export", "plan", "-", "--tree", "A1", says="--without-private and --day")


@fact
def a_past_day_shows_who_stood_there_then():
    log = new_log("past", "--lat", "38.2", "--lon", "-122.1")
    for label, planted in (("A1", "2010"), ("A2", "2010"), ("A3", "2024-03-01")):
        log.ok("tree", "add", label, "--species", "apple", "--planted", planted, "--spot", label)
    log.ok("enter", "A1 died drought @ 2022-06-01", "A2 moved to hedge @ 2023-11-10")

    def standing(*words):
        return {one["properties"]["name"]: one["properties"]["trees"]
                for one in plan(log, *words)["features"] if one["properties"]["trees"]}

    assert standing("--day", "2020-06-01") == {"A1": ["A1 apple"], "A2": ["A2 apple"]}
    assert standing("--day", "2023-01-01") == {"A2": ["A2 apple"]}
    assert standing("--day", "2024-06-01") == {"hedge": ["A2 apple"], "A3": ["A3 apple"]}
    assert standing() == standing("--day", "2024-06-01")
    assert standing("--day", "2009-12-31") == {}
    told = log.rows("tree", "list", "--day", "2020-06-01")
    assert {(row["tree"], row["spot"], row["change"]) for row in told} == \
        {("A1", "A1", "went"), ("A2", "A2", "moved"), ("A3", None, "came")}, told
    assert "1 June 2020: 2 apple" in log.ok("tree", "list", "--day", "2020-06-01").out
    there = log.rows("spot", "show", "A1", "--day", "2020-06-01")
    assert [row["tree"] for row in there] == ["A1"], there
    assert log.rows("spot", "show", "A1", "--day", "2023-01-01") == []


@fact
def private_trees_are_not_named():
    log = demo.copy("private")
    log.ok("tree", "set", "B3", "--private")
    assert "Jonathan" in json.dumps(plan(log))
    assert "Jonathan" not in json.dumps(plan(log, "--without-private"))


main()
