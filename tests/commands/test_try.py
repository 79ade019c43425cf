"""diagtree try: a tree that is being written is walked in either face, and nothing is kept."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest

from diagtree.case.log import ScratchLog
from diagtree.case.walker import Walker
from diagtree.commands.main import main
from diagtree.screens.bench.bench import Bench

KETTLE = Path(__file__).parents[1] / "kettle"

DRAFT = """\
symptom: silent-kettle
title: It says nothing
family: kettle
first: lamp
checks:
  lamp:
    ask: Does the lamp come on?
    minutes: 1
    answers:
      no: {says: Dark, found: {fuse-blown: 30}}
      yes: {says: Lit, next: humm}
"""


@pytest.fixture
def bench(tmp_path, monkeypatch):
    for name in ("catalogue.yaml", "conditions.yaml"):
        shutil.copy(KETTLE / name, tmp_path / name)
    (tmp_path / "draft.yaml").write_text(DRAFT, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("DIAGTREE_CASES", str(tmp_path / "cases"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return tmp_path


def tried(monkeypatch, capsys, typed, *words):
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    status = main(["try", "draft.yaml", *words])
    told = capsys.readouterr()
    return status, told.out, told.err


def test_the_faults_are_listed_once_and_the_sound_way_is_walked(bench, monkeypatch, capsys):
    status, out, err = tried(monkeypatch, capsys, "1\n\n")
    assert status == 0
    assert "1 fault in draft.yaml. The walk goes round what it can.\n" in err
    assert "  line 11: There is no check 'humm' in this tree." in err
    assert "This is a trial: nothing is kept." in out
    assert "The way: lamp: no\nFound there: kettle/fuse-blown 30\nLikeliest, in 100:\n" in out


def test_where_it_goes_no_further_it_says_what_to_do_and_back_takes_another_way(bench, monkeypatch, capsys):
    status, out, _ = tried(monkeypatch, capsys, "2\nback\n1\n\n")
    assert status == 0
    assert "The draft goes no further here. Line 11: There is no check 'humm' in this tree." in out
    assert "Enter ends the trial, back takes it up again" in out
    assert "The way: lamp: no\n" in out


def test_nothing_is_kept_and_nobody_is_told_that_it_is(bench, monkeypatch, capsys):
    status, out, _ = tried(monkeypatch, capsys, "quit\n")
    assert status == 3
    assert "Left. Nothing was kept." in out
    assert "Open: lamp\n" in out
    assert sorted(path.name for path in bench.iterdir()) == [
        "catalogue.yaml",
        "conditions.yaml",
        "draft.yaml",
    ]


def test_many_faults_are_cut_short_with_where_to_see_them_all(bench, monkeypatch, capsys):
    more = "".join(f"      a{n}: {{says: A, next: none{n}}}\n" for n in range(9))
    (bench / "draft.yaml").write_text(DRAFT + more, encoding="utf-8")
    _, _, err = tried(monkeypatch, capsys, "1\n\n")
    assert "10 faults in draft.yaml." in err
    assert "  2 more: diagtree proofread draft.yaml" in err


def test_faults_of_a_catalogue_beside_it_are_listed_with_their_file(bench, monkeypatch, capsys):
    catalogue = bench / "catalogue.yaml"
    text = catalogue.read_text(encoding="utf-8").replace("title: Fuse blown", "titel: Fuse blown")
    catalogue.write_text(text, encoding="utf-8")
    _, _, err = tried(monkeypatch, capsys, "1\n\n")
    assert "3 faults in draft.yaml and beside it." in err
    assert "  catalogue.yaml, line 37: There is no key 'titel' here. Did you mean 'title'" in err


def test_the_bench_says_too_that_nothing_is_kept(kettle):
    walker = Walker(kettle, ScratchLog(), complaints=["no-heat"])
    bench = Bench(walker, clock=lambda: 0.0)
    bench.leave_when_pressed_twice("q")
    assert bench.page.message == "Leave? This is a trial: nothing is kept. Press q again to leave."
