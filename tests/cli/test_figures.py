# SPDX-License-Identifier: MIT
"""Seasons and doses by figures, the almanac, and what machines read: keys, CSV beside JSON."""
import math
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
north = new_log("north", "--lat", "38.2", "--wet", "winter", "--winter", "frosty", "--units", "us")

review_keys = ("tree rule urgency began window_from window_to says do source basis "
               "crop_at_risk_g crop_at_risk_low_g crop_at_risk_high_g seasons state entries "
               "evidence").split()
cultivar_keys = ("key cultivar flesh skin shape source aliases type size season days against self "
                 "bloom pollen_group alleles ploidy pollen bears more notes sure").split()


# --- what machines read

@facts([
    ("review", ("review", "--all"), review_keys),
    ("review of one", ("review", "--tree", "E2"), review_keys),
    ("ask", ("ask", "A1 cut shape 20%"), review_keys),
    ("dose", ("dose", "E1", "--product", "10-10-10"),
     "tree rule product trunk_mm product_g n_g capped_by per source".split()),
    ("water", ("water", "A1"),
     "tree rule stand phase from to days_known heat_days reference_um kc_low kc_high rain_um "
     "rain_counts_um depth_low_um depth_high_um canopy_mm2 need_low_ul need_high_ul given_ul "
     "efficiency_permille give_low_ul give_high_ul run_low_s run_high_s full_low_days "
     "full_high_days dry_low_days dry_high_days unknown source".split()),
    ("volume", ("volume", "mulch", "--across", "6ft", "--gap", "6in", "--depth", "3in"),
     "what tree volume_ul whole_ul ball_ul area_mm2 across_um bottom_um depth_um bare_radius_um "
     "bag_ul bags".split()),
    ("likely", ("likely", "F1", "keep=long"),
     "tree rank key cultivar fits near differs not_known sure noted look_next source".split()),
    ("season", ("season",),
     "tree season state picked_g picked_low_g picked_high_g unweighed lost_g fruit first_pick "
     "last_pick seasons_known mean_g tcsa_mm2 efficiency_mg_per_mm2 alternation".split()),
    ("season of one", ("season", "--tree", "A1"), None),
    ("almanac", ("almanac",), "key name botanical evergreen source".split()),
    ("almanac cultivars", ("almanac", "loquat", "--cultivars"), cultivar_keys),
    ("almanac cultivars of all", ("almanac", "--cultivars"), cultivar_keys),
    ("rules", ("rules",), "rule title reason source max_urgency".split()),
    ("tree list", ("tree", "list", "--gone"), None),
    ("tree show", ("tree", "show", "A1"), None),
    ("entry list", ("entry", "list"), None),
    ("plan list", ("plan", "list"), None),
    ("history", ("history",), None),
    ("history of one", ("history", "A1"), None),
    ("find", ("find", "picked"), None),
    ("place show", ("place", "show"), None),
    ("spot list", ("spot", "list"), None),
    ("spot show", ("spot", "show", "south hole"), None),
    ("obstacle list", ("obstacle", "list"), None),
    ("product list", ("product", "list"), None),
    ("container list", ("container", "list"), None),
    ("own list", ("own", "list"), None),
])
def json_and_csv_hold_the_same_under_the_same_keys(name, words, keys):
    rows = demo(*words, "--format", "json").rows()
    said = demo(*words, "--format", "csv")
    table = said.table()
    assert rows, "something to compare"
    heading = said.out.splitlines()[0].split(",")
    for row in rows:
        assert list(row) == heading and (keys is None or list(row) == keys), row
        assert all(not isinstance(cell, (dict, list)) for cell in row.values()), row
    assert len(rows) == len(table)
    for row, cells in zip(rows, table):
        for key, value in row.items():
            want = "" if value is None else {True: "1", False: "0"}.get(value) \
                if isinstance(value, bool) else value
            if isinstance(value, float):
                assert math.isclose(float(cells[key]), value), (key, cells[key], value)
            else:
                assert cells[key] == str(want), (key, cells[key], value)


