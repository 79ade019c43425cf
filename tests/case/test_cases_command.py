"""`diagtree cases`: what is there, where it stopped, and saving what came before a damaged line."""

from __future__ import annotations

import argparse
import json

import pytest

from diagtree.case.folder import cases_folder, list_cases, new_path
from diagtree.case.journal import Journal
from diagtree.case.walker import Walker
from diagtree.commands import cases
from diagtree.errors import DamagedFileError, ExpectedError


@pytest.fixture
def run(kettle, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("DIAGTREE_CASES", str(tmp_path / "cases"))
    monkeypatch.setenv("TZ", "UTC")
    monkeypatch.setattr(cases, "library_from", lambda options: kettle)

    def command(*words: str) -> tuple[int, str]:
        parser = argparse.ArgumentParser()
        cases.add_arguments(parser)
        status = cases.run(parser.parse_args(list(words)))
        return status, capsys.readouterr().out

    return command


def keep(kettle, folder, label, answers, minute, **more):
    path = new_path(folder, "2026-01-02", label)
    with Journal.create(path) as journal:
        walker = Walker(
            kettle, journal, label=label, clock=lambda: f"2026-01-02T03:{minute:02}:00+00:00", **more
        )
        for answer in answers:
            walker.answer(answer)
    return path


def test_an_empty_folder_says_how_to_start(run, tmp_path):
    assert run() == (0, f"No cases yet in {tmp_path / 'cases'}. Start one: diagtree diagnose\n")


def test_cases_are_listed_with_where_they_stopped_the_last_one_first(run, kettle, tmp_path):
    folder = tmp_path / "cases"
    one = keep(kettle, folder, "the blue one", ["limed"], 1, complaints=["no-heat", "leaks"])
    two = keep(kettle, folder, "", ["limed", "worn", "top"], 2, complaints=["leaks"])
    three = keep(kettle, folder, "new", [], 3)
    damaged = folder / "x.case"
    damaged.write_bytes(one.read_bytes().replace(b"limed", b"lined"))
    status, said = run()
    assert status == 0
    assert said == (
        f"2026-01-02 03:03  new\n  0 answers, no complaint yet\n  {three}\n"
        f"2026-01-02 03:02  Water on the table\n  3 answers, questions finished\n  {two}\n"
        "2026-01-02 03:01  the blue one\n  The water stays cold\n  Water on the table\n"
        f"  1 answer, stopped at: How worn is the handle?\n  {one}\n"
        f"{damaged}\n  {damaged}, line 2: damaged (its checksum does not fit). "
        f"To save the 1 line before it: diagtree cases recover {damaged} --to NEW\n"
    )


def test_the_list_for_programs_carries_a_schema_number(run, kettle, tmp_path):
    path = keep(kettle, tmp_path / "cases", "blue", ["limed", "worn", "top"], 2, complaints=["leaks"])
    with Journal.open(path) as journal:
        Walker(kettle, journal, clock=lambda: "2026-01-03T00:00:00+00:00").hand_over("Kim")
    _, said = run("--json")
    assert json.loads(said) == {
        "schema": 1,
        "folder": str(tmp_path / "cases"),
        "cases": [
            {
                "path": str(path),
                "label": "blue",
                "complaints": ["leaks"],
                "opened": "2026-01-02T03:02:00+00:00",
                "updated": "2026-01-03T00:00:00+00:00",
                "answers": 3,
                "finished": True,
                "handed_over": True,
                "where": "handed over by Kim",
            }
        ],
    }


def test_what_came_before_a_damaged_line_is_saved(run, kettle, tmp_path):
    path = keep(kettle, tmp_path, "blue", ["limed", "worn"], 2, complaints=["leaks"])
    path.write_bytes(path.read_bytes().replace(b"worn", b"torn"))
    new = tmp_path / "new.case"
    assert run("recover", str(path), "--to", str(new)) == (
        0,
        f"2 lines saved in {new}. The damaged file is as it was.\n",
    )
    with Journal.open(new) as journal:
        assert Walker(kettle, journal).question.name == "handle"
    with pytest.raises(ExpectedError, match="Name the damaged case and a new file"):
        run("recover", str(path))
    path.write_bytes(b"x\n")
    with pytest.raises(DamagedFileError, match="not even its first line is whole"):
        run("recover", str(path), "--to", str(tmp_path / "other.case"))


def test_a_new_case_never_takes_the_name_of_another(tmp_path):
    first = new_path(tmp_path, "2026-01-02T03:04:05", "../../etc/passwd")
    assert first == tmp_path / "2026-01-02-etc-passwd.case"
    first.touch()
    assert new_path(tmp_path, "2026-01-02T03:04:05", "etc passwd").name == "2026-01-02-etc-passwd-2.case"


def test_the_folder_comes_from_the_environment_or_the_system(tmp_path):
    assert cases_folder({"DIAGTREE_CASES": str(tmp_path)}) == tmp_path
    assert cases_folder({}).name == "cases"
    assert "diagtree" in cases_folder({}).parts
    assert list_cases(tmp_path / "none") == []
