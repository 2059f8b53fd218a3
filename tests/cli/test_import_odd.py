# SPDX-License-Identifier: MIT
"""Files as they really come: of another encoding, cut off, damaged by a spreadsheet, far too large.
All of a file is taken or nothing, and what is wrong is named with its line and column."""
import os
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

TREES = ("import", "trees", "--columns", "label=Tree,species=Kind,note=Note")
PICKS = ("import", "picks", "--columns", "tree=Tree,day=Day,amount=Amount", "--unit", "lb")
WEATHER = ("weather", "import", "--columns", "day=Day,min=Min,max=Max", "--units", "si")
SECONDS = 20
MEMORY = 700 * 1024 * 1024
# AddressSanitizer asks for more room than there is: there the time alone is set.
LIMITED = () if "sanitize" in PROGRAM else ("prlimit", f"--as={MEMORY}", "--")

yard = new_log("yard", "--hemisphere", "north", "--units", "us")
yard.ok("tree", "add", "A1", "--species", "fig")


def bring(log, how, content):
    """An import of these bytes, within a time and a memory that are set."""
    path = os.path.join(scratch, "file.csv")
    with open(path, "wb") as file:
        file.write(content)
    start = time.monotonic()
    said = log(*how[:2], path, *how[2:], before=LIMITED)
    assert time.monotonic() - start < SECONDS, "too long"
    return said


def refused(how, content, says):
    """Not a byte of the log changes; each of the parts is said, on either stream."""
    before = yard.bytes()
    said = bring(yard, how, content)
    assert said.status in (2, 3), f"exit {said.status}: {said.out}{said.err}"
    assert_one_line(said.err)
    told = " ".join((said.out + said.err).split())
    for part in [says] if isinstance(says, str) else says:
        assert part in told, f"no '{part}' in: {told}"
    assert yard.bytes() == before
    return said


def taken(name, how, content, rows):
    log = yard.copy("taken-" + name)
    said = bring(log, how, content)
    assert said.status == 0, f"exit {said.status}: {said.out}{said.err}"
    assert f"\n{rows} new" in "\n" + said.out, said.out
    again = bring(log, how, content)
    assert again.status == 0 and "\n0 new" in "\n" + again.out, again.out + again.err
    return log


HEAD = b"Tree,Kind,Note\n"


@facts([
    ("a_byte_order_mark", b"\xef\xbb\xbf" + HEAD + b"B1,fig,\n", 1),
    ("a_byte_order_mark_before_a_quote", b'\xef\xbb\xbf"Tree","Kind","Note"\nB1,fig,\n', 1),
    ("line_ends_of_windows", HEAD.replace(b"\n", b"\r\n") + b"B1,fig,\r\nB2,fig,\r\n", 2),
    ("line_ends_of_old_macs", b"Tree,Kind,Note\rB1,fig,\rB2,fig,", 2),
    ("mixed_line_ends", b"Tree,Kind,Note\r\nB1,fig,\rB2,fig,\nB3,fig,", 3),
    ("no_line_end_at_the_end", HEAD + b"B1,fig,x", 1),
    ("semicolons", b"Tree;Kind;Note\nB1;fig;a, b\n", 1),
    ("tabs", b"Tree\tKind\tNote\nB1\tfig\tx\n", 1),
    ("a_semicolon_inside_quotes", b'Tree,Kind,Note\nB1,fig,"a;b;c;d;e"\n', 1),
    ("blank_lines", b"\n\n" + HEAD + b"\n\nB1,fig,\n\n", 1),
    ("a_heading_of_other_capitals", b" TREE , kind,NOTE\nB1,fig,\n", 1),
    ("quotes_doubled", HEAD + b'B1,fig,"the ""old"" one"\n', 1),
    ("a_note_of_two_lines", HEAD + b'B1,fig,"one\r\ntwo"\nB2,fig,\n', 2),
    ("utf_16_little_end", ("\ufeff" + "Tree,Kind,Note\nB\u00e9,fig,\U0001f34e\n").encode("utf-16-le"), 1),
    ("utf_16_big_end", ("\ufeff" + "Tree,Kind,Note\nB\u00e9,fig,x\n").encode("utf-16-be"), 1),
    ("a_heading_alone", HEAD, 0),
    ("empty_cells_behind_a_row", HEAD + b"B1,fig,x,,\n", 1),
    ("a_column_that_nobody_asked_for", b"Tree,Kind,Note,\nB1,fig,,\n", 1),
])
def odd_but_clear_is_taken(name, content, rows):
    taken(name, TREES, content, rows)