@facts([("area", "list"), ("obstacle", "list"), ("route", "show"), ("product", "list"),
        ("tree", "list"), ("own", "list"), ("container", "list"), ("plan", "list")])
def nothing_is_an_empty_array(command, word):
    assert north.rows(command, word) == [] and north.table(command, word) == []


@fact
def days_are_iso_and_unknown_is_null():
    rows = demo.rows("season", "2026")
    first = [row["first_pick"] for row in rows if row["first_pick"]]
    assert all(len(day) == 10 and day[4] == day[7] == "-" for day in first) and first
    assert any(row["picked_g"] is None for row in rows)


@fact
def hostile_words_stay_whole_in_csv_and_json_and_never_reach_the_terminal_raw():
    log = north.copy("hostile")
    raw = "\x1b[31mred\x1b[0m \u202eevil \x07"
    log.ok("tree", "add", "A1", "--species", "fig", "--note", raw)
    log.no(2, "enter", f"A1 note {raw}", says="a control character (U+001B)")
    for said in (log.ok("tree", "show", "A1").out, log.no(2, "find").err,
                 log.no(2, "tree", "show", raw).err):
        assert "\x1b" not in said and "\x07" not in said and "\u202e" not in said, said
    log.ok("enter", 'A1 note =1+1, said "no", then ; a, "b"')
    row, cells = log.rows("entry", "list")[0], log.table("entry", "list")[0]
    assert row["words"] == cells["words"] == 'A1 note =1+1, said "no", then ; a, "b"', (row, cells)


# --- the season

def seasons_of(log, label):
    return {row["season"]: row for row in log.rows("season", "--tree", label)}


@facts([
    ("navel", "38.2", "orange", "1916-01-15", "1915/16"),
    ("peach in the south", "-36", "peach", "1935-01-20", "1934/35"),
    ("loquat in the south", "-36", "loquat", "2026-10-20", "2026"),
    ("loquat in the north", "38.2", "loquat", "2026-05-01", "2026"),
    ("lemon", "38.2", "lemon", "1916-09-30", "1916/17"),
])
def a_pick_belongs_to_the_season_whose_turn_was_last(name, latitude, species, day, season):
    log = new_log("turn", "--lat", latitude, "--units", "us", today="2026-11-24")
    log.ok("tree", "add", "T", "--species", species, "--planted", "1900")
    log.ok("enter", f"T picked 10 lb @ {day}")
    rows = [row["season"] for row in log.rows("season", "--tree", "T") if row["picked_g"]]
    assert rows == [season], rows
    year = season.split("/")[0]
    for words in (season, year):
        rows = [row for row in log.rows("season", words) if row["picked_g"]]
        assert [row["season"] for row in rows] == [season], rows
    os.remove(log.path)


@fact
def amounts_become_low_point_and_high():
    log = north.copy("amounts")
    log.ok("tree", "add", "A1", "--species", "peach", "--planted", "2010")
    for line in ("A1 picked 10 lb @ 2019-08-01", "A1 picked 30-40 lb @ 2020-08-01",
                 "A1 picked 100+ lb @ 2021-08-01", "A1 picked about 20 lb @ 2022-08-01",
                 "A1 picked plenty @ 2023-08-01", "A1 picked none @ 2024-08-20",
                 "A1 picked 6 lb @ 2025-08-01", "A1 picked plenty @ 2025-08-09",
                 "A1 lost 2 lb birds @ 2025-08-09"):
        log.ok("enter", line)
    lb = lambda pounds: round(pounds * 453.59237)
    rows = seasons_of(log, "A1")
    got = {y: (r["picked_g"], r["picked_low_g"], r["picked_high_g"], r["unweighed"], r["state"])
           for y, r in rows.items() if y < "2026"}
    assert got == {
        "2019": (lb(10), lb(10), lb(10), 0, "complete"),
        "2020": (lb(35), lb(30), lb(40), 0, "complete"),
        "2021": (lb(100), lb(100), None, 0, "complete"),
        "2022": (lb(20), lb(20), lb(20), 0, "complete"),
        "2023": (None, None, None, 1, "complete"),
        "2024": (0, 0, 0, 0, "none-seen"),
        "2025": (lb(6), lb(6), lb(6), 1, "complete"),
    }, got
    assert rows["2025"]["lost_g"] == lb(2)
    assert "6 lb +1 not weighed" in log.ok("season", "2025").out
    assert "100 lb or more" in log.ok("season", "2021").out


