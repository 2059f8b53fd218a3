# SPDX-License-Identifier: MIT
"""Files that are no log, damaged, locked, not to be written, on a full disk: whatever is done
with them, exit status 3, one sentence that names the file, and not a byte lost or left over."""
import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import threading
import time

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

READING = [
    ("review",), ("review", "--tree", "A1"), ("ask", "A1", "cut", "shape", "20%"),
    ("season",), ("season", "2025", "--format", "csv"), ("history",), ("history", "A1"),
    ("find", "loquat"), ("dose", "A1"), ("verify",), ("place", "show"), ("tree", "list"),
    ("tree", "show", "A1", "--format", "json"), ("entry", "list", "A1"), ("plan", "list"),
    ("spot", "list"), ("area", "list"), ("obstacle", "list"), ("route", "show"),
    ("product", "list"), ("container", "list"), ("own", "list"), ("export", "entries", "-"),
]
WRITING = [
    ("enter", "A1", "picked", "3", "lb"), ("enter", "-"), ("undo",), ("redo",),
    ("tree", "add", "Z1"), ("spot", "add", "Z1"), ("area", "add", "Z1"),
    ("plan", "A1", "prune", "@", "may", "2027"), ("place", "set", "--name", "Here"),
    ("rule", "off", "girth-stale"), ("put-off", "A1", "girth-stale"),
    ("import", "trees", os.path.join(DATA, "no.csv"), "--columns", "label=Tree"),
]
BACKUP = ("backup",)

FEW = READING[:1] + WRITING[:1] + [BACKUP]

demo = demo_log("demo")
with sqlite3.connect(demo.path) as log:
    log.execute("VACUUM")  # every page holds something
log.close()
sound = demo.bytes()
PAGE = int.from_bytes(sound[16:18], "big")


def folder(name):
    path = os.path.join(scratch, name)
    os.mkdir(path)
    return path


def place(name, content):
    """A file in a folder of its own."""
    path = os.path.join(folder(name), "yard.bough")
    with open(path, "wb") as file:
        file.write(content)
    return path


def picture(path):
    """Everything in a folder: names, bytes, modes, times."""
    seen = {}
    for here, folders, files in os.walk(path):
        seen[here] = (sorted(folders), sorted(files))
        for name in files:
            one = os.path.join(here, name)
            about = os.lstat(one)
            content = None
            if stat.S_ISLNK(about.st_mode):
                content = os.readlink(one)
            elif stat.S_ISREG(about.st_mode):
                with open(one, "rb") as file:
                    content = file.read()
            seen[one] = (about.st_mode, about.st_size, about.st_mtime_ns, content)
    return seen


def call(path, *words, **more):
    return run("--log", path, "--today", TODAY, *words, stdin="A1 picked 3 lb\nA2 fed\n", **more)


def assert_refused(said, name, words):
    assert said.status == 3, f"{words}: exit {said.status}: {said.err}{said.out}"
    assert_one_line(said.err)
    assert name in said.err, f"{words}: '{name}' is not named: {said.err}"


def refuses(path, words, says=(), **more):
    """Refused, and the folder is as it was."""
    before = picture(os.path.dirname(path))
    said = call(path, *words, **more)
    assert_refused(said, os.path.basename(path), words)
    assert said.out == "", f"{words}: {said.out}"
    for part in [says] if isinstance(says, str) else says:
        assert part in said.err, f"{words}: no '{part}' in: {said.err}"
    assert picture(os.path.dirname(path)) == before, f"{words}: the folder changed"
    return said


def assert_holds(path, more):
    """A sound log with the entries of the demo yard and so many more."""
    said = call(path, "verify")
    assert said.status == 0 and said.out.count("sound") == 1, said.out
    held = call(path, "entry", "list", "--format", "csv").table()
    whole = demo.table("entry", "list")
    assert len(held) == len(whole) + more, f"{len(held)} of {len(whole)} and {more}"
    assert [row for row in held if row in whole] == whole


def changed(name, sql):
    log = demo.copy(name)
    with sqlite3.connect(log.path) as other:
        other.executescript(sql)
    other.close()
    return log.bytes()


def flipped(*ranges):
    content = bytearray(sound)
    for first, length in ranges:
        for at in range(first, first + length):
            content[at] ^= 0xFF
    return bytes(content)


# --- no log at all ---

