# SPDX-License-Identifier: MIT
"""Lines logged, asked and planned from outside; undo, redo, mend, strike, history, find."""
import hashlib
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
hill = new_log("hill", "--lat", "38.2", "--wet", "winter", "--winter", "frosty", "--units", "us")
hill.ok("tree", "add", "A1..A4", "--species", "loquat", "--planted", "2012")
for extra, kind in (("-12", "apple"), ("3/7", "apple"), ("fig by gate", "fig"), ("Níspero", "loquat")):
    hill.ok("tree", "add", extra, "--species", kind)


def count(log):
    return len(log.rows("entry", "list"))


# --- one line

@facts([
    ("plain", ("A1", "picked", "6", "lb", "4", "oz", "85", "fruit"),
     "A1: picked 6 lb 4 oz, 85 fruit, today (24 November 2026)"),
    ("quoted", ("A1 picked 6 lb 4 oz 85 fruit",),
     "A1: picked 6 lb 4 oz, 85 fruit, today (24 November 2026)"),
    ("a label with a dash", ("-12", "picked", "3", "lb"), "-12: picked 3 lb"),
    ("a label with a stroke", ("3/7", "picked", "3", "lb"), "3/7: picked 3 lb"),
    ("a label of words", ("fig by gate,", "picked", "2 lb", "@", "yesterday"),
     "fig by gate: picked 2 lb, 23 November 2026"),
    ("a label in quotes", ('"fig by gate" picked 2 lb',), "fig by gate: picked 2 lb"),
    ("a short label", ("fi", "picked", "2", "lb"), "fig by gate: picked 2 lb"),
    ("a label in capitals", ("NÍSPERO picked 1 kg",), "Níspero: picked 1 kg"),
    ("a note after a semicolon", ("A1 cut shape 20% @ 12 may ; leader down",), "12 May 2026"),
    ("a signed temperature", ("frost -2 C",), "frost"),
])
def a_line_is_logged_and_said_again(name, words, says):
    log = hill.copy("line")
    said = log.ok("enter", *words).out
    assert says in said, said
    assert count(log) == 1


@facts([
    ("no verb", "A1 pickd 3 lb", "after the label comes picked, cut, fed"),
    ("no such tree", "Z9 picked 3 lb", "nothing is called 'Z9'"),
    ("two kinds of weight", "A1 picked 3 lb 5 kg", "one line logs one thing"),
    ("left-over words", "A1 picked 3 lb zork", "not understood: 'zork'"),
    ("before it was planted", "A1 picked 3 lb @ 2010-05-01", "before 'A1' was planted"),
    ("no such day", "A1 picked 3 lb @ 31 april", "April 2026 has days 1 to 30"),
    ("a weight beyond reason", "A1 picked 1e9 lb", "1e9"),
    ("a day in doubt", "A1 picked 3 lb @ 08-10-15", "08-10-15"),
])
def a_line_refused_says_what_would_be_understood_and_logs_nothing(name, line, says):
    before = hill.bytes()
    said = hill("enter", line)
    assert said.status == 2 and says in said.err, said.err
    assert hill.bytes() == before


@fact
def a_line_that_holds_two_is_answered_with_the_lines_it_would_take():
    said = hill("enter", "A1 picked 3 lb 5 kg")
    assert "A1 picked 3 lb\n" in said.out and "A1 picked 5 kg\n" in said.out, said.out


# --- several lines, each in quotes

@fact
def words_with_blanks_in_each_are_a_line_each_and_one_act():
    log = hill.copy("each")
    said = log.ok("enter", "A1 picked 6 lb", "A2 picked 5 lb @ yesterday", '"fig by gate" picked 2 lb').out
    assert [line.split(",")[0] for line in said.splitlines()] == [
        "A1: picked 6 lb", "A2: picked 5 lb", "fig by gate: picked 2 lb"], said
    assert sorted((row["subject"], row["day"]) for row in log.rows("entry", "list")) == [
        ("A1", "2026-11-24"), ("A2", "2026-11-23"), ("fig by gate", "2026-11-24")]
    assert "3 lines: A1: picked 6 lb" in log.ok("undo").out
    assert count(log) == 0


@fact
def a_day_among_several_lines_is_that_of_the_lines_after_it():
    log = hill.copy("each")
    log.ok("enter", "A1 picked 6 lb", "@ 2026-10-02", "A2 picked 5 lb", "A3 picked 4 lb @ yesterday")
    assert sorted((row["subject"], row["day"]) for row in log.rows("entry", "list")) == [
        ("A1", "2026-11-24"), ("A2", "2026-10-02"), ("A3", "2026-10-01")]


