"""The two commands, over a case of the kettle that was walked and kept on disk."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from diagtree.case.folder import find_case
from diagtree.case.journal import Journal
from diagtree.case.view import Memory, View
from diagtree.case.walker import Walker
from diagtree.commands import draw, sheet
from diagtree.errors import CannotWriteError, ExpectedError, UnknownNameError
from diagtree.library.library import Library
from diagtree.model.workshop import Workshop
from diagtree.sheets.facts import Told
from diagtree.sheets.from_case import facts_of, paper_of_case
from diagtree.sheets.markdown import to_markdown
from diagtree.sheets.text import to_text

KETTLE = Path(__file__).parent.parent / "kettle"


def ticking() -> Iterator[str]:
    for minute in range(60):
        yield f"2026-03-04T09:{minute:02}:00+00:00"


@pytest.fixture
def case(kettle: Library, tmp_path: Path) -> Path:
    """A case of no heat: looks, a check, a can't tell, a note, a job, a torque, agreed and handed over."""
    clock = ticking()
    path = tmp_path / "2026-03-04-blue.case"
    with Journal.create(path) as journal:
        walker = Walker(kettle, journal, complaints=["no-heat"], label="blue", clock=lambda: next(clock))
        for answer in ("limed", "worn"):
            walker.answer(answer)
        walker.answer("yes")
        walker.note("Smells burnt.")
        walker.cannot_tell()
        walker.finish()
        walker.found_out("kettle/scale", True, "thick")
        walker.wish(["kettle/bend-catch"])
        walker.overrule("kettle/element", "kettle/descale", "It is thin.")
        walker.tick("kettle/base-off")
        walker.tighten("kettle/element-nut", Decimal("5.0"))
        walker.agree(Decimal(40), Decimal(45))
        walker.hand_over("A. Mechanic", {"no-heat": "kettle/element-open"})
    return path


def viewed(kettle: Library, path: Path) -> View:
    from diagtree.case.journal import read_journal
    from diagtree.case.keeper import read_case

    return View(read_case(read_journal(path).records), Memory(kettle))


def run(command, *words: str) -> int:
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    return command.run(parser.parse_args(words))


def test_the_facts_of_a_case_are_in_the_words_in_which_they_were_told(kettle: Library, case: Path):
    facts = facts_of(viewed(kettle, case))
    assert [(one.about, one.ask, one.says, one.told) for one in facts.asked] == [
        ("", "Is there lime around the spout?", "Limed", Told.ANSWERED),
        ("", "How worn is the handle?", "Shiny with wear", Told.ANSWERED),
        ("The water stays cold", "Does the lamp come on?", "Comes on", Told.ANSWERED),
        ("The water stays cold", "Does it hum after a minute?", "Can't tell", Told.CANNOT_TELL),
    ]
    assert facts.notes == ("Smells burnt. (at: Does it hum after a minute?)",)
    assert facts.wishes == ("Bend the catch back",)
    assert facts.overruled == (("kettle/element", "It is thin."),)
    assert facts.torques[0][1].value == Decimal("5.0")
    assert facts.agreed is not None
    assert facts.agreed.ceiling == Decimal(45)
    assert facts.handed_over is not None
    assert facts.finished
    assert facts.trees == (("no-heat", kettle.identity("no-heat")),)


def test_each_paper_of_a_walked_case_holds_the_same_figures_each_time(kettle: Library, case: Path):
    view = viewed(kettle, case)
    for kind in ("job", "estimate", "torque", "handover"):
        once = to_text(paper_of_case(kind, view, Workshop()))
        assert once == to_text(paper_of_case(kind, viewed(kettle, case), Workshop()))
        assert "blue" in once
    job = to_markdown(paper_of_case("job", view, Workshop()))
    assert "Soak with vinegar" in job
    assert "The mechanic chose this: It is thin." in job
    assert "Bend the catch" in job


def test_a_case_without_a_complaint_says_that_there_is_nothing_to_work_out(kettle: Library, tmp_path: Path):
    path = tmp_path / "empty.case"
    with Journal.create(path) as journal:
        Walker(kettle, journal)
    with pytest.raises(ExpectedError, match="no complaint yet"):
        paper_of_case("job", viewed(kettle, path), Workshop())


def test_the_sheet_command_prints_text_and_writes_files(
    case: Path, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
):
    assert run(sheet, str(case), "--trees", str(KETTLE)) == 0
    assert b"JOB SHEET" in capsysbinary.readouterr().out
    target = tmp_path / "out.json"
    assert run(sheet, str(case), "--kind", "handover", "--to", str(target), "--trees", str(KETTLE)) == 0
    assert json.loads(target.read_text(encoding="utf-8"))["kind"] == "handover"
    assert capsysbinary.readouterr().out == b""
    with pytest.raises(ExpectedError, match="--force"):
        run(sheet, str(case), "--to", str(target), "--trees", str(KETTLE))


