# SPDX-License-Identifier: MIT
"""What becomes of output that nobody can take: a full disk, a closed file, a reader that has gone.
Lost output is never called done, and nothing that is told gets into a file of data."""
import os
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
APART = [  # every command that answers with rows or a page
    ("help",), ("--help",), ("--version",), ("help", "tree"), ("rules",), ("almanac",),
    ("almanac", "fig"), ("almanac", "apple", "--cultivars"),
    ("volume", "mulch", "--across", "3ft", "--depth", "3in", "--gap", "6in"),
]
READING = [
    ("review",), ("review", "--all"), ("ask", "A1", "cut", "shape", "20%"), ("season",),
    ("history",), ("history", "A1"), ("find", "loquat"), ("dose", "A1"), ("water", "A1"),
    ("partners", "A1"), ("sun",), ("verify",), ("place", "show"), ("tree", "list"),
    ("tree", "show", "A1"), ("entry", "list", "A1"), ("plan", "list"), ("spot", "list"),
    ("area", "list", "--format", "json"), ("obstacle", "list"), ("route", "show"), ("product", "list"),
    ("container", "list"), ("own", "list"), ("weather", "show"),
    ("export", "entries", "-"), ("export", "trees", "-"), ("export", "picks", "-"),
    ("export", "flags", "-"), ("tree", "list", "--format", "json"),
    ("entry", "list", "--format", "csv"),
]
WRITING = [("enter", "A1", "picked", "3", "lb"), ("undo",), ("area", "add", "Z1"),
           ("tree", "add", "Z1", "--species", "fig"), ("backup",)]


def words_of(log, words):
    return [PROGRAM, "--log", log.path, "--today", TODAY, *words]


def shell(script, log, words):
    """A shell runs the command as "$@" the way the script says."""
    return subprocess.run(["bash", "-c", script, "shell", *words_of(log, words)],
                          capture_output=True, timeout=60, stdin=subprocess.DEVNULL)


def is_told(done, words):
    assert done.returncode == 3, f"{words}: exit {done.returncode}: {done.stderr}"
    assert_one_line(done.stderr.decode())


@facts([(" ".join(words), words) for words in APART + READING])
def a_full_disk_at_the_output_is_told(name, words):
    is_told(shell('"$@" >/dev/full', demo, words), words)


@facts([(" ".join(words), words) for words in APART + READING])
def a_closed_output_is_told(name, words):
    is_told(shell('"$@" >&-', demo, words), words)


@facts([(" ".join(words), words) for words in APART[:5] + READING])
def a_reader_that_has_gone_is_no_failure_of_the_log(name, words):
    """Quiet, by the signal; and with that ignored an error, never done."""
    before = demo.bytes()
    done = shell('"$@" | head -c 1 >/dev/null; exit ${PIPESTATUS[0]}', demo, words)
    assert done.returncode in (0, 1, 141), f"exit {done.returncode}: {done.stderr}"
    assert done.stderr == b"", done.stderr
    done = shell('trap "" PIPE; "$@" | sleep 0; exit ${PIPESTATUS[0]}', demo, words)
    assert done.returncode in (0, 1, 3), f"exit {done.returncode}"
    assert demo.bytes() == before


@facts([(" ".join(words), words) for words in WRITING])
def what_was_saved_stays_saved_when_it_cannot_be_told(name, words):
    """And the exit says that it could not be told."""
    log = demo.copy("saved-" + words[0] + words[-1])
    before = log.rows("history")
    is_told(shell('"$@" >/dev/full', log, words), words)
    after = log.rows("history")
    assert (len(after) > len(before)) == (words != ("backup",)), (len(before), len(after))
    assert log.ok("verify").out.count("sound") == 1


CLOSED = [("nothing", ""), ("in", "<&-"), ("out", ">&-"), ("err", "2>&-"), ("in out", "<&- >&-"),
          ("in err", "<&- 2>&-"), ("out err", ">&- 2>&-"), ("all", "<&- >&- 2>&-")]


@facts(CLOSED)
def files_hold_their_data_alone_whatever_was_closed(name, closed):
    log = demo.copy("closed-" + name.replace(" ", "-"))
    path = os.path.join(scratch, "closed-" + name.replace(" ", "-") + ".csv")
    wanted = demo.ok("export", "entries", "-").bytes
    done = shell(f'"$@" {closed}', log, ("export", "entries", path))
    with open(path, "rb") as file:
        assert file.read() == wanted
    assert done.returncode in (0, 3), done.returncode
    for words in [("enter", "A1", "picked", "3", "lb"), ("backup",), ("import", "trees", path)]:
        shell(f'"$@" {closed}', log, words)
    assert log.ok("verify").out.count("sound") == 1
    assert len(log.rows("entry", "list")) == len(demo.rows("entry", "list")) + 1


@fact
def a_line_is_not_read_from_a_closed_input():
    log = demo.copy("closed-input")
    before = log.bytes()
    done = shell('"$@" <&-', log, ("enter", "-"))
    assert log.bytes() == before, done.stdout


@fact
def a_limit_on_file_size_is_an_error_and_no_signal():
    log = demo.copy("limited")
    before = log.bytes()
    path = os.path.join(scratch, "limited.csv")
    for words in [("export", "entries", path), ("enter", "A1", "picked", "3", "lb")]:
        is_told(shell('ulimit -f 4; "$@"', log, words), words)
    assert log.bytes() == before and not os.path.exists(path)


main()