@facts([
    ("the first", ("A1 pickd 6 lb", "A2 picked 5 lb"), "line 1: "),
    ("the last", ("A1 picked 6 lb", "A2 picked 5 lb", "Z9 picked 1 lb"), "line 3: nothing is called 'Z9'"),
])
def of_several_lines_one_in_doubt_logs_none_and_is_named(name, lines, says):
    before = hill.bytes()
    said = hill("enter", *lines)
    assert said.status == 2 and says in said.err and not said.out, (said.out, said.err)
    assert hill.bytes() == before


@fact
def one_word_without_a_blank_makes_them_one_line():
    log = hill.copy("each")
    assert "A1: picked 6 lb" in log.ok("enter", "A1", "picked 6 lb").out
    assert count(log) == 1


# --- a file of lines

good = "@ 2026-10-01\nA1 saw aphids light\nA2 picked 3 lb\n# a remark\n\nfig by gate picked 2 lb @ 2026-11-24\n"
mixed = ("@ 2026-10-01\nA1 picked 3 lb\nA2 zork 3\nA3 saw aphids\n# a remark\n"
         "\"fig by gate\" picked 2 lb\nZ9 picked 1 lb\n")


@fact
def a_file_of_lines_is_logged_whole():
    log = hill.copy("file")
    assert log.ok("enter", "-", stdin=good).out == "3 entries logged\n"
    days = sorted(row["day"] for row in log.rows("entry", "list"))
    assert days == ["2026-10-01", "2026-10-01", "2026-11-24"], days
    log.ok("undo")
    assert count(log) == 0


@fact
def a_file_with_a_doubted_line_logs_nothing_and_names_it():
    log = hill.copy("file")
    before = log.bytes()
    said = log("enter", "-", stdin=mixed)
    assert said.status == 2 and "2 of 6 lines in doubt, marked #? in the file given back; nothing was logged" in said.err
    assert log.bytes() == before
    back = said.out.splitlines()
    assert [line for line in back if not line.startswith("#? ")] == mixed.splitlines(), back
    assert back[2].startswith("#? ") and back[3] == "A2 zork 3", back
    assert back[7].startswith("#? nothing is called 'Z9'") and back[8] == "Z9 picked 1 lb", back


@fact
def keep_good_logs_the_sound_lines_and_gives_the_file_back_with_them_marked():
    log = hill.copy("file")
    said = log("enter", "-", "--keep-good", stdin=mixed)
    assert said.status == 2 and "3 entries logged, marked #= in the file given back; 2 lines" in said.err
    back = said.out.splitlines()
    assert [line.removeprefix("#= ") for line in back if not line.startswith("#? ")
            ] == mixed.splitlines(), back
    assert [line for line in back if not line.startswith("#")] == [
        "@ 2026-10-01", "A2 zork 3", "Z9 picked 1 lb"], back
    kinds = sorted(row["subject"] + " " + row["kind"] for row in log.rows("entry", "list"))
    assert kinds == ["A1 pick", "A3 saw", "fig by gate pick"], kinds


@fact
def entered_again_the_file_given_back_is_given_back_as_it_was():
    log = hill.copy("file")
    back = log("enter", "-", "--keep-good", stdin=mixed).out
    before = log.bytes()
    assert log("enter", "-", "--keep-good", stdin=back).out == back
    assert log("enter", "-", stdin=back).out == back and log.bytes() == before


@fact
def a_diary_with_bullets_and_days_before_the_lines_is_read():
    log = hill.copy("file")
    diary = ("# 2026\r\n12 march 2026\r\n- A1 thinned\r\n\r\n2026-04-01: A1 full bloom\r\n"
             "Apr 12 - A2 picked 3 lb\r\nA3 saw aphids light\r\n")
    assert log.ok("enter", "-", stdin=diary).out == "4 entries logged\n"
    assert sorted((row["subject"], row["day"]) for row in log.rows("entry", "list")) == [
        ("A1", "2026-03-12"), ("A1", "2026-04-01"), ("A2", "2026-04-12"), ("A3", "2026-03-12")]


@fact
def what_was_given_back_can_be_mended_and_entered():
    log = hill.copy("file")
    back = log("enter", "-", "--keep-good", stdin=mixed).out
    mended = back.replace("zork", "picked").replace("3\n", "3 lb\n").replace("Z9", "A4")
    log.ok("enter", "-", stdin=mended)
    assert count(log) == 5
    assert {row["day"] for row in log.rows("entry", "list")} == {"2026-10-01"}


