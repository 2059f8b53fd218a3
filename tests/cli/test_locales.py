# SPDX-License-Identifier: MIT
"""The same log whatever the locale and the time zone of the machine: numbers are read and written
one way, days are days, and today alone depends on where one is."""
import os
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

COMMA = ("A1 picked 1,5 lb @ 2026-08-01\nA1 picked 2,5 kg @ 2026-08-02\n"
         "A1 girth 41,5 cm @ 2026-08-03\nA1 fed 0,25 kg 10-10-10 @ 2026-08-04\n"
         "rain 0,4 in @ 2026-08-05\n")
POINT = COMMA.replace(",", ".")
LOCALES = [("C", ""), ("C.UTF-8", ""), ("POSIX", ""), ("xx_XX.UTF-8", "no such locale"),
           ("de_DE.UTF-8", "UTF-8"), ("fr_FR.UTF-8", "UTF-8"), ("de_DE.ISO-8859-1", "ISO-8859-1")]


def locales():
    """Locales with a decimal comma, made here where the system has their sources."""
    path = os.path.join(scratch, "locales")
    if not os.path.exists(path):
        os.mkdir(path)
        for name, codes in LOCALES[4:]:
            if shutil.which("localedef") is None or not os.path.exists("/usr/share/i18n/locales"):
                break
            subprocess.run(["localedef", "-i", name.split(".")[0], "-f", codes,
                            os.path.join(path, name)], capture_output=True)
    return path


def yard_in(name, env, today=TODAY, numbers="comma"):
    log = Log(name, today)

    def call(*words, stdin=None):
        said = run("--log", log.path, "--today", log.today, *words, stdin=stdin, env=env)
        assert said.status == 0, f"{words}: {said.err}"
        return said

    call("new", "--name", "Hill yard", "--hemisphere", "north", "--units", "us",
         "--numbers", numbers)
    call("tree", "add", "A1", "--species", "fig", "--planted", "1923")
    call("enter", "-", stdin=COMMA if numbers == "comma" else POINT)
    return log, call


def amounts(log):
    answer = subprocess.run(["sqlite3", "-readonly", log.path,
                             "SELECT entry.day, field, base_unit, low, high FROM amount JOIN "
                             "entry ON entry.id = entry_id ORDER BY 1, 2"],
                            capture_output=True, text=True)
    assert answer.returncode == 0, answer.stderr
    return answer.stdout.splitlines()


plain, plain_call = yard_in("plain", {"LC_ALL": "C"})


@facts(LOCALES)
def numbers_are_stored_and_written_alike(name, codes):
    env = {"LC_ALL": name, "LOCPATH": locales()}
    if codes and codes != "no such locale" and not os.path.exists(os.path.join(locales(), name)):
        raise Skip("the system has no sources of locales")
    log, call = yard_in("in-" + name, env)
    assert amounts(log) == amounts(plain) and len(amounts(log)) >= 5
    pointed, pointed_call = yard_in("point-in-" + name, env, numbers="point")
    assert amounts(pointed) == amounts(plain)
    for words in [("season", "--format", "json"), ("review", "--format", "csv")]:
        assert call(*words).out == plain_call(*words).out, words
    for what in ["entries", "picks", "trees"]:  # of one log: ids are a log's own
        assert plain("export", what, "-", env=env).bytes == plain("export", what, "-").bytes
    assert call("dose", "A1").out.replace("\u2013", "-") == \
        plain_call("dose", "A1").out.replace("\u2013", "-")
    assert b"2,5 kg" in call("export", "entries", "-").bytes


ZONES = ["UTC", "Europe/London", "America/New_York", "Australia/Lord_Howe", "America/Sao_Paulo",
         "Europe/Nowhere", "", "Pacific/Kiritimati"]
DAYS = ["2024-03-30", "2024-03-31", "2024-10-27", "2018-11-04", "1969-12-31", "2040-01-01",
        "2024-02-29", "2023-12-31", "2024-11-03", "2024-04-07"]


@facts(ZONES)
def days_are_the_same_in_every_zone(zone):
    env = {"TZ": zone}
    log, call = yard_in("zone-" + zone.replace("/", "-"), env, "2041-01-01")
    call("enter", "-", stdin="".join(f"A1 note of {day} @ {day}\n" for day in DAYS))
    held = {row["words"]: row["day"] for row in
            run("--log", log.path, "entry", "list", "--format", "json", env=env).rows()}
    for day in DAYS:
        assert held[f"A1 note of {day} @ {day}"] == day, held
    assert run("--log", log.path, "verify", env=env).status == 0


@facts(["2023-02-30", "2023-02-29", "1/2/24", "2023-13-01", "0000-01-01", "2023-00-10", "2023-1-32"])
def a_day_that_is_none_is_refused(day):
    before = plain.bytes()
    said = plain("enter", "A1", "note", "x", "@", day)
    assert said.status == 2, said.out
    assert_one_line(said.err)
    assert plain.bytes() == before


@facts(["2023-02-30", "2023-02-29", "1/2/24", "2023-2-3", "2460000", "now", "", "2023-02-03 00:00"])
def such_a_day_written_past_the_program_is_damage(day):
    log = plain.copy("past-" + "".join(sign for sign in day if sign.isalnum()))
    answer = subprocess.run(["sqlite3", log.path, f"UPDATE entry SET day = '{day}', day_low = "
                             f"'{day}' WHERE row = 2"],
                            capture_output=True, text=True)
    assert answer.returncode == 0, answer.stderr
    said = log("verify")
    assert said.status == 1 and "DAMAGE" in said.out, said.out
    for words in [("review",), ("entry", "list", "--format", "json"), ("season",),
                  ("export", "entries", "-")]:
        assert log(*words).status in (0, 1), words


main()
