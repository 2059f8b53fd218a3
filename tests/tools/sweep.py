#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Where the sun stands at 2,000 places and days, by two libraries that are not ours.

Writes tests/outside/sun-ephem.tsv and sun-suncalc.tsv, which `make check` reads. Run by hand, as
`make sweep`: it needs python3-ephem and node, and fetches suncalc into build/sweep with npm. The
places are seeded: the same libraries give the same rows.
"""
import datetime
import json
import math
import os
import random
import subprocess

import ephem

SUNCALC = "2.0.2"
SEED, CASES, FIRST_YEAR, LAST_YEAR = 20260320, 2000, 1950, 2049
BUILD, OUT = "build/sweep", "tests/outside"
EPOCH = datetime.datetime(1899, 12, 31, 12)  # of ephem's days

HEAD = """# The sun at {cases} seeded places and days (seed {seed}), {first} to {last}, by {name} {version}.
# Made by `make sweep` (tests/tools/sweep.py).
# {method}
# lat, lon: degrees, north and east positive. minute: of UTC from 0h of the day, for azimuth (from
# north through east) and altitude. rise, noon, set: minutes of UTC from 0h of the day, of the day
# that holds at the place by its mean sun; blank where there is none before or after that noon.
# {tolerance}
"""
EPHEM_METHOD = """Another theory than ours (VSOP87, cut short). Horizon -0:50, pressure 0, centre of
# the disc: altitude is without refraction, seen from the ground."""
EPHEM_TOLERANCE = """Tolerance: 0.05 degrees on the sky; 60 s below 60 degrees of latitude, above it
# the sun is at the horizon within 0.05 degrees at these times."""
SUNCALC_METHOD = """The same low-accuracy theory as ours, written by others, with sidereal time in place of
# the equation of time: good against slips. Altitude with refraction, blank below 1 degree."""
SUNCALC_TOLERANCE = """Tolerance: its own README promises 0.08 degrees, coarser than 0.05: so 0.08 on the
# sky; times as for ephem, 60 s below 60 degrees of latitude."""


def places():
    """Latitudes to 72 degrees, five in six below 60; whole minutes of whole days."""
    rng = random.Random(SEED)
    first = datetime.date(FIRST_YEAR, 1, 1).toordinal()
    last = datetime.date(LAST_YEAR, 12, 31).toordinal()
    for number in range(CASES):
        yield {"case": f"s{number + 1:04d}", "lat": round(rng.uniform(-72, 72), 3),
               "lon": round(rng.uniform(-180, 180), 3),
               "day": datetime.date.fromordinal(rng.randint(first, last)).isoformat(),
               "minute": rng.randrange(1440)}


def midnight(place):
    return datetime.datetime.fromisoformat(place["day"])


def minutes(place, moment):
    return (EPOCH + datetime.timedelta(days=float(moment)) - midnight(place)).total_seconds() / 60


def by_ephem(place):
    here, sun = ephem.Observer(), ephem.Sun()
    here.lat, here.lon = str(place["lat"]), str(place["lon"])
    here.horizon, here.pressure = "-0:50", 0
    here.date = midnight(place) + datetime.timedelta(minutes=place["minute"])
    sun.compute(here)
    found = {"azimuth": math.degrees(sun.az), "altitude": math.degrees(sun.alt)}
    start = midnight(place) - datetime.timedelta(minutes=4 * place["lon"])
    noon = here.next_transit(ephem.Sun(), start=ephem.Date(start))
    found["noon"] = minutes(place, noon)
    for name, ask in [("rise", here.previous_rising), ("set", here.next_setting)]:
        try:
            at = minutes(place, ask(ephem.Sun(), start=noon, use_center=True))
        except ephem.CircumpolarError:
            continue
        if abs(at - found["noon"]) <= 720:
            found[name] = at
    return found


ASK_SUNCALC = """
import * as SunCalc from './node_modules/suncalc/index.js';
import fs from 'node:fs';
const minute = 60000;
const found = JSON.parse(fs.readFileSync(0)).map(({lat, lon, day, minute: at}) => {
    const midnight = Date.parse(day + 'T00:00:00Z');
    const times = SunCalc.getTimes(new Date(midnight + (720 - 4 * lon) * minute), lat, lon);
    const sun = SunCalc.getPosition(new Date(midnight + at * minute), lat, lon);
    const since = (time) => (time ? (time - midnight) / minute : null);
    return {azimuth: sun.azimuth, altitude: sun.altitude < 1 ? null : sun.altitude,
            noon: since(times.solarNoon), rise: since(times.sunrise), set: since(times.sunset)};
});
console.log(JSON.stringify(found));
"""


def by_suncalc(cases):
    os.makedirs(BUILD, exist_ok=True)
    with open(os.path.join(BUILD, "package.json"), "w", encoding="utf-8") as file:
        file.write('{"private": true}\n')
    subprocess.run(["npm", "install", "--silent", "--no-save", "--no-audit", "--no-fund",
                    "suncalc@" + SUNCALC], cwd=BUILD, check=True)
    done = subprocess.run(["node", "--input-type=module", "-e", ASK_SUNCALC], cwd=BUILD, check=True,
                          input=json.dumps(cases).encode(), stdout=subprocess.PIPE)
    return json.loads(done.stdout)


def write(name, version, method, tolerance, cases, found):
    columns = ["case", "lat", "lon", "day", "minute"]
    figures = ["azimuth", "altitude", "rise", "noon", "set"]
    with open(os.path.join(OUT, f"sun-{name}.tsv"), "w", encoding="utf-8") as file:
        file.write(HEAD.format(cases=CASES, seed=SEED, first=FIRST_YEAR, last=LAST_YEAR, name=name,
                               version=version, method=method, tolerance=tolerance))
        file.write("\t".join(columns + figures + ["source"]) + "\n")
        for case, answer in zip(cases, found):
            cells = [str(case[column]) for column in columns]
            for figure in figures:
                value = answer.get(figure)
                cells.append("" if value is None else f"{value:.3f}")
            file.write("\t".join(cells + [f"{name} {version}"]) + "\n")


def main():
    cases = list(places())
    write("ephem", ephem.__version__, EPHEM_METHOD, EPHEM_TOLERANCE, cases,
          [by_ephem(case) for case in cases])
    write("suncalc", SUNCALC, SUNCALC_METHOD, SUNCALC_TOLERANCE, cases, by_suncalc(cases))


main()