@fact
def alternation_is_the_mean_of_the_differences_over_the_sums():
    log = north.copy("alternate")
    log.ok("tree", "add", "A1", "--species", "apple", "--planted", "2000")
    crops = [180, 42, 201, 35, 190]
    for year, pounds in zip(range(2020, 2025), crops):
        log.ok("enter", f"A1 picked {pounds} lb @ {year}-09-20")
    want = sum(abs(a - b) / (a + b) for a, b in zip(crops, crops[1:])) / 4
    row = seasons_of(log, "A1")["2024"]
    assert abs(row["alternation"] - want) < 0.0006, (row["alternation"], want)
    assert row["seasons_known"] == 4
    assert abs(row["mean_g"] - sum(crops[:4]) / 4 * 453.59237) <= 1
    assert "swing from year to year" in log.ok("season", "2024").out
    assert "swing" not in log.ok("season", "2022").out, "no pattern from three seasons"


@fact
def the_crop_is_told_per_area_of_trunk():
    log = north.copy("trunk")
    log.ok("tree", "add", "A1", "--species", "apple", "--planted", "2010")
    log.ok("enter", "A1 trunk 100 mm @ 2024-03-01")
    log.ok("enter", "A1 picked 50 kg @ 2024-09-20")
    row = seasons_of(log, "A1")["2024"]
    assert abs(row["tcsa_mm2"] - 7854) <= 1
    assert abs(row["efficiency_mg_per_mm2"] - 50e6 / 7853.98) < 0.1


@fact
def what_the_log_holds_stands_beside_the_crop_as_a_candidate():
    said = demo.ok("season", "2023").out
    assert "may bear on it: shape cut 35% on 8 October 2022" in said, said
    assert "1 frost logged" in said


@fact
def a_season_that_goes_on_is_not_compared():
    said = demo.ok("season", "2026").out
    line = [line for line in said.splitlines() if line.startswith("B2 ")][0]
    assert "176 lb" in line and "%" not in line, line
    assert "in progress" in said


@fact
def a_spot_picked_as_one_has_a_row_and_is_counted_once():
    rows = demo.rows("season", "2025")
    assert [row["picked_g"] for row in rows if row["tree"] == "south hole"] == [11793]
    assert "0 trees, 26 lb" in demo.ok("season", "2025").out


# --- doses

shed = new_log("shed", "--lat", "38.2", "--wet", "winter", "--winter", "frosty", "--units", "us")
shed.ok("product", "add", "10-10-10", "--analysis", "10-10-10")
shed.ok("product", "add", "compost")
shed.ok("tree", "add", "A1", "--species", "apple", "--planted", "2000")
shed.ok("tree", "add", "Y", "--species", "orange", "--planted", "2024-04")
shed.ok("tree", "add", "M", "--species", "apple", "--planted", "2000")
shed.ok("tree", "add", "U")
shed.ok("enter", "A1 girth 60 cm at 30 cm")
shed.ok("enter", "Y trunk 60 cm")
shed.ok("enter", "M stems 5 in, 6 in and 8 in")


def dose(label, *words):
    return {row["rule"]: row for row in shed.rows("dose", label, *words)}


