# SPDX-License-Identifier: MIT
"""What is printed: written whole, as text or HTML, of all trees or of one."""
import os
import re
import stat
import sys
from html.parser import HTMLParser

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")
PAPERS = ["report", "walk", "sheet"]
LABELS = [row["tree"] for row in demo.rows("tree", "list")]


class Page(HTMLParser):
    """Tags that pair up, their texts, and no way to run or fetch anything."""

    def __init__(self, text):
        super().__init__()
        self.open, self.texts, self.counts = [], [], {}
        self.feed(text)
        self.close()
        assert self.open == [], self.open

    def handle_starttag(self, tag, attributes):
        assert tag not in ("script", "iframe", "object", "embed", "link", "img", "base"), tag
        for name, value in attributes:
            assert not name.startswith("on") and name not in ("href", "src", "style"), name
        self.counts[tag] = self.counts.get(tag, 0) + 1
        if tag not in ("meta", "br", "hr"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag, tag

    def handle_data(self, data):
        self.texts.append(data)


def of(text):
    return Page(text), " ".join(" ".join(Page(text).texts).split())


@facts(PAPERS)
def the_ending_or_the_option_says_which_form(what):
    page = demo.ok("export", what, "-", "--format", "html").out
    text = demo.ok("export", what, "-").out
    assert page.startswith("<!DOCTYPE html>\n<html lang=\"en\">") and "<" not in text
    assert '<meta charset="UTF-8">' in page and "<title>" in page
    for name, want in [("a.html", page), ("a.txt", text), ("a", text), ("a.HTM", page)]:
        path = os.path.join(scratch, what + name)
        assert demo.ok("export", what, path).out == ""
        with open(path, encoding="utf-8") as file:
            assert file.read() == want, name
        assert stat.S_IMODE(os.stat(path).st_mode) == 0o600
    path = os.path.join(scratch, what + "a.html")
    demo.ok("export", what, path, "--format", "text")
    with open(path, encoding="utf-8") as file:
        assert file.read() == text


@facts(PAPERS)
def the_page_is_whole_and_holds_what_the_text_holds(what):
    page, words = of(demo.ok("export", what, "-", "--format", "html").out)
    for label in LABELS:
        assert label in words, label
    assert page.counts["h1"] == 1 and page.counts["title"] == 1 and page.counts["main"] == 1
    plain = demo.ok("export", what, "-").out
    for figure in re.findall(r"\d+ lb\b", plain):
        assert figure in words, figure


@fact
def a_sheet_is_a_page_for_each_tree_and_one_for_the_yard():
    page, _ = of(demo.ok("export", "sheet", "-", "--format", "html").out)
    assert page.counts["section"] == len(LABELS) + 1
    one, words = of(demo.ok("export", "sheet", "-", "--format", "html", "--tree", "B3").out)
    assert one.counts["section"] == 1
    assert "ground slopes: ladder on the uphill side only" in words
    assert words.index("ground slopes") < words.index("planted")
    assert demo.ok("export", "sheet", "-").out.count("\f") == len(LABELS)


@fact
def the_report_is_of_the_season_asked_for():
    assert "season 2024\n" in demo.ok("export", "report", "-", "--season", "2024").out
    assert "season 2026\n" in demo.ok("export", "report", "-").out
    one = demo.ok("export", "report", "-", "--tree", "A1").out
    assert "Tern Hollow: A1, season by season" in one
    demo.no(2, "export", "report", "-", "--season", "2024", "--tree", "A1", says="of the yard")


@fact
def the_report_agrees_with_the_season_as_printed():
    told = demo.ok("export", "report", "-", "--season", "2025").out
    compared = 0
    for row in demo.rows("season", "2025"):
        if row["state"] == "complete" and row["mean_g"]:
            share = 100 * row["picked_g"] / row["mean_g"]  # of whole grams
            shares = [int(figure) for line in told.splitlines() if f" {row['tree']} " in line
                      for figure in re.findall(r"(\d+) % of", line)]
            assert any(abs(figure - share) < 0.6 for figure in shares), (row, shares)
            compared += 1
    assert compared >= 5, compared


@fact
def another_day_is_the_log_of_that_day():
    then = demo.ok("export", "walk", "-", "--day", "2026-11-10").out
    now = demo.ok("export", "walk", "-").out
    assert "As the log stands on 10 November 2026." in then
    assert "The shape cut of 12 November 2026" in now
    assert then != now
    demo.no(2, "export", "walk", "-", "--day", "2026", says="--day")


@fact
def private_trees_are_left_out_when_asked():
    log = demo.copy("private")
    log.ok("tree", "set", "B3", "--private")
    for what in PAPERS:
        assert "B3" in log.ok("export", what, "-").out
        told = log.ok("export", what, "-", "--without-private").out
        for gone in ["B3", "Jonathan", "Wickson", "ground slopes"]:
            assert gone not in told, f"{what}: {gone}"
        log.no(3, "export", what, "-", "--without-private", "--tree", "B3", says="private")
        log.no(3, "export", what, "-", "--without-private", "--tree", "B3 top", says="private")


@fact
def what_makes_no_sense_is_refused():
    for what in PAPERS:
        demo.no(2, "export", what, "-", "--format", "csv", says="text or html")
        demo.no(3, "export", what, "/nowhere/a.html", says="/nowhere/a.html")
        demo.no(2, "export", what, "-", "--tree", "Z9", says="Z9")
    demo.no(2, "export", "trees", "-", "--format", "html", says="csv or json")
    demo.no(2, "export", "trees", "-", "--tree", "A1", says="export")
    demo.no(2, "season", "--format", "html", says="not html")


@fact
def a_failed_export_leaves_the_old_file():
    path = write("kept.html", "old")
    demo.no(2, "export", "sheet", path, "--tree", "Z9", says="Z9")
    with open(path, encoding="utf-8") as file:
        assert file.read() == "old"


@fact
def without_utf8_the_text_is_plain():
    said = run("--log", demo.path, "--today", TODAY, "export", "report", "-",
               env={"LC_ALL": "C", "LANG": "C"})
    assert said.status == 0 and all(ord(sign) < 128 for sign in said.out), said.out
    assert "####" in said.out


@fact
def a_sheet_says_whom_the_tree_needs():
    said = " ".join(demo.ok("export", "sheet", "-", "--tree", "B1").out.split())
    assert "Whom it needs by itself does not set alone takes pollen of B2 Golden Delicious?, " \
           "B3 east Fuji, B3 top Wickson?, B3 west Jonathan a partner is another apple" in said
    said = " ".join(demo.ok("export", "sheet", "-", "--tree", "F1").out.split())
    assert "known to serve it; its cultivar is not known" in said
    assert "Whom it needs" not in demo.ok("export", "sheet", "-", "--tree", "G1").out
    log = demo.copy("needs-private")
    log.ok("tree", "set", "B3", "--private")
    said = log.ok("export", "sheet", "-", "--tree", "B1", "--without-private").out
    assert "takes pollen of    B2 Golden Delicious?\n" in said, said


main()
