"""docs/case.md says what the code does."""

from __future__ import annotations

import re
from pathlib import Path

from diagtree.case import events
from diagtree.case.lines import read_lines
from diagtree.case.log import MemoryLog
from diagtree.case.passing import CERTAIN
from diagtree.case.walker import Walker
from diagtree.screens.line_unattended import read_answers, run_unattended
from diagtree.screens.line_words import END_HELP, HELP, understand

TEXT = (Path(__file__).parent.parent.parent / "docs" / "case.md").read_text(encoding="utf-8")


def test_every_kind_of_event_is_told_and_no_other():
    table = TEXT.split("### Events")[1].split("##")[0]
    assert re.findall(r"^\| `([a-z-]+)` \|", table, re.MULTILINE) == list(events.KINDS)


def test_the_line_that_is_shown_is_a_line():
    (line,) = re.findall(r"^\{.*\}$", TEXT, re.MULTILINE)
    contents = read_lines(line.encode() + b"\n")
    # Its checksum fits; only its number says that it is not the first.
    assert contents.damage.why == "it says that it is line 2"


def test_the_answers_file_that_is_shown_walks_to_the_end(kettle, tmp_path):
    (shown,) = re.findall(r"```yaml\n(.*?)```", TEXT, re.DOTALL)
    path = tmp_path / "answers.yaml"
    path.write_text(shown, encoding="utf-8")
    walker = Walker(kettle, MemoryLog())
    assert run_unattended(walker, read_answers(path, kettle)).unused == ()
    assert walker.finished


def test_what_can_be_typed_is_what_the_help_says():
    told = set(
        re.findall(r"`([a-z][a-z ]*)(?: [A-Z]+)*`", TEXT.split("## Line mode")[1].split("## Nobody")[0])
    )
    for key, _ in (*HELP, *END_HELP):
        verb = re.match(r"[a-z ]*[a-z]", key)
        if verb is not None and verb[0] not in {"again", "label", "undone"}:
            assert verb[0] in told
    assert [word for word in told if not understand(word).verb] == []


def test_the_share_that_is_as_good_as_certain_is_told():
    assert f"{CERTAIN * 100:.0f} out of 100" in TEXT
