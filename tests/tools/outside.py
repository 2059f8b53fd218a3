#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Readers that are not ours over all that goes out of a log.

`make check-outside`: it needs node and python3-geographiclib, and fetches its readers, at the versions
below, into build/outside with npm. Two logs are read: the demo yard, and the same with hostile
words in every column that takes words. What the readers find must agree with what the log's own
tables hold, asked by SQLite.

FETCH_S=N: readers that are not here within N seconds, for whatever reason, are told of and counted
as one skip, and nothing has failed."""
import csv
import glob
import io
import json
import math
import os
import re
import signal
import sqlite3
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *
from geographiclib.geodesic import Geodesic

READERS = {"ical.js": "2.2.1", "papaparse": "5.7.1", "@placemarkio/check-geojson": "0.1.14",
           "html-validate": "9.7.1"}
ROOM = os.path.join(SOURCE, "build/outside")

HOSTILE = ["two\nlines", "\r\nEND:VEVENT\r\nBEGIN:VALARM", "\"quoted\", and; more\\",
           "</script><script>alert(1)</script>", "</td></table><img src=x onerror=alert(1)>",
           "\x1b]0;title\x07 \x9b31m", "\u202egnirts \u2066", "=HYPERLINK(\"x\")", "'=1+1", "+1", "-2",
           "@cmd", "\ttab", "שלום עולם", "桃の木 🍑", "&amp; &#60;b&#62;", "{\"a\": [1, null]}",
           "-->]]><!--", "a\u0301e\u0327", "\x01\x02\x7f", "100% ,;:\\n \\", " ends in blanks  "]

# Columns that take a grower's words, with the most characters that stand in them.
WORDS = [("place", "name", 40), ("area", "name", 40), ("spot", "name", 40), ("obstacle", "name", 40),
         ("tree", "label", 40), ("tree", "batch", 40), ("tree", "rootstock", 40),
         ("tree", "gone_reason", 100), ("tree", "hazard", 100), ("tree", "note", 100),
         ("identity", "who", 40), ("identity", "reason", 100), ("entry", "words", 200),
         ("entry", "note", 200), ("product", "name", 40), ("container", "name", 40),
         ("change_set", "what", 100), ("answer", "reason", 100)]


def fetch():
    """The readers, each at its one version."""
    os.makedirs(ROOM, exist_ok=True)
    want = json.dumps(READERS)
    mark = os.path.join(ROOM, "fetched")
    if os.path.exists(mark) and open(mark, encoding="utf-8").read() == want:
        return
    with open(os.path.join(ROOM, "package.json"), "w", encoding="utf-8") as file:
        file.write('{"private": true}\n')
    with open(os.path.join(ROOM, ".htmlvalidate.json"), "w", encoding="utf-8") as file:
        file.write('{"root": true, "extends": ["html-validate:recommended"]}\n')
    npm_install(int(os.environ.get("FETCH_S", "0")))
    with open(mark, "w", encoding="utf-8") as file:
        file.write(want)


def npm_install(limit_s):
    """0: as long as it takes, and to fail is to fail."""
    npm = subprocess.Popen(
        ["npm", "install", "--silent", "--no-save", "--no-package-lock", "--no-audit", "--no-fund",
         *[f"{name}@{version}" for name, version in READERS.items()]],
        cwd=ROOM, start_new_session=True)
    try:
        status = npm.wait(limit_s or None)
        how = f"npm ended with {status}"
    except subprocess.TimeoutExpired:
        os.killpg(npm.pid, signal.SIGKILL)
        status = npm.wait()
        how = f"they were not here within {limit_s} s"
    if status == 0:
        return
    print(f"the readers could not be fetched: {how}; nothing of theirs was checked")
    print(f"\n0 passed, {0 if limit_s else 1} failed, {1 if limit_s else 0} skipped")
    sys.exit(0 if limit_s else 1)


READ = """
import ICAL from 'ical.js';
import Papa from 'papaparse';
import {check} from '@placemarkio/check-geojson';
import fs from 'node:fs';
const given = JSON.parse(fs.readFileSync(0));
const told = {};
const calendar = new ICAL.Component(ICAL.parse(given.calendar));
const events = calendar.getAllSubcomponents();
told.calendar = {version: calendar.getFirstPropertyValue('version'), events: events.map((one) => {
    const event = new ICAL.Event(one);
    const rule = one.getFirstPropertyValue('rrule');
    return {kind: one.name, parts: one.getAllSubcomponents().length, uid: event.uid,
            from: event.startDate.toString(), end: event.endDate.toString(),
            allDay: event.startDate.isDate && event.endDate.isDate,
            summary: event.summary, words: event.description,
            every: rule ? rule.interval : null, properties: one.getAllProperties().map((p) => p.name)};
})};
told.tables = {};
for (const [name, text] of Object.entries(given.tables)) {
    const table = Papa.parse(text, {header: true, skipEmptyLines: true});
    told.tables[name] = {errors: table.errors, rows: table.data};
}
try {
    told.plan = {errors: [], type: check(given.plan).type};
} catch (error) {
    told.plan = {errors: error.issues ? error.issues.map((one) => one.message) : [String(error)]};
}
console.log(JSON.stringify(told));
"""


def read_by_node(given):
    done = subprocess.run(["node", "--input-type=module", "-e", READ], cwd=ROOM, check=True,
                          input=json.dumps(given).encode(), stdout=subprocess.PIPE)
    return json.loads(done.stdout)


def hostile_log(demo):
    """The same trees and work, every word of the grower's replaced."""
    log = demo.copy("hostile")
    with sqlite3.connect(log.path) as file:
        for table, column, most in WORDS:
            rows = file.execute(f"SELECT row, {column} FROM {table}").fetchall()
            for number, (row, _) in enumerate(rows):
                text = f"{number} {HOSTILE[(number + len(column)) % len(HOSTILE)]}"
                if number % 2:
                    text = f"{HOSTILE[(number + len(table)) % len(HOSTILE)]} {number}"
                file.execute(f"UPDATE {table} SET {column} = ? WHERE row = ?", (text[:most], row))
    file.close()
    return log


