"""`diagtree diagnose` from end to end in plain lines: where a case is kept, what it is called, what is said last."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from diagtree.case.folder import chosen, new_path
from diagtree.case.journal import Journal
from diagtree.case.keeper import read_case
from diagtree.commands import diagnose
from diagtree.commands.main import main
from diagtree.screens.bench.bench import Bench


@pytest.fixture
def typed(kettle, tmp_path, monkeypatch, capsys):
    """Run the command with lines typed; give the exit status, what was said and the cases without their day."""
    folder = tmp_path / "cases"
    monkeypatch.setenv("DIAGTREE_CASES", str(folder))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("diagtree.commands.common.library_from", lambda options: kettle)
    monkeypatch.setattr(sys, "argv", ["diagtree"])

    def run(lines: str, *words: str):
        monkeypatch.setattr(sys, "stdin", io.StringIO(lines))
        status = main(["diagnose", *words])
        names = sorted(path.name for path in folder.glob("*"))
        return status, capsys.readouterr(), [name[11:] for name in names]

    return run


def the_one(folder, name):
    """Find the case of that name, whatever day it was begun."""
    (found,) = (folder / "cases").glob(f"????-??-??-{name}")
    return found


def test_a_case_is_called_after_the_label_that_it_got_on_the_way(typed, tmp_path):
    status, said, files = typed("2\nlabel Mrs Hill, green\nquit\n", "no-heat")
    assert (status, files) == (3, ["mrs-hill-green.case"])
    assert f"Saved. To go on: diagtree diagnose --case {the_one(tmp_path, files[0]).stem}" in said.out
    case = read_case(Journal.open(the_one(tmp_path, files[0])).records)
    assert (case.label, len(case.given)) == ("Mrs Hill, green", 1)


def test_a_case_that_was_begun_without_a_complaint_is_called_after_it(typed):
    _, said, files = typed("the water stays cold\n\n\n2\nquit\n")
    assert files == ["no-heat.case"], said.out


def test_a_name_that_was_given_stays(typed, tmp_path):
    typed("label blue\n2\nquit\n", "no-heat", "--case", "mine.case")
    assert (tmp_path / "mine.case").exists()


def test_another_case_of_the_same_name_is_not_touched(typed, tmp_path):
    typed("2\nquit\n", "no-heat", "--label", "blue")
    first = the_one(tmp_path, "blue.case").read_bytes()
    _, _, files = typed("label blue\n1\nquit\n", "no-heat")
    assert files == ["blue-2.case", "blue.case"]
    assert the_one(tmp_path, "blue.case").read_bytes() == first


def test_a_case_that_cannot_be_renamed_keeps_its_name_and_all_of_itself(typed, tmp_path, monkeypatch):
    def refuse(*_):
        raise OSError(1, "not permitted")

    monkeypatch.setattr("diagtree.case.disk.Disk.rename", refuse)
    status, said, files = typed("2\nlabel blue\nt\nquit\n", "no-heat")
    assert (status, files) == (3, ["no-heat.case"])
    assert f"--case {the_one(tmp_path, files[0]).stem}\n" in said.out
    assert len(read_case(Journal.open(the_one(tmp_path, files[0])).records).given) == 2


def test_a_journal_goes_on_under_its_new_name_and_never_takes_that_of_another(tmp_path):
    with Journal.create(tmp_path / "a.case") as journal:
        journal.append({"kind": "noted"})
        (tmp_path / "taken.case").write_text("mine")
        assert not journal.rename(tmp_path / "taken.case")
        assert (tmp_path / "taken.case").read_text() == "mine"
        journal.append({"kind": "noted"})
        assert journal.rename(tmp_path / "b.case")
        journal.append({"kind": "noted"})
    assert not (tmp_path / "a.case").exists()
    with Journal.open(tmp_path / "b.case") as journal:
        assert len(journal.records) == 3


def test_the_last_words_say_where_the_case_is_and_how_to_have_its_papers_again(typed, tmp_path):
    status, said, files = typed("1\n1\nfinish\n\n", "no-heat", "--label", "blue")
    where = the_one(tmp_path, files[0]).stem
    assert status == 0
    assert said.err == (
        f"The case is kept. To go on with it: diagtree diagnose --case {where}\n"
        f"Its papers again: diagtree sheet {where} --to sheet.pdf\n"
    )


def test_a_kept_case_is_taken_up_again_by_its_bare_name_and_a_file_here_comes_first(typed, tmp_path):
    _, _, files = typed("2\nquit\n", "no-heat", "--label", "blue")
    name = the_one(tmp_path, files[0]).stem
    _, said, _ = typed("quit\n", "--case", name)
    assert "Taken up again after 1 answer." in said.out
    _, said, _ = typed("1\nquit\n", "no-heat", "--case", "another")
    assert (tmp_path / "another").is_file()
    (tmp_path / name).write_bytes((tmp_path / "another").read_bytes())
    assert chosen(name, tmp_path / "cases") == Path(name)
    assert chosen(f"{name}.case", tmp_path / "cases") == Path(f"{name}.case")
    assert chosen(f"../{name}", tmp_path / "cases") == Path(f"../{name}")


def test_a_command_that_is_shown_can_be_typed_where_the_program_is_not_on_the_path(typed, monkeypatch):
    monkeypatch.setattr(sys, "argv", [".venv/bin/diagtree"])
    monkeypatch.setenv("PATH", "/nowhere")
    _, said, _ = typed("1\nquit\n", "no-heat")
    assert "Saved. To go on: .venv/bin/diagtree diagnose --case " in said.out


def test_an_unknown_complaint_is_met_with_those_that_sound_like_it_and_a_way_on(typed):
    status, said, files = typed("", "it stays cold")
    assert (status, files) == (2, [])
    assert said.err == (
        "diagtree: There is no symptom 'it stays cold'. Did you mean 'no-heat'? "
        "To choose by what the customer says: diagtree diagnose\n"
    )
    _, said, _ = typed("", "zzzz")
    assert said.err == (
        "diagtree: There is no symptom 'zzzz'. To choose by what the customer says: diagtree diagnose\n"
    )


def test_the_papers_of_two_machines_never_take_each_others_place(walk, tmp_path, monkeypatch):
    from diagtree.model.workshop import Workshop

    monkeypatch.chdir(tmp_path)
    for count, label in enumerate(("blue", "blue", "")):
        path = new_path(tmp_path, "2026-01-02T03:04:05+00:00", "no-heat")
        with Journal.create(path) as journal:
            walker = walk(journal)
            if label:
                walker.label(label)
            bench = Bench(walker, papers=diagnose._papers(
                walker, Workshop(), diagnose._Kept(journal, path, True, called="no-heat")
            ))  # fmt: skip
            bench.papers.write("torque")
        assert len(list(tmp_path.glob("*-torque.pdf"))) == count + 1


@pytest.fixture
def walk(kettle):
    from diagtree.case.walker import Walker

    def make(journal):
        walker = Walker(kettle, journal, complaints=["no-heat"], clock=lambda: "2026-01-02T03:04:05+00:00")
        walker.finish("")
        return walker

    return make
