"""Drawings to fill in: the words are gone, all else is where the key has it."""

from __future__ import annotations

import argparse
import io
import re
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from diagtree.commands import draw
from diagtree.drawing.blanks import BLANKS, blank_sheets, blanked, with_room
from diagtree.drawing.diagram import Kind, Shown, drawing_of
from diagtree.drawing.measured import SIZE, size_of
from diagtree.drawing.paged import TEMPLATES, pages
from diagtree.drawing.printed import Press
from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.sheets.letters import text_width
from diagtree.sheets.typeset import typeset

KETTLE = Path(__file__).parent.parent / "kettle"


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    draw.add_arguments(parser)
    return draw.run(parser.parse_args([*words, "--trees", str(KETTLE)]))


def words_of(drawing, what: str) -> set[str]:
    """What the learner is to write: each word that stands nowhere else on the sheet."""
    if what == "answers":
        return {line.says for line in drawing.lines if line.says}
    found = [box for box in drawing.boxes if box.kind in BLANKS[what]]
    return {box.title for box in found if box.title} | {
        likely.title for box in found for likely in box.likely
    }


@pytest.mark.parametrize("what", BLANKS)
def test_on_paper_nothing_moves_and_no_hidden_word_is_in_the_file(kettle, what: str):
    drawing = with_room(drawing_of(kettle, "no-heat", Shown(remedies=True)), what)
    press = Press(drawing, "a4", "35cm", text_width)
    key = press.sheets()
    task = blank_sheets(key, what, text_width)
    for mine, theirs in zip(task.sheets, key.sheets, strict=True):
        assert (mine.scale, mine.turned, mine.laid.width) == (theirs.scale, theirs.turned, theirs.laid.width)
        for one, other in zip(mine.laid.boxes, theirs.laid.boxes, strict=True):
            assert (one.at, one.box.width, one.box.height) == (other.at, other.box.width, other.box.height)
            assert len(one.box.rows) == len(other.box.rows)
            assert one.box.rows[0] == other.box.rows[0]
            assert size_of(one.box.rows, text_width)[0] <= size_of(other.box.rows, text_width)[0] + 0.01
        assert [arrow.curve for arrow in mine.laid.arrows] == [arrow.curve for arrow in theirs.laid.arrows]

    def told(printed) -> str:
        reader = PdfReader(io.BytesIO(typeset(TEMPLATES, pages(press, printed))))
        return re.sub(r"\s+", "", "".join(page.extract_text() for page in reader.pages))

    hidden = {re.sub(r"\s+", "", text) for text in words_of(drawing, what) if len(text) > 6}
    assert len(hidden) >= 2
    full, left = told(key), told(task)
    for text in hidden:
        assert text in full
        assert text not in left
    for box in drawing.boxes:
        assert re.sub(r"\s+", "", box.heading) in left


@pytest.mark.parametrize("what", BLANKS)
def test_in_one_piece_the_shape_of_the_tree_stays(kettle, what: str):
    drawing = drawing_of(kettle, "no-heat", Shown(remedies=True))
    task = blanked(drawing, what)
    assert [(box.name, box.kind, box.heading, box.minutes) for box in task.boxes] == [
        (box.name, box.kind, box.heading, box.minutes) for box in drawing.boxes
    ]
    assert [(line.tail, line.head) for line in task.lines] == [
        (line.tail, line.head) for line in drawing.lines
    ]
    for box, full in zip(task.boxes, drawing.boxes, strict=True):
        assert [likely.count for likely in box.likely] == [likely.count for likely in full.likely]
    left = {box.title for box in task.boxes} | {line.says for line in task.lines}
    left |= {likely.title for box in task.boxes for likely in box.likely}
    assert not left & words_of(drawing, what)


def test_a_short_answer_keeps_room_to_be_written(kettle):
    drawing = drawing_of(kettle, "no-heat")
    short = replace(
        drawing, lines=tuple(replace(line, says="No") if line.says else line for line in drawing.lines)
    )
    press = Press(with_room(short, "answers"), "a4", "35cm", text_width)
    task = blank_sheets(press.sheets(), "answers", text_width)
    rules = [row for sheet in task.sheets for routed in sheet.laid.arrows for row in routed.arrow.rows]
    assert rules
    assert all(set(row.text) == {"_"} and text_width(row.text, SIZE, False) > 60 for row in rules)


def test_how_many_go_each_way_stays_where_answers_are_blank(kettle):
    shares = {
        (check, answer): 50.0
        for check in kettle.tree("no-heat").checks
        for answer in kettle.tree("no-heat").checks[check].answers
    }
    drawing = with_room(drawing_of(kettle, "no-heat", Shown(shares=shares)), "answers")
    press = Press(drawing, "a4", "35cm", text_width)
    task = blank_sheets(press.sheets(), "answers", text_width)
    said = [routed.arrow.rows for sheet in task.sheets for routed in sheet.laid.arrows if routed.arrow.rows]
    assert all(rows[-1].text == "50 of 100" and set(rows[0].text) == {"_"} for rows in said)


def test_the_command_writes_the_drawing_and_its_key_beside_it(tmp_path, capsys):
    for form in ("pdf", "svg", "dot"):
        assert run("no-heat", "--to", str(tmp_path / f"task.{form}"), "--blank", "findings") == 0
        assert (tmp_path / f"task-key.{form}").exists()
        assert f"task-key.{form}" in capsys.readouterr().err
    plain = tmp_path / "plain.svg"
    assert run("no-heat", "--to", str(plain)) == 0
    assert (tmp_path / "task-key.svg").read_bytes() == plain.read_bytes()
    assert (tmp_path / "task.svg").read_bytes() != plain.read_bytes()
    own = tmp_path / "solved.pdf"
    poster = tmp_path / "poster.pdf"
    assert run("no-heat", "--to", str(poster), "--blank", "answers", "--poster", "--key", str(own)) == 0
    assert own.read_bytes() != poster.read_bytes()


def test_neither_file_is_written_over_and_wrong_words_are_told(tmp_path):
    target = tmp_path / "task.svg"
    (tmp_path / "task-key.svg").write_text("mine")
    with pytest.raises(ExpectedError, match=r"task-key\.svg is there already"):
        run("no-heat", "--to", str(target), "--blank", "findings")
    assert not target.exists()
    with pytest.raises(ExpectedError, match="would be written over"):
        run("no-heat", "--to", str(target), "--blank", "findings", "--key", str(target))
    with pytest.raises(UnknownNameError, match="answers, findings, questions"):
        run("no-heat", "--to", str(target), "--blank", "all")
    with pytest.raises(ExpectedError, match="A key belongs to a drawing with blanks"):
        run("no-heat", "--to", str(target), "--key", str(tmp_path / "k.svg"))


def test_no_more_than_the_findings_are_blank(kettle):
    drawing = drawing_of(kettle, "no-heat")
    task = blanked(drawing, "findings")
    asked = [box for box in task.boxes if box.kind in {Kind.START, Kind.QUESTION, Kind.MEASUREMENT}]
    assert asked == [
        box for box in drawing.boxes if box.kind in {Kind.START, Kind.QUESTION, Kind.MEASUREMENT}
    ]
    assert task.lines == drawing.lines