def ask(log, sql):
    file = sqlite3.connect(f"file:{log.path}?mode=ro", uri=True)
    try:
        return [row[0] for row in file.execute(sql)]
    finally:
        file.close()


TABLES = ["trees", "entries", "picks", "flags"]
PAPERS = ["report", "walk", "sheet"]


class Read:
    """Everything that goes out of one log, as the readers found it."""

    def __init__(self, log):
        self.log = log
        self.csv = {what: log.ok("export", what, "-").bytes.decode() for what in TABLES}
        self.json = {what: log.ok("export", what, "-", "--format", "json").rows() for what in TABLES}
        self.plan_text = log.ok("export", "plan", "-").bytes.decode()
        self.plan = json.loads(self.plan_text)
        self.folder = os.path.join(scratch, "all-" + os.path.basename(log.path))
        log.ok("export", "all", self.folder)
        for path in sorted(glob.glob(self.folder + "/**/*.csv", recursive=True)):
            with open(path, encoding="utf-8", newline="") as file:
                self.csv[os.path.basename(path)] = file.read()
        self.by_node = read_by_node({
            "calendar": log.ok("export", "calendar", "-").bytes.decode(),
            "tables": self.csv, "plan": self.plan_text})


fetch()
demo = demo_log("demo")
demo.ok("put-off", "B3", "plan-due", "2026-12-01")
logs = [("demo", Read(demo)), ("hostile", Read(hostile_log(demo)))]


def as_written(cell):
    """A cell without the apostrophe that keeps a spreadsheet from running it."""
    return cell[1:] if re.match(r"'+[=+\-@\t\r]", cell) else cell


@facts(logs)
def a_calendar_library_reads_the_calendar(name, read):
    told = read.by_node["calendar"]
    rows = read.log.rows("calendar")
    assert told["version"] == "2.0"
    assert len(told["events"]) == len(rows) > 20, (len(told["events"]), len(rows))
    for event, row in zip(told["events"], rows):
        assert event["kind"] == "vevent" and event["parts"] == 0 and event["allDay"], event
        assert event["uid"] == row["uid"] and event["from"] == row["from"]
        assert event["end"] > row["to"] and event["every"] == row["every_days"]
        assert set(event["properties"]) <= {"uid", "dtstamp", "dtstart", "dtend", "rrule", "summary",
                                            "description", "categories", "transp"}, event
    assert len({row["uid"] for row in rows}) == len(rows)


@facts(logs)
def readers_of_tables_agree_with_the_log(name, read):
    """Two readers of CSV, and the log itself, agree row by row and cell by cell."""
    for what, text in read.csv.items():
        by_papa = read.by_node["tables"][what]
        by_python = list(csv.DictReader(io.StringIO(text, newline="")))
        assert by_papa["errors"] == [], (what, by_papa["errors"])
        assert by_papa["rows"] == by_python, what
        if what not in read.json:
            continue
        assert len(by_python) == len(read.json[what]), what
        for row, want in zip(by_python, read.json[what]):
            for key, value in want.items():
                if isinstance(value, str):
                    assert as_written(row[key]) == value, (what, key, row[key], value)
                elif value is None:
                    assert row[key] == "", (what, key, row[key])
    entries = "FROM entry WHERE struck = 0"
    trees = "FROM tree WHERE struck = 0"
    assert len(read.json["entries"]) == ask(read.log, "SELECT count(*) " + entries)[0]
    assert len(read.json["trees"]) == ask(read.log, "SELECT count(*) " + trees)[0]
    assert len(read.json["picks"]) == ask(
        read.log, f"SELECT count(*) {entries} AND kind = 'pick'")[0]
    for column in ("words", "note"):
        assert sorted(row[column] or "" for row in read.json["entries"]) == \
            sorted(text or "" for text in ask(read.log, f"SELECT {column} {entries}")), column
    assert sorted(row["tree"] for row in read.json["trees"]) == \
        sorted(ask(read.log, "SELECT label " + trees))