def test_a_case_is_found_by_its_name_in_the_folder(case: Path):
    for name in ("2026-03-04-blue", "2026-03-04-blue.case", "blue", "bl", str(case)):
        assert find_case(name, case.parent) == case
    with pytest.raises(UnknownNameError, match=r"There is no case 'green'\. Choose one of: 2026-03-04-blue"):
        find_case("green", case.parent)


def test_where_several_cases_fit_a_name_they_are_listed(case: Path):
    for stem in ("2026-03-05-blue-two", "2026-03-06-blue-two"):
        (case.parent / f"{stem}.case").write_bytes(case.read_bytes())
    assert find_case("blue", case.parent) == case
    with pytest.raises(ExpectedError) as told:
        find_case("blue-t", case.parent)
    assert str(told.value) == (
        "'blue-t' fits 2 cases. Choose one of: 2026-03-05-blue-two, 2026-03-06-blue-two."
    )


def test_a_wrong_kind_or_form_is_told_before_anything_is_read(tmp_path: Path):
    with pytest.raises(UnknownNameError, match=r"no paper 'jobb'.*'job'"):
        run(sheet, "nothing", "--kind", "jobb")
    with pytest.raises(ExpectedError, match=r"End it in one of: \.txt"):
        run(sheet, "nothing", "--to", str(tmp_path / "a.doc"))


@pytest.mark.parametrize(("form", "starts"), [("svg", b"<?xml"), ("png", b"\x89PNG"), ("dot", b"digraph")])
def test_the_draw_command_writes_each_form(tmp_path: Path, form: str, starts: bytes):
    target = tmp_path / f"tree.{form}"
    assert run(draw, "no-heat", "--to", str(target), "--trees", str(KETTLE)) == 0
    assert target.read_bytes().startswith(starts)


def test_without_a_complaint_the_draw_command_lists_them(tmp_path: Path):
    with pytest.raises(ExpectedError) as told:
        run(draw, "--trees", str(KETTLE), "--block", "library", "--block", "whole-bike")
    lines = str(told.value).splitlines()
    assert lines[0] == "Which complaint is drawn? Name one of these:"
    assert "  no-heat    The water stays cold" in lines
    with pytest.raises(ExpectedError, match=r"Where is it drawn to\? Add, for example: --to tree\.pdf"):
        run(draw, "no-heat", "--trees", str(KETTLE))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--to", "a.svg", "--paper", "a3"], "--paper is for drawings on paper. End the file in .pdf"),
        (["--to", "a.png", "--distance", "1m"], "--distance is for drawings on paper."),
        (["--to", "a.dot", "--poster"], "--poster is for drawings on paper."),
        (["--to", "a.pdf", "--system-dot"], "--system-dot is for .svg and .png. Leave it out."),
        (["--to", "a.pdf", "--paper", "a9"], "There is no paper 'a9'."),
        (["--to", "a.pdf", "--distance", "2m"], "There is no distance '2m'."),
        (
            ["--to", "a.svg", "--order", "shortest", "--case", "x"],
            "The way of a case is drawn in its author's",
        ),
        (["--to", "a.svg", "--key", "b.svg"], "A key belongs to a drawing with blanks."),
        (
            ["--to", "a.svg", "--blank", "answers", "--key", "a.svg"],
            "The key would be written over the drawing.",
        ),
        (["--to", "a.svg", "--blank", "answers", "--key", "b.doc"], "'b.doc' does not say which form"),
    ],
)
def test_an_option_that_would_change_nothing_is_refused(
    words: list[str], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ExpectedError) as error:
        run(draw, "no-heat", *words, "--trees", str(KETTLE))
    assert str(error.value).startswith(told)
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_as_a_picture_may_have_its_key_on_paper(tmp_path: Path):
    task, key = tmp_path / "task.svg", tmp_path / "key.pdf"
    words = ["--to", str(task), "--blank", "answers", "--key", str(key), "--paper", "a3"]
    assert run(draw, "no-heat", *words, "--trees", str(KETTLE)) == 0
    assert (task.read_bytes()[:5], key.read_bytes()[:5]) == (b"<?xml", b"%PDF-")


def test_the_draw_command_tells_what_is_wrong(tmp_path: Path):
    with pytest.raises(ExpectedError, match="does not say which form"):
        run(draw, "no-heat", "--to", "tree.bmp", "--trees", str(KETTLE))
    with pytest.raises(UnknownNameError, match=r"no symptom 'no-heet'.*'no-heat'"):
        run(draw, "no-heet", "--to", str(tmp_path / "t.svg"), "--trees", str(KETTLE))
    with pytest.raises(CannotWriteError):
        run(draw, "no-heat", "--to", str(tmp_path / "no" / "t.svg"), "--trees", str(KETTLE))
