# SPDX-License-Identifier: MIT
"""The year ahead, printed and as a calendar file, say the same."""
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../support"))
from cli import *

demo = demo_log("demo")


def events(text):
    """Of each event its properties, unfolded and with what was escaped as it was."""
    assert "\n" not in text.replace("\r\n", ""), "a line ends without CR"
    for line in text.split("\r\n"):
        assert len(line.encode()) <= 75, line
    found = []
    for line in text.replace("\r\n ", "").split("\r\n"):
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            found.append({})
        elif found:
            value = re.sub(r"\\(.)", lambda part: {"n": "\n"}.get(part[1], part[1]), value)
            found[-1][name.split(";")[0]] = value
    return found


@fact
def the_file_holds_what_is_printed():
    rows = demo.rows("calendar")
    told = events(demo.ok("export", "calendar", "-").bytes.decode())
    assert len(rows) == len(told) > 20
    for row, event in zip(rows, told):
        assert event["UID"] == row["uid"]
        assert event["DTSTART"] == row["from"].replace("-", "")
        assert event["DTEND"] > row["to"].replace("-", "")
        assert event["SUMMARY"] == f"{row['title']}: {row['trees']}"
        assert event.get("DESCRIPTION") == row["words"]
        assert event["CATEGORIES"] == row["what"]
        assert re.fullmatch(r"20261124T\d{6}Z", event["DTSTAMP"])
    assert {row["what"] for row in rows} == {"window", "plan"}
    text = demo.ok("calendar").out
    assert "clear for the saw: loquat: A1" in text and "planned: cut" in text


@fact
def what_is_put_off_is_there_on_its_day():
    log = demo.copy("put-off")
    log.ok("put-off", "B3", "plan-due", "2026-12-01")
    row = [row for row in log.rows("calendar") if row["what"] == "put-off"]
    assert [(one["from"], one["trees"]) for one in row] == [("2026-12-01", "B3")], row


@fact
def the_file_is_written_whole_and_options_are_its_own():
    path = os.path.join(scratch, "a.ics")
    demo.ok("export", "calendar", path, "--day", "2026-11-24")
    with open(path, "rb") as file:
        strip = lambda text: re.sub(rb"DTSTAMP:\S+", b"", text)
        assert strip(file.read()) == strip(demo.ok("export", "calendar", "-").bytes)
    for more in [("--tree", "A1"), ("--format", "html"), ("--season", "2024")]:
        demo.no(2, "export", "calendar", "-", *more, says="--without-private and --day")
    empty = new_log("empty")
    empty.no(2, "export", "calendar", "-", says="no calendar is written")
    assert "nothing with a day" in empty.ok("calendar").out
    assert empty.rows("calendar") == []


main()
