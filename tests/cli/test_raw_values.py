#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What another program writes into a log: the file itself refuses most of it, and of bytes that are
no text, which no database refuses, every command makes something that can be shown."""
import os
import sqlite3
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "..", "support"))
from cli import demo_log, fact, facts, main

demo = demo_log("raw")


def raw(log, statement, *values):
    with sqlite3.connect(log.path) as file:
        file.execute(statement, values)
    file.close()


@facts([
    ("text where a number stands", "UPDATE amount SET low = '12 kg' WHERE row = 1", ()),
    ("a number beyond 64 bits", "UPDATE amount SET low = '99999999999999999999' WHERE row = 1", ()),
    ("a broken number", "UPDATE amount SET low = 0.5 WHERE row = 1", ()),
    ("a label of no letters", "UPDATE tree SET label = '' WHERE row = 1", ()),
    ("a label of 41 letters", "UPDATE tree SET label = ? WHERE row = 1", ("x" * 41,)),
    ("two trees of one id", "UPDATE tree SET id = (SELECT id FROM tree WHERE row = 2) WHERE row = 1",
     ()),
    ("a truth that is neither", "UPDATE tree SET struck = 2 WHERE row = 1", ()),
])
def the_file_itself_refuses(name, statement, values):
    log = demo.copy("refuses")
    try:
        raw(log, statement, *values)
    except (sqlite3.IntegrityError, sqlite3.OperationalError):
        return
    raise AssertionError(f"{name}: taken")


COMMANDS = [("tree", "list"), ("tree", "show", "A1"), ("review", "--all"), ("season",), ("find", "a"),
            ("history",), ("verify",), ("export", "trees", "-"), ("export", "entries", "-"),
            ("export", "calendar", "-"), ("export", "plan", "-"), ("export", "report", "-"),
            ("export", "entries", "-", "--format", "json")]


@facts([("no UTF-8", "FF41C328"), ("a NUL in the midst", "6162006364"), ("escapes", "1B5D303B07C29B")])
def bytes_that_are_no_text_stop_no_command(name, value):
    log = demo.copy("bytes")
    for table, column in (("entry", "words"), ("entry", "note"), ("tree", "note"), ("place", "name"),
                          ("spot", "name"), ("change_set", "what")):
        raw(log, f"UPDATE {table} SET {column} = CAST(x'{value}' AS TEXT) WHERE row = 1")
    before = log.bytes()
    for words in COMMANDS:
        said = log(*words)
        assert said.status in (0, 1, 3), (words, said.status, said.err)
        text = (said.bytes + said.err.encode()).decode("utf-8")  # what comes out is text
        assert "\0" not in text, words
        assert words[0] == "export" or "\x1b" not in text, words  # a file holds what was typed
    assert log.bytes() == before


main()
