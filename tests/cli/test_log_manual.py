# SPDX-License-Identifier: MIT
"""man/boughbook-log.5: its questions are asked of the demo yard by the stock shell, and the answers
are those of the page (UPDATE_GOLDEN=1 writes them); what it lists is what the file holds."""
import os
import re
import sqlite3
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

PAGE = os.path.join(SOURCE, "man/boughbook-log.5")
UPDATE = "UPDATE_GOLDEN" in os.environ
BLOCK = re.compile(r"^(\.Ss \d+\. (?P<title>.*)\n\.Bd -literal\n)(?P<asked>(?:\$ .*\n)(?:> .*\n)*)"
                   r"(?P<answer>(?:(?!\.Ed).*\n)*)", re.M)

demo = demo_log("yard")
with open(PAGE, encoding="utf-8") as file:
    page = file.read()
questions = list(BLOCK.finditer(page))


def plain(text):
    for escape, sign in [("\\-", "-"), ("\\(aq", "'"), ("\\(dq", '"'), ("\\&", ""), ("\\e", "\\")]:
        text = text.replace(escape, sign)
    return text


def escaped(text):
    return text.replace("\\", "\\e").replace("-", "\\-").replace("'", "\\(aq")


def answer_to(asked):
    """What the command prints, typed in the folder of the log as the page shows it."""
    script = "\n".join(line[2:] for line in plain(asked).splitlines())
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, cwd=scratch)
    assert done.returncode == 0 and done.stderr == "", done.stderr
    return done.stdout


def part(title):
    """The text under a heading."""
    return page.split(f".Ss {title}\n")[1].split("\n.Ss ")[0].split("\n.Sh ")[0]


def made_again():
    """The tables that the page calls made again, or of one machine."""
    return set(re.findall(r"\w+", page.split("this file alone; the tables\n")[1].split(
        "\nwhich are made")[0].replace(".Va", ""))) - {"and"}


@fact
def ten_questions_are_asked():
    assert len(questions) == 10 and page.count("\n.Bd ") == 10
    assert [int(re.match(r"\.Ss (\d+)", one.group(0)).group(1)) for one in questions] == \
        list(range(1, 11))


@facts([(one.group("title"), one.group("asked"), one.group("answer")) for one in questions])
def the_shell_answers_as_the_page_says(name, asked, answer):
    global page
    before = demo.bytes()
    said = answer_to(asked)
    assert said.count("\n") >= 3, f"hardly an answer: {said}"
    if UPDATE:
        page = page.replace(asked + answer, asked + escaped(said))
        with open(PAGE, "w", encoding="utf-8") as file:
            file.write(page)
        return
    assert said == plain(answer), f"the shell says\n{said}"
    assert max(len(line) for line in plain(asked + answer).splitlines()) <= 74
    assert demo.bytes() == before


@fact
def every_view_stands_there_with_all_its_columns():
    log = sqlite3.connect(demo.path)
    views = [name for name, in log.execute("SELECT name FROM sqlite_schema WHERE type = 'view'")]
    told = part("Views")
    items = dict(re.findall(r"^\.It Va (\w+)\n((?:(?!\.It|\.El).*\n)*)", told, re.M))
    assert sorted(items) == sorted(views)
    for view in views:
        columns = [row[1] for row in log.execute(f"PRAGMA table_info({view})")]
        named = [word for line in items[view].splitlines() if line.startswith(".Va ")
                 for word in re.findall(r"\w+", line[4:])]
        assert named == columns, f"{view}: {named}"
    log.close()


@fact
def every_table_is_named():
    log = sqlite3.connect(demo.path)
    tables = {name for name, in log.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
              if not name.startswith(("sqlite_", "word_index_"))}
    log.close()
    told = set(re.findall(r"\w+", " ".join(re.findall(r"^\.It Va (.*)$", part("Tables"), re.M))))
    assert told | made_again() == tables, sorted((told | made_again()) ^ tables)


@fact
def columns_of_all_tables_are_those_told():
    less = {"change_set": ["id"], "change": ["id"], "meta": []}
    log = sqlite3.connect(demo.path)
    for name, in log.execute("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT "
                             "LIKE 'sqlite_%' AND name NOT LIKE 'word_index%'").fetchall():
        columns = [row[1] for row in log.execute(f"PRAGMA table_info({name})")]
        held = [column for column in ("id", "made", "struck") if column in columns]
        if name not in made_again():
            assert held == less.get(name, ["id", "made", "struck"]), f"{name}: {held}"
    log.close()


@fact
def numbers_of_the_file_are_those_told():
    log = sqlite3.connect(demo.path)
    application = log.execute("PRAGMA application_id").fetchone()[0]
    version = log.execute("PRAGMA user_version").fetchone()[0]
    log.close()
    assert f"is 0x{application:x}\n" in page
    assert f"is the version of its schema, {version}.\n" in page


main()