@fact
def short_labels_are_taken_from_a_file_only_when_said():
    log = hill.copy("file")
    assert log("enter", "-", stdin="fi picked 2 lb\n").status == 2
    assert log.ok("enter", "-", "--short", stdin="fi picked 2 lb\n").out == "1 entry logged\n"


@fact
def yesterday_in_a_file_needs_a_day_above():
    log = hill.copy("file")
    assert log("enter", "-", stdin="A1 picked 2 lb @ yesterday\n").status == 2
    log.ok("enter", "-", stdin="@ 2026-10-02\nA1 picked 2 lb @ yesterday\n")
    assert log.rows("entry", "list")[0]["day"] == "2026-10-01"


@fact
def an_empty_file_logs_nothing_and_is_no_failure():
    assert hill.copy("file").ok("enter", "-", stdin="").out == "0 entries logged\n"


# --- ask

@facts([
    ("a cut that takes flowers", "A1 cut shape 20%", 1, "flower-wood"),
    ("a cut after the last pick", "A2 cut shape 20% @ 2027-06-20", 0, None),
    ("a sucker", "A1 cut sucker", 0, None),
    ("dead wood", "A1 cut sanitation", 0, None),
    ("a pick", "A1 picked 3 lb", 0, None),
])
def ask_answers_and_leaves_the_log_as_it_was(name, line, status, rule):
    before = hashlib.sha256(hill.bytes()).hexdigest()
    stamp = os.stat(hill.path).st_mtime_ns
    said = hill("ask", line)
    assert said.status == status, said.out
    assert ("act" in said.out.splitlines()[1]) == (status == 1), said.out
    rows = hill("ask", line, "--format", "json").rows()
    assert [row["rule"] for row in rows if row["urgency"] == "act"] == ([rule] if rule else [])
    assert hashlib.sha256(hill.bytes()).hexdigest() == before
    assert os.stat(hill.path).st_mtime_ns == stamp
    assert os.listdir(os.path.dirname(hill.path)).count("hill.bough-journal") == 0


@fact
def ask_refuses_what_enter_refuses():
    hill.no(2, "ask", "Z9 cut", says="nothing is called 'Z9'")


@fact
def ask_says_what_the_work_would_settle():
    said = demo("ask", "E1 fed 1 lb ammonium sulfate").out
    assert "It would settle: E1: feeding, inside its clear window" in said, said


@fact
def ask_says_the_crop_at_risk():
    rows = demo("ask", "A1 cut shape 30%", "--format", "json").rows()
    cut = [row for row in rows if row["rule"] == "flower-wood"]
    assert len(cut) == 1 and cut[0]["seasons"] == 6, rows
    assert " would take wood " in cut[0]["says"], cut[0]
    assert 0 < cut[0]["crop_at_risk_low_g"] < cut[0]["crop_at_risk_g"] < \
        cut[0]["crop_at_risk_high_g"]


# --- plan

@fact
def work_is_planned_listed_and_settled_by_the_work():
    log = hill.copy("plan")
    log.ok("plan", "A1 cut limb 1 of 3 @ feb 2027")
    log.ok("plan", "A2", "fed", "every", "6", "weeks", "@", "2026-11-20")
    rows = log.rows("plan", "list")
    assert sorted((row["subject"], row["kind"], row["planned"]) for row in rows) == [
        ("A1", "cut", True), ("A2", "feed", True)], rows
    due = [row["tree"] for row in log.rows("review") if row["rule"] == "plan-due"]
    assert due == ["A2"], due
    log.ok("enter", "A2 fed 1 lb 10-10-10")
    assert not [row for row in log.rows("review") if row["rule"] == "plan-due"]


# --- undo and redo

def export_of(log):
    return [log.ok("export", what, "-", "--format", "json").bytes
            for what in ("trees", "entries", "picks", "flags")]


