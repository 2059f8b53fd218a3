# SPDX-License-Identifier: MIT
"""The built program from outside: output, standard error, exit status.

A test file puts this folder on its path, marks its functions with @fact (or @facts(rows), one
fact a row) and ends with main(). Each fact that returns without an AssertionError is passed; the
closing line is the one the runner reads. Logs lie in memory where the machine has such a place.
"""
import contextlib
import csv
import io
import json
import os
import shutil
import subprocess
import sys
import tempfile
import traceback

TODAY = "2026-11-24"
SOURCE = os.environ.get("BOUGHBOOK_SOURCE", os.getcwd())
PROGRAM = os.environ.get("BOUGHBOOK_BIN", os.path.join(SOURCE, "build/boughbook"))
DATA = os.path.join(SOURCE, "tests/data")
ROOT = os.geteuid() == 0
NOBODY = ("setpriv", "--reuid=65534", "--regid=65534", "--clear-groups")

_room = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
scratch = tempfile.mkdtemp(prefix="boughbook-cli.", dir=_room)
_facts = []
_skipped = []


class Answer:
    """What one run of the program said."""

    def __init__(self, done):
        self.status = done.returncode
        self.bytes = done.stdout
        self.out = done.stdout.decode("utf-8", "replace")
        self.err = done.stderr.decode("utf-8", "replace")

    def rows(self):
        return json.loads(self.out)

    def table(self):
        return list(csv.DictReader(io.StringIO(self.out)))


class Log:
    """A log file of its own; call it with the words of a command."""

    def __init__(self, name, today=TODAY):
        self.path = os.path.join(scratch, name + ".bough")
        self.today = today

    def __call__(self, *words, stdin=None, **more):
        return run("--log", self.path, "--today", self.today, *words, stdin=stdin, **more)

    def ok(self, *words, stdin=None):
        """The same, and it has to go well."""
        said = self(*words, stdin=stdin)
        assert said.status == 0, f"{words}: exit {said.status}: {said.err}{said.out}"
        assert said.err == "", f"{words}: {said.err}"
        return said

    def no(self, status, *words, says=(), stdin=None):
        """It fails with this status, one line on standard error, and says these words."""
        said = self(*words, stdin=stdin)
        assert said.status == status, f"{words}: exit {said.status}, not {status}: {said.err}"
        assert_one_line(said.err)
        for part in [says] if isinstance(says, str) else says:
            assert part in said.err, f"{words}: no '{part}' in: {said.err}"
        return said

    def rows(self, *words):
        return self.ok(*words, "--format", "json").rows()

    def table(self, *words):
        return self.ok(*words, "--format", "csv").table()

    def copy(self, name):
        other = Log(name, self.today)
        shutil.copyfile(self.path, other.path)
        return other

    def bytes(self):
        with open(self.path, "rb") as file:
            return file.read()


def run(*words, stdin=None, env=None, cwd=None, program=None, before=()):
    """before: words of a command that runs the program (setpriv)."""
    if isinstance(stdin, str):
        stdin = stdin.encode("utf-8")
    done = subprocess.run([*before, program or PROGRAM, *words], input=stdin or b"",
                          capture_output=True, timeout=60, cwd=cwd,
                          env=dict(os.environ, **env) if env else None)
    return Answer(done)


def assert_one_line(err):
    assert err.startswith("boughbook: ") and err.endswith("\n"), f"no clear sentence: {err!r}"
    assert err.count("\n") == 1, f"more than one line: {err!r}"


def new_log(name, *options, today=TODAY):
    log = Log(name, today)
    log.ok("new", "--name", "Hill yard", *options)
    return log


def demo_log(name, today=TODAY):
    log = Log(name, today)
    said = run("demo", log.path, "--today", today)
    assert said.status == 0, said.err
    return log


@contextlib.contextmanager
def as_another(path, mode, folder_mode):
    """How the program is run, `**how` of run(), by somebody who may not write there; the premise is
    looked at. Who is not root is that somebody. The log lies in a folder of its own."""
    os.chmod(scratch, 0o755)
    os.chmod(path, mode)
    os.chmod(os.path.dirname(path), folder_mode)
    other = os.path.join(scratch, "program")
    if not os.path.exists(other):
        shutil.copy(PROGRAM, other)
        shutil.copytree(os.path.join(SOURCE, "share/almanac"), os.path.join(scratch, "almanac"))
    before = NOBODY if ROOT else ()

    def may(what, where):
        return subprocess.run([*before, "test", what, where]).returncode == 0

    assert may("-x", other) and may("-x", os.path.dirname(path)), "cannot be run there"
    assert may("-r", path) == bool(mode & 0o004)
    assert may("-w", path) == bool(mode & 0o002)
    assert may("-w", os.path.dirname(path)) == bool(folder_mode & 0o002)
    yield {"before": before, "program": other,
           "env": {"BOUGHBOOK_ALMANAC": os.path.join(scratch, "almanac")}}
    os.chmod(os.path.dirname(path), 0o755)


def write(name, text):
    path = os.path.join(scratch, name)
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(text)
    return path


def fact(function):
    _facts.append((function.__name__, function, ()))
    return function


def facts(rows):
    """One fact a row; the first cell names it where there are several."""
    def mark(function):
        for row in rows:
            row = row if isinstance(row, tuple) else (row,)
            _facts.append((f"{function.__name__}: {row[0]}", function, row))
        return function
    return mark


class Skip(Exception):
    pass


def main():
    failed = passed = 0
    try:
        for name, function, row in _facts:
            try:
                function(*row)
                passed += 1
            except Skip as why:
                _skipped.append(name)
                print(f"skipped: {name}: {why}")
            except Exception:
                failed += 1
                print(f"FAILED: {name}")
                print(traceback.format_exc(limit=-3))
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    print(f"{passed} passed, {failed} failed, {len(_skipped)} skipped")
    sys.exit(1 if failed or not passed else 0)