@fact
def published_rates_that_differ_are_named_with_their_regions_and_one_can_be_followed():
    log = new_log("rates", "--hemisphere", "north", "--units", "us")
    log.ok("tree", "add", "P1", "--species", "peach", "--planted", "2018")
    log.ok("--today", "2026-02-12", "enter", "P1 girth 20 in @ 2026-02-12")
    said = " ".join(log.ok("--today", "2026-02-20", "dose", "P1").out.split())
    assert "Published rates differ: 5.6 oz a year of actual N (Pennsylvania) to 1 lb (San Diego)" in said, said
    assert "own choice feed-over SOURCE" in said and "[umd-stone]" in said
    log.ok("own", "choice", "feed-over", "umd-stone")
    rows = log.rows("--today", "2026-02-20", "dose", "P1")
    assert rows[0]["rule"] == "oz-by-age-maryland", rows[0]
    said = " ".join(log.ok("--today", "2026-02-20", "dose", "P1").out.split())
    assert "This place follows umd-stone" in said and "own remove ID" in said


@fact
def a_girth_of_60_cm_is_a_trunk_of_7_and_a_half_inches():
    assert "trunk 7.5 in across" in shed.ok("dose", "A1").out
    row = dose("A1", "--product", "10-10-10")["pound-per-inch"]
    assert row["trunk_mm"] == 190
    pounds = 600 / math.pi / 25.4
    assert abs(row["product_g"] - pounds * 453.59237) < 2, row
    assert abs(row["n_g"] - pounds * 45.359237) < 1 and row["per"] == "unstated"


@fact
def the_published_rate_an_inch_carries_its_nitrogen():
    row = dose("A1", "--product", "10-10-10")["n-per-inch-colorado"]
    want = 0.1 * 453.59237 * 600 / math.pi / 25.4
    assert abs(row["n_g"] - want) < 1 and abs(row["product_g"] - 10 * want) < 6, row
    assert row["per"] == "year" and "Colorado" in row["source"]


@fact
def without_a_product_there_is_nitrogen_only():
    rows = dose("A1")
    assert all(row["product"] is None for row in rows.values())
    assert rows["n-per-inch-colorado"]["product_g"] is None
    assert rows["pound-per-inch"]["n_g"] is None


@fact
def a_product_of_unknown_analysis_says_so():
    said = shed.ok("dose", "A1", "--product", "compost").out
    assert "analysis of compost is not known" in said.replace("\n      ", " "), said


@fact
def several_stems_are_the_root_of_the_summed_squares():
    assert dose("M")["pound-per-inch"]["trunk_mm"] == int(math.sqrt(25 + 36 + 64) * 25.4)
    assert "(3 stems)" in shed.ok("dose", "M").out


@fact
def a_trunk_that_looks_like_a_girth_is_asked_about_and_not_dosed_by_the_inch():
    said = shed.ok("dose", "Y").out
    assert "Is that a girth, or the diameter?" in said
    assert not [rule for rule in dose("Y") if "inch" in rule]
    log = shed.copy("asked")
    entry = log.rows("entry", "list", "Y")[0]["id"]
    log.ok("entry", "mend", entry, "Y girth 60 cm")
    assert "Is that a girth" not in log.ok("dose", "Y").out
    assert any("inch" in row["rule"] for row in log.rows("dose", "Y"))


@fact
def a_trunk_not_measured_gives_no_row_by_the_inch():
    said = shed.ok("dose", "U").out
    assert "trunk not measured" in said and "no rule fits" in said
    assert shed.rows("dose", "U") == []


@fact
def rules_read_at_their_source_and_for_this_kind_stand_first():
    said = shed.ok("dose", "A1").out
    titles = ["Published for this kind", "Published for any fruit tree",
              "Common practice, or not read at its source"]
    places = [said.index(title) for title in titles]
    assert places == sorted(places)
    assert said.index("n-per-inch-colorado") < places[1] < said.index("pound-per-inch")
    rules = [row["rule"] for row in shed.rows("dose", "A1")]
    assert rules == [rule for rule in sorted(rules, key=lambda rule: said.index("\n      " + rule))]