@fact
def undo_n_times_then_redo_n_times_exports_the_same_bytes():
    log = demo.copy("undo")
    acts = [("tree", "add", "Z1", "--species", "plum"), ("enter", "Z1 picked 3 lb"),
            ("tree", "identify", "C4", "--species", "apricot"), ("enter", "A1 girth 45 cm"),
            ("tree", "rename", "A3", "gold"), ("spot", "set", "terrace pot", "--volume", "60l"),
            ("put-off", "E1", "feed-due"), ("set-aside", "A2", "flower-wood", "a storm did it"),
            ("own", "window", "B1", "harvest", "08-01", "09-10"),
            ("place", "set", "--winter", "mild"), ("tree", "remove", "D2", "gave it away"),
            ("enter", "all figs watered 5 gal"), ("product", "add", "urea", "--analysis", "46-0-0")]
    states = [export_of(log)]
    for act in acts:
        log.ok(*act)
        states.append(export_of(log))
    for state in reversed(states[:-1]):
        log.ok("undo")
        assert export_of(log) == state
    for state in states[1:]:
        log.ok("redo")
        assert export_of(log) == state
    assert log.ok("verify").out.rstrip().endswith("sound")


@fact
def every_act_of_the_demo_goes_back_and_forth():
    log = demo.copy("all")
    want = export_of(log)
    steps = 0
    while True:
        said = log("undo")
        if said.status == 1:
            break
        assert said.status == 0, said.err
        steps += 1
    assert "nothing to undo" in said.out and steps >= 10, (steps, said.out)
    assert log.rows("tree", "list", "--gone") == []
    for _ in range(steps):
        log.ok("redo")
    assert log("redo").status == 1
    assert export_of(log) == want


@fact
def new_work_ends_redo():
    log = hill.copy("ends")
    log.ok("enter", "A1 picked 3 lb")
    log.ok("undo")
    log.ok("enter", "A2 picked 3 lb")
    assert log("redo").status == 1


@fact
def undo_says_what_it_took_back():
    log = demo.copy("said")
    log.ok("put-off", "E1", "feed-due")
    assert log.ok("undo").out == "undone: put off until 2026-12-08: feed-due at E1\n"


# --- mend, strike, history, find

@fact
def an_entry_is_mended_and_keeps_its_id():
    log = hill.copy("mend")
    log.ok("enter", "A1 girth 41 cm")
    entry = log.rows("entry", "list", "A1")[0]["id"]
    for line, reading in (("A1 girth 44 cm", "measured girth 44 cm"),
                          ("A1 girth 12 cm at 30 cm", "measured girth 12 cm at 30 cm"),
                          ("A1 picked 3-4 lb", "picked 3-4 lb"),
                          ("A1 picked 9 lb 40 fruit", "picked 9 lb, 40 fruit")):
        log.ok("entry", "mend", entry, line)
        row = log.rows("entry", "list", "A1")
        assert [(r["id"], r["reading"]) for r in row] == [(entry, reading)], row
    for _ in range(4):
        log.ok("undo")
    assert log.rows("entry", "list", "A1")[0]["reading"] == "measured girth 41 cm"
    log.no(2, "entry", "mend", "01NONE", "A1 picked 3 lb", says="no entry 01NONE")


@fact
def a_struck_entry_is_gone_from_the_lists_but_not_from_history():
    log = hill.copy("strike")
    log.ok("enter", "A1 picked 3 lb ; the first")
    entry = log.rows("entry", "list")[0]["id"]
    log.ok("entry", "strike", entry)
    assert count(log) == 0
    log.no(2, "entry", "strike", entry, says="was struck")
    told = log.ok("history", "A1").out
    assert "A1 picked 3 lb" in told and "taken back" in told, told
    log.ok("undo")
    assert count(log) == 1


@fact
def history_tells_every_act_newest_first():
    log = hill.copy("history")
    log.ok("enter", "A1 picked 3 lb")
    log.ok("undo")
    rows = log.rows("history")
    assert [row["kind"] for row in rows[:2]] == ["undo", "act"], rows[:2]
    assert rows[-2]["what"].startswith("tree add"), rows[-2]


@fact
def find_searches_words_and_notes():
    log = hill.copy("find")
    log.ok("enter", "A1 saw aphids light ; on the Níspero side")
    assert log.rows("find", "aphids")[0]["subject"] == "A1"
    assert len(log.rows("find", "nispero")) >= 1
    said = log("find", "zork")
    assert said.status == 1 and said.out == "no entries\n"
    for hostile in ('"', "a OR", "NEAR(", "*", "'; --", "(("):
        assert log("find", hostile).status in (0, 1), hostile


@facts([
    ("entry list", ("entry", "list")), ("entry list of one", ("entry", "list", "A1")),
    ("plan list", ("plan", "list")), ("find", ("find", "picked")),
])
def entries_have_these_keys(name, words):
    rows = demo.rows(*words)
    for row in rows:
        assert list(row) == ["id", "day", "subject", "kind", "planned", "reading", "words",
                             "note"], row
    assert len(demo.table(*words)) == len(rows) > 0


main()
