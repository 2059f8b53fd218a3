# SPDX-License-Identifier: MIT
"""Commands killed at any moment: an import, a backup, a restore, an export over a file that is there.
Before or after, never between; and once more they go through. Slow because it starts and kills
many times; KILL_ROUNDS= in the environment asks for more."""
import os
import random
import signal
import subprocess
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

ROUNDS = int(os.environ.get("KILL_ROUNDS", "20"))
dice = random.Random(int(os.environ.get("SEED", "7")))
demo = demo_log("demo")
ROWS = 400
PICKS = write("picks.csv", "Tree,Day,Amount\n" + "".join(
    f"A{n % 2 + 1},{2000 + n % 20}-0{n % 9 + 1}-{n % 17 + 10},{n % 30 + 1}\n" for n in range(ROWS)))
IMPORT = ("import", "picks", PICKS, "--columns", "tree=Tree,day=Day,amount=Amount", "--unit", "lb")


def seconds_of(log, words):
    start = time.monotonic()
    log.ok(*words)
    return time.monotonic() - start


def killed(log, words, most):
    """Runs it and kills it somewhere; did it get to its end?"""
    child = subprocess.Popen([PROGRAM, "--log", log.path, "--today", TODAY, *words],
                             stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                             stderr=subprocess.DEVNULL)
    time.sleep(dice.random() * most)
    child.send_signal(signal.SIGKILL)
    return child.wait() == 0


def entries(log):
    return len(log.rows("entry", "list"))


@fact
def a_killed_import_is_whole_or_not_there_and_goes_through_again():
    before = entries(demo)
    most = seconds_of(demo.copy("timed"), IMPORT) * 1.1
    seen = set()
    for _ in range(ROUNDS):
        log = demo.copy("import")
        done = killed(log, IMPORT, most)
        held = entries(log)
        assert held in (before, before + ROWS), f"{held} entries of {before} and {ROWS}"
        assert not done or held == before + ROWS
        seen.add((done, held))
        again = log.ok(*IMPORT).out
        assert (f"{ROWS} new" if held == before else "\n0 new") in "\n" + again, again
        assert entries(log) == before + ROWS
        assert log.ok("verify").out.count("sound") == 1
    assert any(held == before for _, held in seen), "none was killed in time"


@fact
def a_killed_backup_is_no_backup_and_harms_none():
    log = demo.copy("backup")
    most = seconds_of(log, ("backup",)) * 1.1
    folder = log.path + ".backups"
    first = os.listdir(folder)
    assert len(first) == 1
    good = open(os.path.join(folder, first[0]), "rb").read()
    made = 0
    for _ in range(ROUNDS):
        time.sleep(1.01 - time.time() % 1)  # they are named after the second
        done = killed(log, ("backup",), most)
        fresh = [name for name in os.listdir(folder)
                 if name.endswith(".bough") and name not in first]
        assert not done or len(fresh) == 1
        for name in fresh:  # what bears the name of a copy is one, and private
            path = os.path.join(folder, name)
            assert run("--log", path, "verify").status == 0, name
            assert os.stat(path).st_mode & 0o777 == 0o600
            os.remove(path)
        made += len(fresh)
    assert made < ROUNDS, "none was killed in time"
    assert open(os.path.join(folder, first[0]), "rb").read() == good
    assert log.ok("verify").out.count("sound") == 1


@fact
def a_killed_restore_leaves_the_one_or_the_other():
    log = demo.copy("restore")
    log.ok("backup")
    folder = log.path + ".backups"
    copy = os.path.join(folder, os.listdir(folder)[0])
    log.ok("enter", "A1", "picked", "3", "lb")
    before, after = entries(log), entries(demo)
    assert before == after + 1
    later = log.bytes()
    most = seconds_of(log, ("backup", "--restore", copy)) * 1.1
    for _ in range(ROUNDS):
        with open(log.path, "wb") as file:
            file.write(later)
        done = killed(log, ("backup", "--restore", copy), most)
        held = entries(log)
        assert held in (before, after) and (not done or held == after), held
        assert log.ok("verify").out.count("sound") == 1


@fact
def a_killed_export_leaves_the_old_file_or_the_new_one():
    path = os.path.join(scratch, "out", "entries.csv")
    os.mkdir(os.path.dirname(path))
    old = b"what stood there before\n" * 400
    new = demo.ok("export", "entries", "-").bytes
    words = ("export", "entries", path)
    most = seconds_of(demo, words) * 1.1
    seen = set()
    for _ in range(ROUNDS):
        with open(path, "wb") as file:
            file.write(old)
        done = killed(demo, words, most)
        with open(path, "rb") as file:
            held = file.read()
        assert held in (old, new), held[:80]
        assert not done or held == new
        seen.add(held == new)
    for name in os.listdir(os.path.dirname(path)):  # half files, as if of the day before
        os.utime(os.path.join(os.path.dirname(path), name), (0, 0))
    demo.ok(*words)
    with open(path, "rb") as file:
        assert file.read() == new
    assert os.listdir(os.path.dirname(path)) == ["entries.csv"]
    assert False in seen, "none was killed in time"


main()
