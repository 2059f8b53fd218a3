# SPDX-License-Identifier: MIT
"""The thirty faults of thirty.tsv and those of the log file in log_faults.tsv, each with a test: fails
when a number has none, and when a test that is named is not there or is not run."""
import os
import re
import sys

sys.path.insert(0, os.path.dirname(__file__))
from cli import *

TESTS = os.path.join(SOURCE, "tests")


TABLES = {"thirty.tsv": 30, "log_faults.tsv": 34}


def table(name):
    with open(os.path.join(TESTS, "support", name), encoding="utf-8") as file:
        lines = [line.rstrip("\n").split("\t") for line in file if not line.startswith("#")]
    assert lines[0] == ["number", "what must hold", "file", "tests"]
    return lines[1:]


def is_run(text, name):
    """A fact of Python, a test of cmocka, what a table of cases is run by, or a case of one."""
    return any(re.search(pattern, text, re.M | re.S) for pattern in (
        rf"^@facts?\b(?:(?!^def ).)*^def {name}\(", rf"_TEST\w*\(\s*{name}\b",
        rf"\b(?:cmocka_unit_test\w*|IN_[A-Z]+)\(\s*{name}\b", rf"RUN_CASES\([^;]*\b{name}\)",
        rf'\{{(\.name = )?"{name}"', rf"replay_corpus\([^;]*\b{name}\)",
        rf"test_func = {name}\b"))


@facts(list(TABLES.items()))
def each_of_them_has_a_test(name, count):
    numbers = {int(row[0]) for row in table(name)}
    assert numbers == set(range(1, count + 1)), sorted(set(range(1, count + 1)) ^ numbers)


@facts([(f"{row[0]} of {name} in {row[2]}", row) for name in TABLES for row in table(name)])
def the_tests_named_are_run(name, row):
    with open(os.path.join(TESTS, row[2]), encoding="utf-8") as file:
        text = file.read()
    assert row[1] != "" and row[3] != ""
    for test in row[3].split():
        assert is_run(text, test), f"{row[2]} runs no {test}"


main()