@facts([
    ("nothing", b"", "no rows"),
    ("a_byte_order_mark_alone", b"\xef\xbb\xbf", "no rows"),
    ("a_quote_never_closed", HEAD + b'B1,fig,"open\n' + b"B2,fig,x\n" * 50, ["line 2", "column 8"]),
    ("words_after_a_quote", HEAD + b'B1,fig,"a"b\n', "line 2"),
    ("a_latin_letter", HEAD + b"B1,fig,\nB2,fig,caf\xe9\n", ["line 3", "latin1"]),
    ("japanese_of_another_code", HEAD + b"B1,fig,\x83\x5c\x82\xb1\n", "line 2"),
    ("a_nul_in_the_heading", b"Tree,Ki\0nd,Note\nB1,fig,\n", "line 1"),
    ("a_nul_in_a_cell", HEAD + b"B1,fig,a\0b\n", "line 2"),
    ("a_nul_in_quotes", HEAD + b'B1,fig,"a\0b"\n', "line 2"),
    ("a_nul_at_the_end", HEAD + b"B1,fig,x\n\0", "line 3"),
    ("utf_16_without_a_mark", HEAD.decode().encode("utf-16-le"), "line 1"),
    ("a_row_too_long_to_be_one", HEAD + b"B1,fig," + b"x" * 10_000_000 + b"\n", "line 2"),
    ("a_row_too_short", HEAD + b"B1,fig,x\nB2\n", ["line 3", "1 cell, where the heading names 3"]),
    ("a_row_too_long", HEAD + b"B1,fig,x,more\n", ["line 2", "4 cells, where the heading names 3"]),
    ("a_column_twice", b"Tree,Kind,Note,Kind\nB1,fig,x,apple\n", "Kind"),
    ("a_column_that_is_not_there", b"Tree,Note\nB1,x\n", "Kind"),
    ("binary", bytes(range(256)) * 40, ""),
    ("a_label_of_escapes", HEAD + b"B\x1b[31m1,fig,\n", "line 2"),
])
def what_is_broken_is_refused_whole(name, content, says):
    refused(TREES, content, says)


@facts([
    ("a_date_of_two_orders", b"Tree,Day,Amount\nA1,1/7/06,3\n", "line 2"),
    ("a_date_that_never_was", b"Tree,Day,Amount\nA1,2023-02-30,3\n", "line 2"),
    ("no_leap_day", b"Tree,Day,Amount\nA1,2023-02-29,3\n", "line 2"),
    ("a_number_of_a_spreadsheet", b"Tree,Day,Amount\nA1,2023-08-01,9.45E+12\n", "line 2"),
    ("a_number_beyond_all", b"Tree,Day,Amount\nA1,2023-08-01,99999999999999999999\n", "line 2"),
    ("a_number_that_could_be_two", b"Tree,Day,Amount\nA1,2023-08-01,\"1,234\"\n", "line 2"),
    ("less_than_nothing", b"Tree,Day,Amount\nA1,2023-08-01,-3\n", "line 2"),
    ("a_tree_nobody_knows", b"Tree,Day,Amount\nZZ9,2023-08-01,3\n", ["line 2", "ZZ9"]),
    ("the_last_of_many", b"Tree,Day,Amount\n" + b"A1,2023-08-01,3\n" * 300 + b"A1,never,3\n",
     "line 302"),
])
def damaged_picks_are_refused_by_line(name, content, says):
    refused(PICKS, content, says)


@fact
def a_file_larger_than_any_is_refused_in_bounded_time():
    """run() sets the time; and what memory it may take is set."""
    path = os.path.join(scratch, "huge.csv")
    with open(path, "wb") as file:
        file.write(HEAD)
        file.truncate(8 * 1024 * 1024 * 1024)
    before = yard.bytes()
    said = yard(*TREES[:2], path, *TREES[2:], before=LIMITED)
    assert said.status in (2, 3) and "line 2" in said.err, said.err
    assert yard.bytes() == before


@fact
def two_thousand_days_in_one_file_are_brought_in_one_act():
    rows = "".join(f"{1990 + n // 360}-{n // 30 % 12 + 1:02}-{n % 28 + 1:02},{n % 9},{n % 9 + 8}\n"
                   for n in range(0, 10_000, 5))
    seen = {row.split(",")[0]: row for row in rows.splitlines()}
    content = "Day,Min,Max\n" + "\n".join(seen.values()) + "\n"
    log = taken("days", WEATHER, content.encode(), len(seen))
    log.ok("undo")
    assert f"{len(seen)} new" in bring(log, WEATHER, content.encode()).out


main()
