#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Totals of real weather worked out a second way, for tests/reckon/test_real_weather.c
and tests/cli/test_weather_show.py.

Written from the published formulas without a look at the program: degree-days by adding up the
day's curve minute by minute, chill and hours in the shortest form. Prints "name value" lines.
second_way.py hours FILE | second_way.py days FILE"""
import csv
import datetime
import math
import sys

LATITUDE = 47.45  # Seattle


def utah(t):
    for top, units in ((1.4, 0), (2.4, 0.5), (9.1, 1), (12.4, 0.5), (15.9, 0), (18, -0.5)):
        if t <= top:
            return units
    return -1


def growing(t):
    if t < 4 or t > 36:
        return 0.0
    if t <= 25:
        return 10.5 * (1 + math.cos(math.pi + math.pi * (t - 4) / 21))
    return 21 * (1 + math.cos(math.pi / 2 + math.pi / 2 * (t - 25) / 11))


def portions(hours):
    total = held = 0.0
    for t in hours:
        k = t + 273.0
        ratio = 139500 / 2.567e18 * math.exp((12888.8 - 4153.5) / k)
        speed = 2.567e18 * math.exp(-12888.8 / k)
        held = ratio - (ratio - held) * math.exp(-speed)
        if held >= 1:
            z = math.exp(1.6 * 277 * (k - 277) / k)
            total += held * z / (1 + z)
            held -= held * z / (1 + z)
    return total


def tell_hours(prefix, hours):
    print(prefix + "hours", len(hours))
    print(prefix + "chilling", sum(1 for t in hours if 0 <= t <= 7.2))
    print(prefix + "utah", sum(utah(t) for t in hours))
    print(prefix + "positive", sum(max(0, utah(t)) for t in hours))
    print(prefix + "portions", portions(hours))
    print(prefix + "growing", sum(growing(t) for t in hours))


def curve(low, high, triangle):
    """The day's temperatures, each minute."""
    steps = 1440
    for i in range(steps):
        at = (i + 0.5) / steps
        if triangle:
            yield low + (high - low) * (1 - abs(2 * at - 1))
        else:
            yield (low + high) / 2 + (high - low) / 2 * math.sin(2 * math.pi * at)


def degree_days(days, lower, upper, triangle):
    total = 0.0
    for low, high in days:
        temperatures = list(curve(low, high, triangle))
        total += sum(min(t, upper) - lower for t in temperatures if t > lower) / len(temperatures)
    return total


def sun(day):
    """Sunrise and sunset, hours of solar time, by Spencer's declination."""
    g = 2 * math.pi * (day - 1) / 365
    declination = (0.006918 - 0.399912 * math.cos(g) + 0.070257 * math.sin(g)
                   - 0.006758 * math.cos(2 * g) + 0.000907 * math.sin(2 * g)
                   - 0.002697 * math.cos(3 * g) + 0.00148 * math.sin(3 * g))
    phi = math.radians(LATITUDE)
    w = math.degrees(math.acos((math.sin(math.radians(-0.8333)) - math.sin(phi) * math.sin(declination))
                               / (math.cos(phi) * math.cos(declination)))) / 15
    return 12 - w, 12 + w


def hours_of(days, first):
    """Linvill's hours of days that follow each other; the first and last are only neighbours."""
    hours = []
    for i in range(1, len(days) - 1):
        number = (first + datetime.timedelta(i)).timetuple().tm_yday
        rise, set_ = sun(number)
        rise_next = sun(number % 365 + 1)[0]
        rise_past, set_past = sun(number - 1 if number > 1 else 365)
        low, high = days[i]

        def by_day(t, low, high, rise, set_):
            return low + (high - low) * math.sin(math.pi * (t - rise) / (set_ - rise + 4))

        for t in range(24):
            if t <= rise:
                dusk = by_day(set_past, days[i - 1][0], days[i - 1][1], rise_past, set_past)
                hours.append(dusk - (dusk - low) * math.log(t + 24 - set_past + 1)
                             / math.log(rise + 24 - set_past + 1))
            elif t <= set_:
                hours.append(by_day(t, low, high, rise, set_))
            else:
                dusk = by_day(set_, low, high, rise, set_)
                hours.append(dusk - (dusk - days[i + 1][0]) * math.log(t - set_ + 1)
                             / math.log(24 - set_ + rise_next + 1))
    return hours


