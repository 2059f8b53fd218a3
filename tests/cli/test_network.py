#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""A log in a network folder is told of, once at each opening for writing, and never refused. The
system's answer about the folder is put in the program's way: a library preloaded with a statfs of
its own, so that no such folder is needed."""
import os
import pty
import select
import subprocess
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "..", "support"))
from cli import PROGRAM, TODAY, assert_one_line, demo_log, fact, main, run, scratch, write

STATFS = """
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <sys/vfs.h>

int statfs(const char *path, struct statfs *out)
{
	int (*real)(const char *, struct statfs *) = dlsym(RTLD_NEXT, "statfs");
	int done = real(path, out);
	out->f_type = strtol(getenv("STATFS_TYPE"), NULL, 16);
	return done;
}
"""
LIBRARY = os.path.join(scratch, "statfs.so")
subprocess.run(["cc", "-shared", "-fPIC", "-o", LIBRARY, write("statfs.c", STATFS), "-ldl"],
               check=True)
NFS, FUSE, EXT4 = "6969", "65735546", "EF53"
SENTENCE = "the log is on a network folder (NFS): use it in one place at a time"

log = demo_log("network")


def beside(kind):
    # the sanitizers want to be first, and are told that they need not
    options = os.environ.get("ASAN_OPTIONS", "") + ":verify_asan_link_order=0"
    return {"LD_PRELOAD": LIBRARY, "STATFS_TYPE": kind, "ASAN_OPTIONS": options}


def on(kind, *words, stdin=None):
    return run("--log", log.path, "--today", TODAY, *words, stdin=stdin, env=beside(kind))


@fact
def a_command_that_saves_says_it_and_saves():
    before = log.ok("export", "picks", "-").out.count("\n")
    said = on(NFS, "enter", "A1", "picked", "2", "lb")
    assert said.status == 0 and "picked 2 lb" in said.out, said.out + said.err
    assert_one_line(said.err)
    assert said.err == f"boughbook: {SENTENCE}\n", said.err
    assert log.ok("export", "picks", "-").out.count("\n") == before + 1


@fact
def a_new_log_is_told_of_too():
    path = os.path.join(scratch, "fresh.bough")
    said = run("--log", path, "new", "--name", "Hill yard", env=beside(NFS))
    assert said.status == 0 and SENTENCE in said.err and os.path.exists(path)


@fact
def looking_at_it_says_nothing_and_its_data_stay_clean():
    for words in (("tree", "list"), ("export", "picks", "-"), ("verify",)):
        said = on(NFS, *words)
        assert said.status == 0 and said.err == "" and "network" not in said.out, words


@fact
def what_is_only_perhaps_a_network_is_called_so():
    assert "may be on a network folder (FUSE)" in on(FUSE, "enter", "A1", "picked", "1", "lb").err


@fact
def a_disk_of_this_computer_is_none():
    assert on(EXT4, "enter", "A1", "picked", "1", "lb").err == ""
    assert log.ok("enter", "A1", "picked", "1", "lb").err == ""


@fact
def the_screens_in_plain_words_say_it_once():
    said = on(NFS, "--plain", stdin="quit\n")
    assert said.status == 0 and said.out.count("network folder") == 1, said.out
    assert "network folder" not in on(EXT4, "--plain", stdin="quit\n").out


@fact
def the_screens_say_it_once_on_their_line_of_messages():
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(beside(NFS), TERM="xterm-256color")
        os.execv(PROGRAM, [PROGRAM, "--log", log.path, "--today", TODAY])
    shown, until = b"", time.monotonic() + 30
    while SENTENCE.encode() not in shown and time.monotonic() < until:
        if select.select([terminal], [], [], 1)[0]:
            shown += os.read(terminal, 65536)
    assert SENTENCE.encode() in shown, shown[-600:]
    os.write(terminal, b"q")
    while True:
        try:
            more = os.read(terminal, 65536)
        except OSError:
            break
        if not more:
            break
        shown += more
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    assert shown.count(b"network folder") == 1


main()