@fact
def a_rate_of_the_growers_own_stands_before_all():
    log = shed.copy("rate")
    log.ok("own", "rate", "A1", "0.2lb", "--per", "year")
    rows = log.rows("dose", "A1")
    assert rows[0]["n_g"] == 91 and rows[0]["source"] == "set by hand here", rows[0]
    assert "Set by hand here" in log.ok("dose", "A1").out


@fact
def the_ring_is_told_where_the_spread_is_known():
    log = shed.copy("ring")
    log.ok("enter", "A1 spread 12 ft")
    # pi (6^2 - 0.984^2) sq ft
    assert "110 sq ft" in log.ok("dose", "A1").out.replace("\n  ", " ")


@fact
def the_area_under_the_crown_has_a_rate_of_its_own():
    log = shed.copy("area")
    assert "n-per-area-kentucky" not in {row["rule"] for row in log.rows("dose", "A1")}
    log.ok("enter", "A1 spread 12 ft")
    # 2 lb for 1000 sq ft: pi 6^2 sq ft
    want = 2 * 453.59237 * math.pi * 36 / 1000
    row = {row["rule"]: row for row in log.rows("dose", "A1", "--product", "10-10-10")}["n-per-area-kentucky"]
    assert abs(row["n_g"] - want) < 1 and abs(row["product_g"] - 10 * want) < 6, row


@fact
def what_was_given_this_season_stands_before_the_rates():
    log = shed.copy("given")
    assert "given this season" not in log.ok("--today", "2026-04-20", "dose", "A1").out
    log.ok("--today", "2026-04-10", "enter", "A1 fed 3 lb 10-10-10 @ 2026-03-10")
    log.ok("--today", "2026-04-10", "enter", "A1 fed compost @ 2026-04-02")
    said = " ".join(log.ok("--today", "2026-04-20", "dose", "A1").out.split())
    assert "given this season: 4.8 oz actual N in 1 feed, 1 more whose nitrogen is not known; the last on 2 April 2026" in said, said


@fact
def products_of_the_shed_are_set_side_by_side():
    log = shed.copy("equal")
    log.ok("product", "add", "sulfate", "--analysis", "21-0-0", "--bag", "50 lb")
    said = " ".join(log.ok("dose", "A1").out.split())
    # 1 / 0.1 and 1 / 0.21 lb; the second of a bag of 50
    assert "in the shed, for 1 lb actual N: 10 lb of 10-10-10 = 4 lb 12 oz of sulfate (0.095 of a bag)" in said, said


@fact
def every_dose_says_it_is_guidance():
    for label in ("A1", "Y", "M", "U"):
        assert "label and local rules come first" in shed.ok("dose", label).out.replace("\n", " ")


# --- the almanac

@fact
def the_almanac_tells_every_kind_with_sources():
    for row in run("almanac", "--format", "json").rows():
        said = run("almanac", row["key"])
        assert said.status == 0, said.err
        for part in (row["botanical"], "Its year", "Cuts", "Feeding", "Pollination", "Sources",
                     "Already cut"):
            assert part in said.out, (row["key"], part)
        for name in (row["name"], row["botanical"], row["key"].upper()):
            again = run("almanac", *name.split())
            if name == "Japanese plum":  # loquat or the true plum: asked
                assert again.status == 2 and "could be" in again.err, again.err
                continue
            assert again.out == said.out, name
        assert run("almanac", row["key"], "--format", "json").rows() == [row]


