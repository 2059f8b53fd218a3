# SPDX-License-Identifier: MIT
"""The yard itself: place, areas, spots, obstacles, the route, the shed, what is set by hand, trees."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

hill = ("--lat", "38.2", "--lon", "-122.1", "--wet", "winter", "--winter", "frosty",
        "--units", "us")


# --- the place

@fact
def a_new_log_needs_only_a_name_and_asks_the_hemisphere():
    log = Log("bare")
    said = log.ok("new", "--name", "Hill yard")
    assert "North or south of the equator is not known yet" in said.out
    place = log.rows("place", "show")[0]
    assert place["name"] == "Hill yard" and place["hemisphere"] is None
    assert place["climate"] == "climate not known"


@fact
def the_sign_of_the_latitude_is_the_hemisphere():
    assert new_log("north", *hill).rows("place", "show")[0]["hemisphere"] == "north"
    south = new_log("south", "--lat", "-33.9")
    assert south.rows("place", "show")[0]["hemisphere"] == "south"


@fact
def a_log_that_is_there_is_left_as_it_is():
    log = new_log("twice")
    before = log.bytes()
    log.no(3, "new", "--name", "Other", says="is there already")
    assert log.bytes() == before


@fact
def place_set_changes_what_is_said_and_keeps_the_rest():
    log = new_log("set", *hill)
    said = log.ok("place", "set", "--numbers", "comma", "--dates", "dmy", "--gallon", "imperial",
                  "--last-frost", "04-05", "--first-frost", "11-20")
    assert "decimal comma" in said.out and "day first" in said.out
    place = log.rows("place", "show")[0]
    assert place == {
        "name": "Hill yard", "latitude_udeg": 38200000, "longitude_udeg": -122100000,
        "hemisphere": "north", "wet": "winter", "winter": "frosty",
        "climate": "wet winters, dry summers", "last_frost": "04-05", "first_frost": "11-20",
        "units": "us", "gallon": "imperial", "numbers": "comma", "dates": "dmy"}, place
    log.ok("undo")
    assert log.rows("place", "show")[0]["numbers"] is None


place = new_log("refusals", *hill)


@facts([
    ("north", ("--hemisphere", "south"), "lies in the north"),
    ("pole", ("--lat", "100"), "from -90 to 90"),
    ("word", ("--lat", "here"), "decimal number"),
    ("hex", ("--lon", "0x10"), "decimal number"),
    ("nan", ("--lat", "nan"), "decimal number"),
    ("wet", ("--wet", "often"), "winter, summer, all, little"),
    ("winter", ("--winter", "cold"), "hard, frosty, mild"),
    ("frost", ("--first-frost", "11-31"), "--first-frost: 11-31"),
    ("gallon", ("--gallon", "dry"), "us, imperial"),
    ("numbers", ("--numbers", "roman"), "point, comma"),
    ("dates", ("--dates", "ymd"), "dmy, mdy"),
    ("blank", ("--name", "  "), "wants a name"),
    ("nothing", (), "usage: boughbook place"),
])
def place_set_refuses(name, options, says):
    before = place.bytes()
    place.no(2, "place", "set", *options, says=says)
    assert place.bytes() == before


@fact
def new_without_a_name_makes_no_file():
    log = Log("nameless")
    log.no(2, "new", says="wants a name")
    log.no(2, "new", "--name", "x", "--lat", "91", says="from -90 to 90")
    assert not os.path.exists(log.path)


# --- areas, spots, obstacles, the route

ground = new_log("ground", *hill)


@fact
def areas_are_added_renamed_and_removed():
    ground.ok("area", "add", "back garden")
    ground.no(2, "area", "add", "Back Garden", says="another area")
    ground.ok("area", "rename", "back garden", "long bed")
    assert ground.rows("area", "list") == [{"area": "long bed"}]
    assert ground.table("area", "list") == [{"area": "long bed"}]
    ground.no(2, "area", "remove", "back garden", says="no area called back garden")
    ground.ok("area", "remove", "long bed")
    assert ground.rows("area", "list") == []


@fact
def a_spot_keeps_every_figure_given():
    ground.ok("area", "add", "terrace")
    ground.ok("spot", "add", "S1", "--kind", "container", "--area", "terrace", "--east", "3m",
              "--north", "-4m", "--volume", "60l", "--offset", "-2F", "--soil", "loam",
              "--root-depth", "60cm", "--cover", "mulch", "--emitters", "4", "--flow", "2l/h",
              "--efficiency", "85%", "--watering", "drip")
    assert ground.rows("spot", "list") == [{
        "spot": "S1", "kind": "container", "area": "terrace", "east_um": 3000000,
        "north_um": -4000000, "volume_ul": 60000000, "offset_decic": -11, "soil": "loam",
        "root_depth_um": 600000, "cover": "mulch", "watering": "drip", "emitters": 4,
        "flow_ul_per_hour": 2000000, "efficiency_permille": 850}]
    said = ground.ok("spot", "show", "S1").out
    assert "east 9 ft 10 in, south 13 ft 1 in" in said and "2 F colder" in said, said


@facts([
    ("soil", ("--soil", "mud"), "sandy-loam"),
    ("cover", ("--cover", "snow"), "bare, grass, mulch"),
    ("kind", ("--kind", "tub"), "hole, container, off-place"),
    ("emitters", ("--emitters", "some"), "whole number"),
    ("fewer emitters", ("--emitters", "-2"), "whole number"),
    ("east", ("--east", "3"), "--east"),
    ("area", ("--area", "moon"), "no area called moon"),
    ("nothing", (), "usage: boughbook spot"),
])
def spot_set_refuses(name, options, says):
    before = ground.rows("spot", "list")
    ground.no(2, "spot", "set", "S1", *options, says=says)
    assert ground.rows("spot", "list") == before


@fact
def a_spot_tells_who_stood_there_when():
    log = new_log("stood", *hill)
    log.ok("spot", "add", "H")
    log.ok("tree", "add", "A1", "--species", "lemon", "--spot", "H", "--planted", "2015-04-01")
    log.ok("tree", "remove", "A1", "frost", "--gone-on", "2020-01-20")
    log.ok("tree", "add", "A1", "--species", "fig", "--spot", "H", "--planted", "2021-03-02")
    rows = log.rows("spot", "show", "H")
    assert [(row["from"], row["to"]) for row in rows] == [
        ("2015-04-01", "2020-01-20"), ("2021-03-02", None)], rows
    then = log.rows("spot", "show", "H", "--day", "2018-06-01")
    assert len(then) == 1 and then[0]["to"] == "2020-01-20", then
    assert log.rows("spot", "show", "H", "--day", "2020-06-01") == []


@fact
def obstacles_keep_points_in_the_unit_given():
    ground.ok("obstacle", "add", "south wall", "--kind", "wall", "--points", "0,0 12,0",
              "--length-unit", "ft", "--height", "2m")
    assert ground.rows("obstacle", "list") == [{
        "obstacle": "south wall", "kind": "wall", "points_um": "0,0 3657600,0",
        "height_um": 2000000}]
    ground.no(2, "obstacle", "add", "x", "--kind", "tree", "--points", "0,0",
              says="wall, house, gate, line")
    ground.no(2, "obstacle", "add", "x", "--kind", "wall", "--points", "0", says="east,north")
    ground.ok("obstacle", "remove", "south wall")
    ground.no(2, "obstacle", "remove", "south wall", says="no obstacle")


@fact
def the_route_is_what_was_set_in_that_order():
    log = new_log("route", *hill)
    assert "goes by label" in log.ok("route", "show").out
    for name in ("P", "Q", "R"):
        log.ok("spot", "add", name)
    log.ok("route", "set", "R", "P", "Q")
    want = [{"stop": 1, "spot": "R"}, {"stop": 2, "spot": "P"}, {"stop": 3, "spot": "Q"}]
    assert log.rows("route", "show") == want
    log.no(2, "route", "set", "R", "Z", says="no spot called Z")
    assert log.rows("route", "show") == want


# --- the shed

@fact
def products_keep_their_analysis():
    log = new_log("shed", *hill)
    log.ok("product", "add", "10-10-10", "--analysis", "10-10-10", "--bag", "20kg", "--cup", "8oz")
    log.ok("product", "add", "fish meal")
    log.no(2, "product", "add", "Fish Meal", says="already")
    log.ok("product", "set", "fish meal", "--analysis", "5.5-1-1")
    rows = log.rows("product", "list")
    assert rows[0] == {"product": "10-10-10", "n_mpct": 10000, "p2o5_mpct": 10000,
                       "k2o_mpct": 10000, "elements": None, "bag_g": 20000, "cup_g": 227}, rows
    assert rows[1]["n_mpct"] == 5500 and rows[1]["bag_g"] is None
    log.no(2, "product", "set", "fish meal", says="usage")
    log.ok("product", "remove", "fish meal")
    assert len(log.rows("product", "list")) == 1


@facts(["5-1-1x", "5-1", "0x5-1-1", "nan-1-1", "5--1-1", "-5-1-1", "60-60-60", "1e1-0-0"])
def an_analysis_is_three_plain_figures(text):
    log = place.copy("analysis")
    log.no(2, "product", "add", "p", f"--analysis={text}", says=text)
    assert log.rows("product", "list") == []


@fact
def containers_are_weighed_for_each_kind_and_anew():
    log = new_log("containers", *hill)
    log.ok("container", "add", "bucket", "--species", "apple", "--weight", "24lb", "--volume",
           "5gal")
    log.ok("container", "add", "bucket", "--weight", "26lb", "--from", "2025-06-01")
    log.ok("container", "add", "tray")
    assert log.rows("container", "list") == [
        {"container": "bucket", "volume_ul": 18927059, "species": None, "weight_g": 11793,
         "from": "2025-06-01"},
        {"container": "bucket", "volume_ul": 18927059, "species": "apple", "weight_g": 10886,
         "from": None},
        {"container": "tray", "volume_ul": None, "species": None, "weight_g": None,
         "from": None}]
    log.no(2, "container", "add", "bucket", says="already")
    log.no(2, "container", "add", "bucket", "--weight", "9lb", "--volume", "1gal", says="stands")
    log.ok("container", "remove", "tray")
    assert len(log.rows("container", "list")) == 2


@fact
def windows_rates_and_choices_are_kept_and_removed():
    log = new_log("own", *hill)
    log.ok("tree", "add", "A1", "--species", "loquat")
    log.ok("own", "window", "A1", "bloom", "11-01", "02-01")
    log.ok("own", "rate", "apple", "0.1lb", "--per", "inch")
    log.ok("own", "choice", "flower-wood", "hueso-2015")
    rows = log.rows("own", "list")
    assert [(r["what"], r["subject"], r["from"], r["nitrogen_g"], r["rule"]) for r in rows] == [
        ("window", "A1", "11-01", None, None), ("rate", "apple", None, 45, None),
        ("choice", None, None, None, "flower-wood")], rows
    assert "1 November" in log.ok("tree", "show", "A1").out
    for row in rows:
        log.ok("own", "remove", row["id"])
    assert log.rows("own", "list") == []
    log.no(2, "own", "remove", rows[0]["id"], says="'own list' shows them")


@facts([
    ("window", ("window", "loquat", "blooms", "11-01", "02-01"), "cut-clear"),
    ("day", ("window", "loquat", "bloom", "11-31", "02-01"), "11-31"),
    ("whom", ("window", "zork", "bloom", "11-01", "02-01"), "neither a tree's label nor a kind"),
    ("per", ("rate", "apple", "0.1lb"), "--per inch"),
    ("rate", ("rate", "apple", "some", "--per", "inch"), "some"),
    ("rule", ("choice", "zork", "UC"), "no rule 'zork'"),
    ("rule without a clash", ("choice", "pick-soon", "hueso-2015"), "a choice is for: flower-wood"),
    ("source", ("choice", "feed-over", "zork"), "'zork' has no row that feed-over could go by"),
])
def own_refuses(name, words, says):
    place.no(2, "own", *words, says=says)
    assert place.rows("own", "list") == []


@fact
def a_choice_is_refused_with_the_sources_of_the_kinds_here():
    log = new_log("choices", *hill)
    log.ok("tree", "add", "A1", "--species", "loquat")
    said = log.no(2, "own", "choice", "flower-wood", "uc-nowhere", says="for the kinds here")
    assert "edis-mg050" in said.err and "hueso-2015" in said.err and "uc-7263" not in said.err
    log.no(2, "own", "choice", "flower-wood", "two", "words")
    log.ok("own", "choice", "flower-wood", "hueso-2015")
    assert "southeast Spain" not in log.ok("own", "list").out
    assert "hueso-2015, J. J. Hueso" in log.ok("own", "list").out


@fact
def a_choice_opens_september_and_undo_closes_it():
    log = new_log("september", *hill)
    log.ok("tree", "add", "A1", "--species", "loquat")
    cut = ("--today", "2026-09-06", "ask", "A1 cut shape 20% of crown @ 2026-09-05")
    assert "own choice flower-wood hueso-2015" in log(*cut).out
    log.ok("own", "choice", "flower-wood", "hueso-2015")
    assert "flower-wood" not in log(*cut).out
    log.ok("undo")
    assert "own choice flower-wood hueso-2015" in log(*cut).out


# --- trees

@fact
def a_row_of_labels_adds_each_tree():
    log = new_log("row", *hill)
    log.ok("tree", "add", "A1..A12", "--species", "loquat", "--planted", "2019")
    rows = log.rows("tree", "list")
    assert [row["tree"] for row in rows] == [f"A{n}" for n in range(1, 13)]
    assert {row["species"] for row in rows} == {"loquat"}
    assert {row["planted"] for row in rows} == {"2019"}
    log.ok("undo")
    assert log.rows("tree", "list") == []


@facts([
    ("A1..B3", "A1..A12"), ("A5..A3", "no trees"), ("A1..A2000", "1,000"),
    ('a"b', "no ; no @"), ("a;b", "no ; no @"), ("a@b", "no ; no @"), ("all figs", "'all '"),
    ("", "blank"), ("x" * 41, "40"),
])
def a_label_is_refused_with_what_one_is(label, says):
    place.no(2, "tree", "add", label, says=says)
    assert place.rows("tree", "list") == []


@fact
def a_row_of_labels_with_one_taken_adds_none():
    log = new_log("taken", *hill)
    log.ok("tree", "add", "A3")
    log.no(2, "tree", "add", "A1..A5", says="A3")
    assert [row["tree"] for row in log.rows("tree", "list")] == ["A3"]


@fact
def every_field_of_a_tree_is_kept():
    log = new_log("fields", *hill)
    log.ok("tree", "add", "P", "--species", "peach", "--how", "bought")
    log.ok("tree", "add", "T", "--species", "peach", "--cultivar", "Elberta", "--sure",
           "suspected", "--planted", "2015~", "--spot", "hole 7", "--east", "3m", "--north", "4m",
           "--parent", "P", "--how", "seed", "--rootstock", "Lovell", "--target-height", "3m",
           "--hazard", "power line", "--over-fence", "--private", "--note", "by the gate")
    row = log.rows("tree", "show", "T")[0]
    assert row == {"tree": "T", "species": "peach", "species_sure": "suspected",
                   "cultivar": "Elberta", "cultivar_sure": "suspected", "planted": "2015~",
                   "gone": None, "host": None, "spot": "hole 7"}, row
    said = log.ok("tree", "show", "T").out
    for part in ("! power line", "planted about 2015", "raised from seed", "on Lovell",
                 "in spot hole 7", "over the fence", "to be kept at 9 ft 10 in", "by the gate"):
        assert part in said, part
    assert said.startswith("! power line"), "the hazard stands first"


@facts([
    ("plum", ["European plum (european_plum)", "Japanese plum (japanese_plum)"]),
    ("Japanese plum", ["loquat (loquat)", "Japanese plum (japanese_plum)"]),
    ("cherry", ["sweet cherry (sweet_cherry)", "sour cherry (sour_cherry)"]),
    ("Pear", ["European pear (european_pear)", "Asian pear (asian_pear)"]),
])
def a_name_of_two_kinds_is_asked_and_each_kept_as_a_candidate(name, kinds):
    log = place.copy("asked")
    said = " ".join(log.ok("tree", "add", "B1", "--species", name).out.split())
    assert f"'{name}' could be" in said
    for kind in kinds:
        assert kind in said, said
    row = log.rows("tree", "show", "B1")[0]
    assert row["species_sure"] == "candidate", row
    plain = [kind.split(" (")[0] for kind in kinds]
    assert row["species"] == " or ".join(plain), row
    key = kinds[1].split("(")[1].rstrip(")")
    log.ok("tree", "identify", "B1", "--species", key)
    assert log.rows("tree", "show", "B1")[0]["species_sure"] == "certain"


@facts([
    ("japanese_plum", "japanese_plum", "certain"),
    ("Prunus salicina", "japanese_plum", "certain"),
    ("mango", "mango", "certain"), ("zork", "zork", "certain"), ("fig?", "fig", "suspected"),
    ("APPLE", "apple", "certain"), ("Eriobotrya japonica", "loquat", "certain"),
    ("orange or lemon", "sweet orange or lemon", "candidate"),
])
def a_species_as_typed_becomes(typed, species, sure):
    log = place.copy("species")
    log.ok("tree", "add", "B1", "--species", typed)
    row = log.rows("tree", "show", "B1")[0]
    assert (row["species"], row["species_sure"]) == (species, sure), row


@fact
def sure_is_certain_for_a_species_and_suspected_for_a_cultivar():
    log = place.copy("sure")
    log.ok("tree", "add", "B1", "--species", "fig", "--cultivar", "Celeste")
    row = log.rows("tree", "show", "B1")[0]
    assert (row["species_sure"], row["cultivar_sure"]) == ("certain", "suspected")
    log.ok("tree", "add", "B2", "--cultivar", "Celeste")
    row = log.rows("tree", "show", "B2")[0]
    assert (row["species"], row["species_sure"]) == ("unknown", "unknown"), row


@fact
def an_old_label_still_finds_the_tree():
    log = new_log("rename", *hill)
    log.ok("tree", "add", "A1..A2", "--species", "fig")
    log.ok("tree", "rename", "A1", "fig by gate")
    assert log.rows("tree", "show", "A1")[0]["tree"] == "fig by gate"
    log.no(2, "tree", "rename", "A2", "Fig By Gate", says="label")
    log.ok("tree", "add", "A1", "--species", "lemon")
    assert log.rows("tree", "show", "A1")[0]["species"] == "lemon"
    assert "label: fig by gate, was A1" in log.ok("history", "fig by gate").out


@fact
def a_correction_rereads_earlier_seasons_and_a_change_does_not():
    log = new_log("identify", *hill)
    for label in ("C", "G"):
        log.ok("tree", "add", label, "--species", "peach", "--planted", "2015")
        log.ok("enter", f"{label} picked 10 lb @ 2023-08-20")
    log.ok("tree", "identify", "C", "--species", "orange", "--by", "a neighbour", "--reason",
           "leaf", "--sense", "correction")
    log.ok("tree", "identify", "G", "--species", "orange", "--sense", "change", "--day",
           "2024-02-01")
    log.ok("enter", "G picked 5 lb @ 2025-01-10")
    names = {label: [row["season"] for row in log.rows("season", "--tree", label)
                     if row["picked_g"]] for label in ("C", "G")}
    assert names == {"C": ["2023/24"], "G": ["2023", "2024/25"]}, names
    log.no(2, "tree", "identify", "G", says="say what G is")
    log.no(2, "tree", "identify", "G", "--species", "fig", "--sense", "guess", says="correction")
    log.no(2, "tree", "set", "G", "--species", "fig", says="tree identify G")


@fact
def a_tree_is_removed_with_a_reason_and_its_label_is_free():
    log = new_log("removed", *hill)
    log.ok("tree", "add", "A5", "--species", "lemon", "--planted", "2011-04")
    log.no(2, "tree", "remove", "A5", says="say why")
    assert "frost" in log.ok("tree", "remove", "A5", "frost", "--gone-on", "2019-01-20").out
    log.no(2, "tree", "remove", "A5", "again", says="gone since 2019-01-20")
    log.ok("tree", "add", "A5", "--species", "fig", "--planted", "2020")
    assert [row["tree"] for row in log.rows("tree", "list")] == ["A5"]
    listed = log.ok("tree", "list", "--gone").out
    assert "A5 (2011-2019)" in listed and "1 tree" in listed, listed
    assert len(log.rows("tree", "list", "--gone")) == 2
    log.no(2, "enter", "A5 picked 3 lb @ 2015-05-01", says="A5 (2011-2019)")
    log.ok("enter", "A5 (2011-2019) picked 3 lb @ 2015-05-01")
    assert "gone 20 January 2019: frost" in log.ok("tree", "show", "A5 (2011-2019)").out
    assert "A5 (2011-2019): picked 3 lb" in log.ok("entry", "list").out


@fact
def grafts_go_with_their_host_and_are_not_counted_as_trees():
    log = new_log("grafts", *hill)
    log.ok("tree", "add", "B3", "--species", "apple")
    log.ok("tree", "add", "B3 east", "--species", "apple", "--cultivar", "Fuji", "--host", "B3",
           "--how", "graft")
    assert "1 tree, grafts not counted" in log.ok("tree", "list").out
    assert log.rows("tree", "show", "B3 east")[0]["host"] == "B3"
    log.ok("tree", "remove", "B3", "blown over")
    assert log.rows("tree", "list") == []


@facts([
    ("how", ("--how", "stolen"), "bought"), ("sure", ("--sure", "maybe"), "certain"),
    ("host", ("--host", "Z9"), "--host: no tree 'Z9'"),
    ("parent", ("--parent", "Z9"), "--parent: no tree 'Z9'"),
    ("planted", ("--planted", "2015-13"), "month 13"),
    ("height", ("--target-height", "tall"), "tall"), ("east", ("--east", "x"), "--east"),
])
def tree_add_refuses(name, options, says):
    place.no(2, "tree", "add", "N1", *options, says=says)
    assert place.rows("tree", "list") == []


@fact
def tree_set_changes_and_moves():
    log = new_log("moved", *hill)
    log.ok("spot", "add", "H1")
    log.ok("tree", "add", "A1", "--species", "fig")
    log.no(2, "tree", "set", "A1", says="usage")
    log.no(2, "tree", "set", "A1", "--spot", "nowhere", says="no spot called nowhere")
    log.ok("tree", "set", "A1", "--spot", "H1", "--planted", "1998", "--note", "old")
    log.ok("tree", "set", "A1", "--planted", "2016")
    log.ok("tree", "set", "A1", "--planted", "1998")
    row = log.rows("tree", "show", "A1")[0]
    assert (row["spot"], row["planted"]) == ("H1", "1998"), row


@fact
def tree_show_follows_the_trees_own_last_pick_with_the_saw():
    log = new_log("last pick", *hill, today="2027-05-12")
    log.ok("tree", "add", "A1", "--species", "loquat", "--planted", "2012")
    log.ok("tree", "add", "A2", "--species", "loquat", "--planted", "2012")
    log.ok("enter", "A1 picked 20 lb, last @ 2027-05-10")
    mine, other = (log.ok("tree", "show", label).out for label in ("A1", "A2"))
    spans = [next(line.split("  ")[-1].strip() for line in said.splitlines()
                  if "no shaping cuts" in line) for said in (mine, other)]
    assert spans == ["15 August 2027 to 15 June 2028 (almanac)",
                     "15 August 2026 to 15 June 2027 (almanac)"], (spans, mine)


@fact
def a_window_of_one_day_is_one_day_in_words():
    log = new_log("one day", *hill)
    log.ok("tree", "add", "A1", "--species", "fig", "--planted", "2012")
    log.ok("own", "window", "A1", "harvest", "08-28", "08-28")
    said = log.ok("tree", "show", "A1").out
    assert any(line.split() == "harvest 28 August 2027 (set by hand)".split()
               for line in said.splitlines()), said


main()