def hargreaves(low, high, day):
    phi = math.radians(LATITUDE)
    delta = 0.409 * math.sin(2 * math.pi / 365 * day - 1.39)
    ws = math.acos(-math.tan(phi) * math.tan(delta))
    ra = 37.586 * (1 + 0.033 * math.cos(2 * math.pi / 365 * day)) * (
        ws * math.sin(phi) * math.sin(delta) + math.cos(phi) * math.cos(delta) * math.sin(ws))
    return 0.0023 * ((low + high) / 2 + 17.8) * math.sqrt(high - low) * ra / 2.45


def effective(mm):
    inches = mm / 25.4
    if inches <= 0.1:
        return 0.0
    kept = min(inches, 1) - 0.1 + 2 / 3 * max(0, min(inches, 2) - 1)
    return kept * 25.4


def tell_days(rows):
    year = [r for r in rows if r["day"].startswith("2013")]
    pairs = [(float(r["min_c"]), float(r["max_c"])) for r in year]
    print("sine", degree_days(pairs, 10, 25, False))
    print("triangle", degree_days(pairs, 10, 25, True))
    print("average", sum(max(0, min((a + b) / 2, 25) - 10) for a, b in pairs))
    print("lifted", sum((min(max(a, 10), 25) + min(max(b, 10), 25)) / 2 - 10 for a, b in pairs))
    print("reference", sum(hargreaves(a, b, i + 1) for i, (a, b) in enumerate(pairs)))
    print("rain", sum(float(r["rain_mm"]) for r in year))
    print("effective", sum(effective(float(r["rain_mm"])) for r in year))
    winter = [r for r in rows if "2013-10-31" <= r["day"] <= "2014-03-01"]
    hours = hours_of([(float(r["min_c"]), float(r["max_c"])) for r in winter],
                     datetime.date(2013, 10, 31))
    tell_hours("winter-", hours)


def tell_span(rows, first, last):
    """What a span of days gave, as a report of it should say. Chill is carried from the first full
    day of the record on; every day of the record has both extremes."""
    start = datetime.date.fromisoformat(rows[0]["day"])
    hours = hours_of([(float(r["min_c"]), float(r["max_c"])) for r in rows], start)
    at = [24 * ((datetime.date.fromisoformat(day) - start).days - 1) for day in (first, last)]
    before, until = hours[:at[0]], hours[:at[1] + 24]
    inside = until[len(before):]
    chosen = [(float(r["min_c"]), float(r["max_c"]), float(r["rain_mm"]))
              for r in rows if first <= r["day"] <= last]
    return {
        "days": len(chosen),
        "chill_hours": sum(1 for t in inside if 0 <= t <= 7.2),
        "chill_utah": sum(utah(t) for t in inside),
        "chill_utah_positive": sum(max(0, utah(t)) for t in inside),
        "chill_portions": portions(until) - portions(before),
        "growing_degree_hours": sum(growing(t) for t in inside),
        "degree_days": sum(max(0, (low + high) / 2 - 10) for low, high, _ in chosen),
        "heat_days": sum(1 for _, high, _ in chosen if high >= 35),
        "frost_nights": sum(1 for low, _, _ in chosen if low <= 0),
        "rain_um": round(1000 * sum(rain for _, _, rain in chosen)),
        "lowest_decic": round(10 * min(low for low, _, _ in chosen)),
        "highest_decic": round(10 * max(high for _, high, _ in chosen)),
    }


def main():
    with open(sys.argv[2], newline="") as file:
        table = list(csv.DictReader(file))
    if sys.argv[1] == "hours":
        tell_hours("", [float(row["celsius"]) for row in table])
    else:
        tell_days(table)


if __name__ == "__main__":
    main()