@facts([
    ("words", b"3 lb from A1, a good year\n" * 40, "is not a log of this program"),
    ("an_empty_file", b"", "is empty (0 bytes)"),
    ("one_byte", b"S", "is not a log of this program"),
    ("zeros", bytes(8192), "is not a log of this program"),
    ("a_newer_schema", changed("a", "PRAGMA user_version = 99"), ["newer version", "schema is 99"]),
    ("a_schema_that_never_was", changed("b", "PRAGMA user_version = 0"), "never was"),
    ("a_database_of_another_program", changed("c", "PRAGMA application_id = 77"),
     "database of another program"),
    ("a_table_that_is_missing", changed("d", "DROP TABLE draft"), "yard.bough"),
    ("a_header_without_its_first_letter", flipped((0, 1)), "is not a log of this program"),
    ("a_page_size_of_no_kind", flipped((16, 2)), "is not a log of this program"),
    ("a_page_count_too_great", flipped((28, 4)), "is damaged"),
    ("tables_that_cannot_be_read", flipped((100, 8)), "is damaged"),
    ("the_first_100_bytes", sound[:100], "yard.bough"),
    ("less_than_a_header", sound[:60], "yard.bough"),
    ("the_first_page", sound[:PAGE], "is damaged"),
    ("a_page_and_a_bit", sound[:PAGE + 904], "is damaged"),
    ("the_first_half", sound[:len(sound) // 2], "is damaged"),
    ("all_but_the_last_page", sound[:-PAGE], "is damaged"),
])
def what_is_no_sound_log_is_left_as_it_is(name, content, says):
    path = place(name, content)
    for words in FEW:
        refuses(path, words, says)


@facts([
    ("a_newer_schema", changed("e", "PRAGMA user_version = 99")),
    ("the_first_half", sound[:len(sound) // 2]),
])
def every_command_refuses(name, content):
    path = place("every-" + name, content)
    for words in READING + WRITING + [BACKUP]:
        refuses(path, words)


@fact
def a_folder_is_no_log():
    path = os.path.join(folder("in-folder"), "yard.bough")
    os.mkdir(path)
    for words in FEW + [("backup", "--restore", demo.path)]:
        refuses(path, words, "folder")


@fact
def a_log_that_is_not_there_is_not_made():
    path = os.path.join(folder("missing"), "yard.bough")
    for words in READING[::4] + WRITING[::4] + [BACKUP]:
        refuses(path, words, ["there is no log at", "boughbook new"])


@fact
def a_folder_that_is_not_there_is_not_made():
    path = os.path.join(folder("nowhere"), "deep/yard.bough")
    for words in FEW + [("backup", "--restore", demo.path)]:
        said = call(path, *words)
        assert_refused(said, "deep", words)
        assert os.listdir(os.path.dirname(os.path.dirname(path))) == []


@fact
def pipes_and_devices_are_refused_without_waiting():
    path = os.path.join(folder("pipe"), "yard.bough")
    os.mkfifo(path)
    for words in READING[:3] + WRITING[:2] + [BACKUP]:
        refuses(path, words, "not an ordinary file")
    assert_refused(call("/dev/null", "review"), "/dev/null", "review")


@fact
def links_to_nothing_and_to_themselves_are_refused():
    for name, target in [("dangling", "gone"), ("loop", "yard.bough")]:
        path = os.path.join(folder(name), "yard.bough")
        os.symlink(target, path)
        for words in READING[:3] + WRITING[:2] + [BACKUP]:
            refuses(path, words)


# --- damage inside ---

PAGES = range(1, len(sound) // PAGE, max(1, len(sound) // PAGE // 12))


@facts([(f"page {page + 1}", page) for page in PAGES])
def a_page_written_over_is_never_called_sound(name, page):
    path = place(f"page-{page}", flipped((page * PAGE, 16)))
    before = picture(os.path.dirname(path))
    said = call(path, "verify")
    assert said.status in (1, 3) and "sound" not in said.out, said.out
    assert "damage" in (said.out + said.err).lower(), said.out + said.err
    for words in READING[::8]:
        said = call(path, *words)
        if said.status not in (0, 1):
            assert_refused(said, "yard.bough", words)
    refuses(path, BACKUP, "is damaged")
    assert picture(os.path.dirname(path)) == before


@facts([(f"page {page + 1}", page) for page in PAGES[::2]])
def an_entry_into_a_damaged_log_is_whole_or_not_there(name, page):
    path = place(f"enter-{page}", flipped((page * PAGE, 16)))
    before = picture(os.path.dirname(path))
    said = call(path, "enter", "A1", "picked", "3", "lb")
    if said.status == 0:
        found = call(path, "entry", "list", "A1")
        assert "3 lb" in found.out or found.status == 3
    else:
        assert_refused(said, "yard.bough", "enter")
        assert picture(os.path.dirname(path)) == before


@fact
def a_byte_of_the_header_changed_loses_nothing():
    """Each is either refused or of no weight: an entry logged then is whole, and no less sound."""
    path = place("header", sound)
    for at in [*range(0, 100, 7), 18, 19, 21, 28, 44, 47, 52, 55, 59, 60, 71, 92, 95]:
        with open(path, "wb") as file:
            file.write(flipped((at, 1)))
        before = picture(os.path.dirname(path))
        said = call(path, "enter", "A1", "picked", "3", "lb")
        if said.status != 0:
            assert_refused(said, "yard.bough", f"byte {at}")
            assert picture(os.path.dirname(path)) == before, f"byte {at}"
            continue
        said = call(path, "verify")
        assert said.status == 0, f"byte {at}: {said.out}{said.err}"


@fact
def the_way_to_the_newest_good_copy_is_told():
    path = place("way-back", sound)
    made = " ".join(call(path, *BACKUP).out.split()).split(": ")[0]
    for content in [b"", b"nothing " * 99, sound[:len(sound) // 2], flipped((16, 2))]:
        with open(path, "wb") as file:
            file.write(content)
        for words in [("review",), ("enter", "A1", "picked", "3", "lb")]:
            refuses(path, words, f"boughbook backup --restore {made}")
    with open(path, "wb") as file:
        file.write(flipped((PAGE, 16)))
    said = call(path, "verify")
    assert said.status == 1 and f"backup --restore {made}" in " ".join(said.out.split())
    os.remove(path)
    refuses(path, ("review",), f"boughbook backup --restore {made}")
    assert call(path, "backup", "--restore", made).status == 0
    assert_holds(path, 0)


@fact
def a_damaged_log_without_a_copy_says_so():
    path = place("no-way-back", flipped((PAGE, 16)))
    assert "no good copy lies beside" in call(path, "verify").out


# --- what may not be written ---

@facts([
    ("a_read_only_file", 0o444, 0o777, "is read-only"),
    ("a_read_only_folder", 0o666, 0o555, "the folder of"),
    ("both", 0o444, 0o555, "is read-only"),
])
def what_may_not_be_written_can_be_read(name, mode, folder_mode, says):
    path = place(name, sound)
    with as_another(path, mode, folder_mode) as how:
        before = picture(os.path.dirname(path))
        for words in READING[::4]:
            said = call(path, *words, **how)
            assert said.status in (0, 1) and said.err == "", f"{words}: {said.status} {said.err}"
            assert said.out == call(demo.path, *words).out, words
        assert picture(os.path.dirname(path)) == before
        for words in WRITING[::4] + [BACKUP]:
            refuses(path, words, says, **how)


@fact
def a_file_that_may_not_be_read_is_told():
    path = place("secret", sound)
    with as_another(path, 0o600 if ROOT else 0o000, 0o777) as how:
        for words in READING[:3] + WRITING[:2] + [BACKUP]:
            said = call(path, *words, **how)
            assert_refused(said, "yard.bough", words)
            assert "no permission to read" in said.err
        assert os.listdir(os.path.dirname(path)) == ["yard.bough"]
    os.chmod(path, 0o600)
    with open(path, "rb") as file:
        assert file.read() == sound


@fact
def nothing_is_made_in_a_folder_that_may_not_be_written():
    path = place("made", sound)
    there = os.path.dirname(path)
    new = os.path.join(there, "other.csv")
    with as_another(path, 0o444, 0o555) as how:
        before = picture(there)
        for log, words in [(path, ("export", "trees", new)), (path, ("demo", new)),
                           (new, ("new", "--name", "Here")), (new, ("backup", "--restore", path))]:
            assert_refused(call(log, *words, **how), "other.csv", words)
        assert picture(there) == before


# --- a full disk ---

class Disk:
    """A small file system with a log on it and room for nothing more."""

    def __init__(self, name):
        if not ROOT:
            raise Skip("a file system of a set size can only be made by root")
        self.top = folder(name)
        self.path = os.path.join(self.top, "yard.bough")
        made = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={len(sound) + 400000},mode=755",
                               "tmpfs", self.top], capture_output=True)
        if made.returncode != 0:
            raise Skip("no file system can be mounted here")

    def fill(self):
        with open(os.path.join(self.top, "filling"), "wb", buffering=0) as file:
            try:
                while True:
                    file.write(bytes(4096))
            except OSError:
                pass

    def __enter__(self):
        shutil.copyfile(demo.path, self.path)
        self.fill()
        return self

    def __exit__(self, *what):
        subprocess.run(["umount", self.top], check=True)


@fact
def on_a_full_disk_all_can_be_read_and_nothing_is_half_saved():
    with Disk("full") as disk:
        for words in READING[::3]:
            said = call(disk.path, *words)
            assert said.status in (0, 1) and said.err == "", f"{words}: {said.err}"
        for words in WRITING[:11]:
            if words[0] not in ("redo", "put-off"):
                refuses(disk.path, words, "the disk is full")
        refuses(disk.path, BACKUP, ["the disk is full", ".backups/"])
        said = refuses(disk.path, ("backup", "--restore", demo.path), "the disk is full")
        assert ".restored-" not in said.err and ".new-" not in said.err, said.err
        before = picture(disk.top)
        other = os.path.join(disk.top, "other")
        for words in [("export", "entries", other), ("demo", other)]:
            said = call(disk.path, *words)
            assert_refused(said, "other", words)
            assert ".new-" not in said.err, said.err
        said = call(other, "new", "--name", "Here")
        assert_refused(said, "other", "new")
        assert picture(disk.top) == before
        os.remove(os.path.join(disk.top, "filling"))
        assert call(disk.path, "enter", "A1", "picked", "3", "lb").status == 0
        assert_holds(disk.path, 1)


@fact
def a_file_that_may_not_grow_takes_no_half_entry():
    path = place("limit", sound)
    lines = "".join(f"A1 picked {n} lb ; {'a good pick ' * 30}\n" for n in range(1, 200))
    said = run("--log", path, "--today", TODAY, "enter", "-", stdin=lines,
               before=("bash", "-c", f"trap '' XFSZ; ulimit -f {len(sound) // 1024 + 8}; "
                       "exec \"$@\"", "limit"))
    assert_refused(said, "yard.bough", "enter")
    with open(path, "rb") as file:
        assert file.read() == sound
    assert os.listdir(os.path.dirname(path)) == ["yard.bough"]
    assert run("--log", path, "--today", TODAY, "enter", "-", stdin=lines).status == 0


@fact
def an_output_that_cannot_be_written_exits_3():
    for words in [("review",), ("tree", "list", "--format", "json"), ("export", "picks", "-"),
                  ("history",), ("help",)]:
        with open("/dev/full", "wb") as full:
            done = subprocess.run([PROGRAM, "--log", demo.path, "--today", TODAY, *words],
                                  stdout=full, stderr=subprocess.PIPE, timeout=60)
        assert done.returncode == 3, f"{words}: exit {done.returncode}"
        assert_one_line(done.stderr.decode())


# --- in use by another program ---

def begin(name, lock):
    """A log that another connection has locked."""
    path = place(name, sound)
    other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
    other.execute("BEGIN " + lock)
    return path, other


def all_at_once(calls):
    """Runs them side by side; what was called, the answer and the seconds of each."""
    answers = []

    def one(path, words):
        start = time.monotonic()
        said = call(path, *words)
        answers.append((words, said, time.monotonic() - start))

    threads = [threading.Thread(target=one, args=each) for each in calls]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return answers


@fact
def a_log_in_use_is_waited_for_and_then_told():
    saving, one = begin("saving", "IMMEDIATE")
    whole, two = begin("whole", "EXCLUSIVE")
    for words in READING[:2] + [("verify",)]:
        assert call(saving, *words).status == 0, words  # looking disturbs nobody
    writing = [each for each in WRITING[:7] if each != ("redo",)]
    answers = all_at_once(
        [(saving, words) for words in writing + [("backup", "--restore", demo.path)]] +
        [(whole, words) for words in READING[:2] + WRITING[:1] + [BACKUP, ("verify",)]])
    assert len(answers) == 12
    for words, said, seconds in answers:
        assert_refused(said, "yard.bough", words)
        assert "in use by another program" in said.err, said.err
        assert 2.5 < seconds < 20, f"{words}: {seconds} s"
    for path, other in [(saving, one), (whole, two)]:
        other.execute("ROLLBACK")
        other.close()
        with open(path, "rb") as file:
            assert file.read() == sound
        assert os.listdir(os.path.dirname(path)) == ["yard.bough"]
        assert call(path, "enter", "A1", "picked", "3", "lb").status == 0


@fact
def a_short_lock_is_waited_out():
    path, other = begin("short", "IMMEDIATE")
    release = threading.Timer(0.3, lambda: (other.execute("ROLLBACK"), other.close()))
    release.start()
    said = call(path, "enter", "A1", "picked", "3", "lb")
    release.join()
    assert said.status == 0, said.err


# --- names ---

@fact
def a_symbolic_link_is_followed_and_stays():
    path = place("linked", sound)
    link = os.path.join(folder("links"), "link.bough")
    os.symlink("../linked/yard.bough", link)
    assert call(link, "enter", "A1", "picked", "3", "lb").status == 0
    said = call(link, "backup")
    assert said.status == 0 and "/linked/yard.bough.backups/" in said.out, said.out
    assert os.listdir(os.path.dirname(link)) == ["link.bough"] and os.path.islink(link)
    assert_holds(path, 1)
    assert call(link, "backup", "--restore", demo.path).status == 0
    assert os.path.islink(link)
    assert_holds(path, 0)


@fact
def a_log_of_two_names_is_read_but_not_written():
    path = place("two-names", sound)
    os.link(path, os.path.join(os.path.dirname(path), "second.bough"))
    for words in READING[:4]:
        assert call(path, *words).status in (0, 1), words
    for words in WRITING[::2] + [BACKUP]:
        refuses(path, words, "2 names")


main()
