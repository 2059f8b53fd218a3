# SPDX-License-Identifier: MIT
"""The words of a call: options before and after the command, help, version, what is refused."""
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")


def commands():
    """Names of all commands, as help lists them."""
    listed = re.findall(r"^  ([a-z-]+) +\S", run("help").out, re.M)
    assert len(listed) >= 30, listed
    return listed


@fact
def global_options_stand_before_or_after_the_command():
    path, today = demo.path, demo.today
    want = run("--log", path, "--today", today, "tree", "list").out
    assert want.count("\n") > 20
    assert run("tree", "list", "--log", path, "--today", today).out == want
    assert run("tree", "--log", path, "list", "--today", today).out == want
    assert run(f"--log={path}", "tree", "list", f"--today={today}").out == want
    assert run("tree", "list", "--today", today, env={"BOUGHBOOK_LOG": path}).out == want


@fact
def the_option_wins_over_the_environment():
    said = run("--log", demo.path, "place", "show", env={"BOUGHBOOK_LOG": "/nowhere.bough"})
    assert said.status == 0 and said.out.startswith("Tern Hollow")


@fact
def without_a_log_named_it_lies_in_the_data_folder():
    home = os.path.join(scratch, "data-home")
    env = {"XDG_DATA_HOME": home, "BOUGHBOOK_LOG": ""}
    env.pop("BOUGHBOOK_LOG")
    said = run("new", "--name", "Here", env=env)
    assert said.status == 0, said.err
    assert os.path.exists(os.path.join(home, "boughbook/yard.bough"))
    assert os.stat(os.path.join(home, "boughbook/yard.bough")).st_mode & 0o777 == 0o600
    assert run("place", "show", env=env).out.startswith("Here")


@facts([
    ("an_unknown_command", ("zork",), "'zork' is not a command"),
    ("an_unknown_option_before", ("--zork", "review"), "--log --today --units"),
    ("an_unknown_option_after", ("review", "--zork"), "it takes --tree --all"),
    ("an_option_of_another_command", ("review", "--keep-good"), "'--keep-good' is not known"),
    ("a_value_left_out", ("review", "--today"), "'--today' wants a value"),
    ("a_day_of_no_month", ("--today", "2026-13-01", "review"), "--today: month 13"),
    ("a_day_in_words", ("--today", "soon", "review"), "--today"),
    ("units_of_no_system", ("review", "--units", "feet"), "us or si"),
    ("a_format_of_no_kind", ("review", "--format", "xml"), "text, csv, json or html"),
    ("words_too_many", ("undo", "twice"), "usage: boughbook undo"),
    ("words_too_few", ("enter",), "usage: boughbook enter"),
    ("a_command_without_its_act", ("tree",), "usage: boughbook tree"),
    ("an_act_that_is_none", ("spot", "paint", "S1"), "usage: boughbook spot"),
    ("help_for_no_command", ("help", "zork"), "'zork' is not a command"),
    ("a_season_of_no_kind", ("season", "soon"), "2025/26"),
    ("a_season_that_skips_a_year", ("season", "2025/27"), "comes 26"),
    ("a_kind_not_known", ("almanac", "zork"), "no kind 'zork'"),
    ("a_kind_in_doubt", ("almanac", "plum"), "european_plum"),
    ("a_kind_without_dates", ("almanac", "mango"), "known by name"),
    ("a_rule_not_known", ("rule", "off", "zork"), "no rule 'zork'"),
    ("a_tree_not_known", ("tree", "show", "Z9"), "no tree 'Z9'"),
    ("a_dose_of_no_tree", ("dose", "Z9"), "no tree 'Z9'"),
    ("a_dose_of_a_graft", ("dose", "B3 east"), "ask the dose of that"),
    ("a_product_not_known", ("dose", "A1", "--product", "zork"), "no product 'zork'"),
])
def words_not_understood_exit_2_and_say_what_is(name, words, says):
    demo.no(2, *words, says=says)


@fact
def a_short_label_that_fits_two_is_asked():
    demo.no(2, "tree", "show", "C3", says=["C3 left", "C3 right"])


@fact
def version_names_program_schema_almanac_and_sqlite():
    said = run("--version")
    assert said.status == 0
    assert re.fullmatch(r"boughbook \d+\.\d+\.\d+, schema \d+, almanac [0-9a-f]{16}, "
                        r"SQLite 3\.\d+\.\d+\n", said.out), said.out
    assert run("review", "--version").out == said.out


@fact
def version_tells_when_the_almanac_cannot_be_read():
    said = run("--version", "--almanac", scratch)
    assert said.status == 0 and "not read" in said.out, said.out


@fact
def every_command_has_help_that_names_its_options():
    for name in commands():
        said = run("help", name)
        assert said.status == 0 and said.out.startswith(f"boughbook {name}"), said.out
        assert name == "help" or run(name, "--help").out == said.out, name


@fact
def every_option_that_a_usage_shows_is_known():
    """A usage that shows an option which is then refused would mislead."""
    for name in commands():
        usage, _, known = run("help", name).out.partition("options:")
        shown = set(re.findall(r"--([a-z][a-z-]*)", usage))
        known = set(re.findall(r"--([a-z][a-z-]*)", known)) | {"format"}  # of all that print
        assert shown <= known, f"{name}: {shown - known}"


@fact
def every_option_of_a_command_is_read():
    """Each listed option is taken: what is refused is its value or what is missing, not its name."""
    for name in commands():
        known = run("help", name).out.partition("options:")[2]
        for option in re.findall(r"--([a-z][a-z-]*)", known):
            said = demo.copy("words")(name, f"--{option}=x" if f"--{option} VALUE" in known
                                      else f"--{option}")
            assert "is not known to" not in said.err, f"{name} --{option}: {said.err}"


@fact
def display_units_do_not_change_the_place():
    log = demo.copy("units")
    assert " lb" in log.ok("season", "2025").out
    assert " kg" in log.ok("season", "2025", "--units", "si").out
    assert " lb" in log.ok("season", "2025").out
    assert log.rows("place", "show")[0]["units"] == "us"
    log.ok("place", "set", "--units", "si")
    assert log.rows("place", "show")[0]["units"] == "si"
    assert " kg" in log.ok("season", "2025").out


@facts([
    ("--", ("--", "tree", "list")),
    ("a dash and a digit", ("enter", "-12 picked 3 lb")),
])
def what_looks_like_an_option_can_be_a_word(name, words):
    log = demo.copy("dash")
    log.ok("tree", "add", "-12", "--species", "apple")
    log.ok(*words)


@fact
def no_terminal_is_said_when_the_screens_are_asked():
    said = run("--log", demo.path)
    assert said.status == 2, said.status
    assert_one_line(said.err)


main()