@fact
def the_almanac_shows_what_is_set_by_hand_here():
    log = north.copy("hand")
    log.ok("own", "window", "loquat", "bloom", "11-01", "02-01")
    assert "set by hand here: bloom 11-01 to 02-01" in log.ok("almanac", "loquat").out
    log.ok("own", "window", "loquat", "harvest", "05-20", "05-20")
    assert "set by hand here: harvest 05-20\n" in log.ok("almanac", "loquat").out
    assert "set by hand" not in run("almanac", "loquat").out


@fact
def the_cultivars_of_a_kind_are_told_with_whence_each_trait_is():
    said = run("almanac", "sweet", "cherry", "--cultivars")
    assert said.status == 0, said.err
    for part in ("A partner:", "a/b: either may be seen", "Bing", "alleles S3 S4", "group III", "[bloom alleles group self: "
                 "osu-cherry-chart; the rest from memory]", "ripe 12 days before Bing",
                 "Sources\n  osu-cherry-chart: Oregon State", "also Royal Ann",
                 "Many a yard tree is a seedling"):
        assert part in said.out, part
    assert max(map(len, said.out.splitlines())) <= 80
    assert "Alleles: ' lets" in said.out and "Protandrous" not in said.out
    assert "Protandrous" in run("almanac", "walnut", "--cultivars").out
    rows = {row["cultivar"]: row for row in
            run("almanac", "sweet_cherry", "--cultivars", "--format", "json").rows()}
    assert rows["Chelan"]["days"] == -12 and rows["Chelan"]["self"] == "no"
    assert rows["Ulster"]["sure"] == "from memory" and rows["Black Pearl"]["pollen_group"] is None
    assert len(rows) == 60 and all("\n  " + name in said.out for name in rows)


@fact
def kinds_known_by_name_may_have_cultivars_too():
    assert "Bearss lime" in run("almanac", "lime", "--cultivars").out
    said = run("almanac", "mango", "--cultivars")
    assert said.status == 2 and "no cultivars of mango" in said.err, said.err
    said = run("almanac", "plum", "--cultivars")
    assert said.status == 2 and "could be" in said.err, said.err
    said = run("almanac", "--cultivars")
    assert "cultivars" in said.out and len(said.out.splitlines()) == len(
        run("almanac").out.splitlines())


@fact
def a_broken_almanac_is_refused_by_file_line_and_column():
    import shutil as files
    folder = os.path.join(scratch, "almanac")
    files.copytree(os.path.join(SOURCE, "share/almanac"), folder)
    path = os.path.join(folder, "windows.csv")
    with open(path, encoding="utf-8") as file:
        lines = file.read().splitlines()
    lines[3] = lines[3].replace("-", "-9", 1)
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")
    for words in (("almanac", "loquat"), ("--log", demo.path, "review")):
        said = run(*words, "--almanac", folder)
        assert said.status in (2, 3) and "windows.csv line 4 column" in said.err, said.err
        assert_one_line(said.err)


@fact
def the_almanac_s_page_shows_what_is_set_by_hand_beside_it():
    log = demo_log("own-page")
    log.ok("own", "window", "apple", "harvest", "09-01", "10-15")
    log.ok("own", "window", "B2", "bloom", "04-02", "04-20")
    log.ok("own", "rate", "apple", "0.1lb", "--per", "inch")
    page = log.ok("almanac", "apple").out
    for line in ("set by hand here: harvest 09-01 to 10-15\n",
                 "set by hand here: bloom 04-02 to 04-20, for B2\n",
                 "set by hand here: 1.6 oz actual N for each inch\n",
                 "    07-01 to 11-05  harvest: "):
        assert line in page, line
    assert "set by hand here: bloom" not in log.ok("almanac", "loquat").out


@fact
def windows_learned_say_of_how_many_seasons_and_how_far_apart():
    page = " ".join(demo.ok("tree", "show", "A1").out.split())
    assert re.search(r"\(your bloom, 6 seasons: [+-]\d+ days, [+-]\d+ to [+-]\d+\)", page), page


main()