def shoelace(ring):
    return sum((a[0] - ring[0][0]) * (b[1] - ring[0][1]) - (b[0] - ring[0][0]) * (a[1] - ring[0][1])
               for a, b in zip(ring, ring[1:]))


def positions(geometry):
    if geometry is None:
        return []
    if geometry["type"] == "Point":
        return [geometry["coordinates"]]
    return geometry["coordinates"][0] if geometry["type"] == "Polygon" else geometry["coordinates"]


@facts(logs)
def a_validator_takes_the_plan(name, read):
    told = read.by_node["plan"]
    assert told["errors"] == [] and told["type"] == "FeatureCollection", told
    features = read.plan["features"]
    for what in ("spot", "obstacle"):
        names = [one["properties"]["name"] for one in features if one["properties"]["what"] == what]
        assert sorted(names) == sorted(ask(read.log, f"SELECT name FROM {what} WHERE struck = 0")), what
    west, south, east, north = read.plan["bbox"]
    rings = 0
    for one in features:
        for longitude, latitude in positions(one["geometry"]):
            assert west <= longitude <= east and south <= latitude <= north
        if one["geometry"] and one["geometry"]["type"] == "Polygon":
            ring = one["geometry"]["coordinates"][0]
            assert len(ring) >= 4 and ring[0] == ring[-1] and shoelace(ring) > 0, one
            rings += 1
    assert rings > 0 and len({one["id"] for one in features}) == len(features)


@facts(logs)
def the_plan_is_to_scale(name, read):
    """By the library of geodesics: from spot to spot it is as far as by east and north."""
    spots = [one for one in read.plan["features"] if one["properties"]["what"] == "spot"
             and one["geometry"] is not None]
    for a, b in zip(spots, spots[1:]):
        (lon1, lat1), (lon2, lat2) = (one["geometry"]["coordinates"] for one in (a, b))
        far = Geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2)["s12"]
        want = math.hypot(a["properties"]["east_mm"] - b["properties"]["east_mm"],
                          a["properties"]["north_mm"] - b["properties"]["north_mm"]) / 1000
        assert abs(far - want) < 0.03, (a, b, far, want)  # 7 decimals are a centimetre
    assert len(spots) > 10


@facts(logs)
def a_validator_takes_the_pages(name, read):
    paths = []
    for what in PAPERS:
        page = read.log.ok("export", what, "-", "--format", "html").bytes.decode()
        paths.append(os.path.join(ROOM, f"{os.path.basename(read.log.path)}-{what}.html"))
        with open(paths[-1], "w", encoding="utf-8") as file:
            file.write(page)
        assert "<script" not in page and "<img" not in page
        if what == "sheet":
            standing = ask(read.log, "SELECT count(*) FROM tree WHERE struck = 0 AND is_gone = 0")[0]
            assert page.count("<section") == standing + 1, page.count("<section")
    done = subprocess.run([os.path.join(ROOM, "node_modules/.bin/html-validate"), *paths], cwd=ROOM,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    assert done.returncode == 0, done.stdout.decode()[-3000:]


@fact
def the_readers_see_what_is_wrong():
    """Each of them refuses something that is."""
    broken = os.path.join(ROOM, "broken.html")
    with open(broken, "w", encoding="utf-8") as file:
        file.write("<!DOCTYPE html><html><head><title></title></head><body><p><div></p></body></html>")
    done = subprocess.run([os.path.join(ROOM, "node_modules/.bin/html-validate"), broken], cwd=ROOM,
                          stdout=subprocess.PIPE)
    assert done.returncode == 1, done.stdout
    told = read_by_node({"calendar": "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nEND:VCALENDAR\r\n",
                         "tables": {"a": "x,y\r\n1,\"2\r\n"},
                         "plan": '{"type": "Polygon", "coordinates": [[[0, 0], [1, 1]]]}'})
    assert told["tables"]["a"]["errors"] and told["plan"]["errors"], told
    assert told["calendar"]["events"] == []


@fact
def the_hostile_log_is_hostile():
    told = logs[1][1].json["entries"]
    words = "\0".join((row["words"] or "") + (row["note"] or "") for row in told)
    for text in HOSTILE:
        assert text.rstrip() in words, repr(text)


main()
