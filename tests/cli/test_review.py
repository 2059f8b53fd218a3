# SPDX-License-Identifier: MIT
"""The review and its answers, the rules, and the demo yard that every rule speaks about."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
urgencies = ["act", "due", "soon", "note", "leave"]


def states(log, tree=None):
    """(tree, rule) and state of every item, answered ones too."""
    return {(row["tree"], row["rule"]): row["state"] for row in log.rows("review", "--all")
            if tree in (None, row["tree"])}


# --- the demo yard

@fact
def the_demo_is_the_same_for_the_same_today():
    one, other = demo_log("one"), demo_log("other")
    for what in ("trees", "entries", "picks", "flags"):
        for form in ("csv", "json"):
            said = one.ok("export", what, "-", "--format", form).bytes
            assert said == other.ok("export", what, "-", "--format", form).bytes, what
            assert len(said) > 100
    assert one.rows("history") == other.rows("history")


@fact
def the_demo_of_another_day_is_another():
    assert demo_log("later", "2026-11-25").ok("export", "entries", "-").bytes != \
        demo.ok("export", "entries", "-").bytes


@facts(["2026-11-24", "2026-03-15", "2026-07-10", "2026-01-02", "2026-02-14", "2024-02-29",
        "2026-05-01", "2026-06-11", "2026-08-20", "2026-09-30", "2026-10-13", "2026-12-31"])
def the_demo_speaks_of_what_it_has_a_story_of_on_any_day(day):
    log = demo_log("demo-" + day, day)
    spoken = {row["rule"] for row in log.rows("review", "--all")}
    rules = {row["rule"] for row in run("rules", "--format", "json").rows()}
    story = {"flower-wood", "cut-in-wet-season", "cut-too-much", "shape-cut-due", "feed-due",
             "feed-over", "feed-late", "girth-stale", "girth-or-diameter", "pick-soon",
             "pick-unlogged", "spray-interval", "plan-due", "leave-alone", "facts-missing"}
    assert story <= spoken <= rules, (story - spoken, spoken - rules)


@facts(["2026-11-24", "2026-03-15", "2026-07-10", "2026-10-13", "2026-05-01"])
def the_review_of_the_demo_is_one_screen_before_the_notes(day):
    log = demo_log("screen-" + day, day)
    lines = log.ok("review").out.split("\n")
    notes = [at for at, line in enumerate(lines) if line.startswith("note")]
    assert notes and notes[0] <= 24, lines
    whole = log.ok("review", "--all").out
    for what in ("      Do: ", "      Source: "):
        assert what in whole and what not in "\n".join(lines), what


@fact
def a_short_review_says_what_to_do_and_why():
    said = demo.ok("review", "--tree", "A1").out
    assert "      Do: " in said and "      Source: " in said and "      - " in said, said


@fact
def the_demo_holds_what_really_happens():
    trees = demo.rows("tree", "list", "--gone")
    standing = [row for row in trees if row["gone"] is None and row["host"] is None]
    assert len(standing) >= 16
    assert {row["species"] for row in trees} >= {"loquat", "apple", "peach", "apricot", "fig",
                                                 "lemon", "orange"}
    hosts = [row["host"] for row in trees if row["host"]]
    assert max(hosts.count(host) for host in hosts) >= 3, "three grafts on one host"
    spots = [row["spot"] for row in standing if row["spot"]]
    assert max(spots.count(spot) for spot in spots) == 2, "two trees in one spot"
    gone = [row for row in trees if row["gone"]]
    assert gone and gone[0]["tree"] in [row["tree"] for row in standing], "died and was replaced"
    assert any(row["species_sure"] == "candidate" for row in trees), "two candidates"
    pots = {row["spot"] for row in demo.rows("spot", "list") if row["kind"] == "container"}
    assert pots & set(spots), "a tree in a pot"
    picks = demo.table("export", "picks", "-")
    seasons = {row["season_year"] or row["day"][:4] for row in picks}
    assert len(seasons) >= 6
    assert any(not row["weight_low_g"] and not row["fruit_low"] for row in picks), "words only"


@fact
def the_demo_has_the_weather_of_several_seasons():
    days = demo.rows("weather", "show", "days", "--from", "2022-11-01", "--to", demo.today)
    years = demo.rows("weather", "show", "years", "--season", "2026")
    assert [row["season"] for row in years] == ["2026", "2025", "2024", "2023"], years
    assert all(row["min_decic"] < row["max_decic"] for row in days if row["station"])
    assert all(row["frost_nights"] > 0 for row in years), "frost"
    assert sum(row["heat_days"] for row in years) > 5, "heat"
    assert all(200000 < row["rain_um"] < 2000000 for row in years), "rain"
    assert sum(row["missing"] for row in years) > 20 and years[0]["missing"] == 3, "gaps"
    assert any(row["rain_um"] == 0 for row in days) and days[-1]["day"] == "2026-11-23"


@fact
def the_weather_of_the_demo_does_not_hang_on_the_day():
    words = ("weather", "show", "days", "--from", "2025-05-01", "--to", "2025-07-31")
    assert demo_log("other-day", "2026-09-30").rows(*words) == demo.rows(*words)


@fact
def the_acts_of_the_demo_are_named_by_their_lines():
    told = [row["what"] for row in demo.rows("history")]
    assert "{" not in "".join(told) and "E2: fed 5 lb of ammonium sulfate, today (18 November 2026)" in told, told


@fact
def the_demo_has_something_to_reckon_from():
    said = demo.ok("water", "E2").out
    assert "time to run" in said and "dry in" in said and "micro-sprinkler" in said, said
    said = demo.ok("sun").out
    assert "no height: G1\n" in said and "in leaf all the year" in said, said
    said = demo.ok("weather", "show", "frost", "--season", "2025").out
    assert "C2 apricot" in said and "observed on 9 March 2025" in said, said
    assert "2.0 F colder" in demo.ok("weather", "show", "chill").out


@fact
def the_demo_refuses_a_file_that_is_there():
    before = demo.bytes()
    said = run("demo", demo.path)
    assert said.status == 3 and "is there already" in said.err
    assert demo.bytes() == before


@fact
def the_demo_is_sound():
    assert demo.ok("verify").out.rstrip().endswith("sound")


# --- the review

@fact
def the_review_is_in_the_order_of_urgency_then_crop_at_risk():
    rows = demo.rows("review", "--all")
    places = [urgencies.index(row["urgency"]) for row in rows]
    assert places == sorted(places)
    risks = [row["crop_at_risk_g"] or 0 for row in rows if row["urgency"] == "act"]
    assert risks == sorted(risks, reverse=True)


@fact
def the_first_flag_stands_on_the_second_line():
    assert demo.ok("review").out.splitlines()[1].startswith("act   ")


@fact
def notes_are_folded_to_one_line_with_their_count():
    said = demo.ok("review").out
    notes = [row for row in demo.rows("review") if row["urgency"] == "note"]
    assert len(notes) > 3 and f"note  {len(notes)} notes" in said
    assert said.count("\nnote  ") == 1
    assert demo.ok("review", "--all").out.count("\nnote  ") == len(notes)


@fact
def what_reads_alike_is_one_item_of_the_text_and_one_a_tree_in_json():
    log = demo.copy("alike")
    for label in ("A1", "A2", "A3", "C1"):
        log.ok("plan", label, "watered", "5", "gal", "@", "2026-11-23")
    said = log.ok("review").out
    assert said.count("watered 5 gal") == 1 and "due   A1, A2, A3, C1: " in said, said
    rows = [row for row in log.rows("review") if "watered 5 gal" in row["says"]]
    assert [row["tree"] for row in rows] == ["A1", "A2", "A3", "C1"], rows
    assert all(row["tree"] in row["says"] for row in rows), rows


@fact
def figures_are_told_in_the_units_that_are_asked_for():
    here = demo.ok("review", "--tree", "A1").out
    there = demo.ok("--units", "si", "review", "--tree", "A1").out
    assert " lb of the " in here and " kg of the " not in here, here
    assert " kg of the " in there and " lb of the " not in there, there


@fact
def one_tree_can_be_reviewed():
    rows = demo.rows("review", "--tree", "E2")
    assert rows and {row["tree"] for row in rows} == {"E2"}


@fact
def the_review_writes_nothing():
    before = demo.bytes()
    demo.ok("review")
    demo.ok("review", "--all", "--format", "json")
    assert demo.bytes() == before


@fact
def a_flag_is_put_off_a_fortnight_or_to_a_day_and_comes_back():
    log = demo.copy("put-off")
    said = log.ok("put-off", "E1", "feed-due").out
    assert said == "E1, feed-due: put off until 8 December 2026\n", said
    assert states(log)[("E1", "feed-due")] == "put-off"
    assert ("E1", "feed-due") not in {(r["tree"], r["rule"]) for r in log.rows("review")}
    log.ok("put-off", "E1", "feed-due", "2026-12-01")
    later = Log("put-off", "2026-12-01")
    assert states(later)[("E1", "feed-due")] == "open"
    assert "put off 2 times before this" in later.ok("review", "--all").out
    log.ok("undo")
    log.ok("undo")
    assert states(log)[("E1", "feed-due")] == "open"


@fact
def putting_off_beyond_the_window_says_so():
    log = demo.copy("beyond")
    assert "its window closes before that" in log.ok(
        "put-off", "B2", "shape-cut-due", "2026-12-20").out


@facts([
    ("today", ("E1", "feed-due", "2026-11-24"), "from tomorrow up to a year"),
    ("far away", ("E1", "feed-due", "2028-01-01"), "from tomorrow up to a year"),
    ("no day", ("E1", "feed-due", "zork"), "zork"),
    ("no flag", ("A3", "flower-wood"), "no open flag"),
    ("no rule", ("E1", "zork"), "no rule 'zork'"),
    ("no tree", ("Z9", "feed-due"), "no tree 'Z9'"),
])
def put_off_refuses(name, words, says):
    before = demo.bytes()
    demo.no(2, "put-off", *words, says=says)
    assert demo.bytes() == before


@fact
def a_flag_is_set_aside_with_a_reason():
    log = demo.copy("aside")
    log.no(2, "set-aside", "E1", "feed-due", says="REASON")
    log.ok("set-aside", "E1", "feed-due", "fed", "it", "elsewhere")
    assert states(log)[("E1", "feed-due")] == "set-aside"
    assert "set aside: fed it elsewhere" in log.ok("review", "--all").out
    assert "fed it elsewhere" not in log.ok("review").out
    log.ok("undo")
    assert states(log)[("E1", "feed-due")] == "open"


@fact
def the_work_itself_clears_a_flag():
    log = demo.copy("clears")
    assert ("B2", "shape-cut-due") in states(log)
    log.ok("enter", "B2 cut shape 10% of crown")
    assert ("B2", "shape-cut-due") not in states(log)
    log.ok("undo")
    assert ("B2", "shape-cut-due") in states(log)


@fact
def a_rule_can_be_kept_quiet_for_a_tree_or_the_yard():
    log = demo.copy("quiet")
    log.ok("rule", "off", "flower-wood", "A1")
    assert states(log)[("A1", "flower-wood")] == "set-aside"
    assert states(log)[("A2", "flower-wood")] == "open"
    log.ok("rule", "off", "flower-wood")
    assert states(log)[("A2", "flower-wood")] == "set-aside"
    log.ok("rule", "on", "flower-wood")
    log.ok("rule", "on", "flower-wood", "A1")
    assert states(log)[("A1", "flower-wood")] == "open"
    log.no(2, "rule", "on", "flower-wood", says="is not off")
    log.no(2, "rule", "quiet", "flower-wood", says="usage")


@fact
def what_a_tree_left_alone_would_be_asked_is_told_apart():
    log = demo.copy("left")
    log.ok("enter", "B2 leave until 2027-10 ; rest")
    assert states(log)[("B2", "shape-cut-due")] == "left"
    assert ("B2", "leave-alone") in states(log)


# --- the rules

@fact
def every_rule_has_a_reason_a_source_and_an_urgency():
    rows = run("rules", "--format", "json").rows()
    assert len(rows) >= 13 and len({row["rule"] for row in rows}) == len(rows)
    for row in rows:
        assert list(row) == ["rule", "title", "reason", "source", "max_urgency"]
        assert all(row.values()) and row["max_urgency"] in urgencies, row
    said = run("rules").out
    assert all(f"{row['rule']}: {row['title']}" in said for row in rows)


@fact
def one_tree_of_a_folded_line_is_answered_by_itself():
    log = new_log("folded", "--lat", "38.2", "--wet", "winter", "--winter", "frosty")
    log.ok("tree", "add", "A1..A2", "--species", "apple", "--planted", "2012")
    log.ok("enter", "A1 saw label gone", "A2 saw label gone")
    assert "2 trees" in log.ok("review").out
    log.ok("set-aside", "A1", "label-lost", "it hangs on the fence")
    said = log.ok("review").out
    assert "A2: label gone" in said and "A1" not in said, said
    log.ok("set-aside", "A2", "label-lost", "so does this")
    assert "label-lost" not in log.ok("review").out
    assert log.ok("review", "--all").out.count("it hangs on the fence") == 1


main()
