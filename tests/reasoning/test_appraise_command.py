"""The command for authors, on kettles in a folder of their own."""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from pathlib import Path

import pytest

from diagtree.commands import appraise
from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.reasoning.appraisal import appraise as appraised


@pytest.fixture
def run(kettle, monkeypatch, capsys):
    monkeypatch.setattr("diagtree.commands.common.library_from", lambda options: kettle)
    monkeypatch.setattr("diagtree.library.loading.load_library", lambda *a, **k: kettle)

    def call(*words):
        parser = argparse.ArgumentParser()
        appraise.add_arguments(parser)
        assert appraise.run(parser.parse_args(words)) == 0
        return capsys.readouterr().out

    return call


def test_all_trees_come_in_a_table_with_their_ratios(run, kettle):
    out = run()
    for symptom in kettle.trees:
        assert f"\n{symptom} " in out
    assert "Ratio to the best order: guided " in out


def test_one_tree_is_told_in_words_with_what_one_change_would_save(run):
    out = run("no-heat")
    assert out.startswith("The water stays cold (no-heat)\n5 checks, 5 causes, ")
    assert "minutes: least 2, expected 4.5, most 7" in out
    assert "ask 'flex' before 'other-socket': 0.4 minutes less" in out
    assert max(map(len, out.splitlines())) <= 100


def test_a_tree_that_takes_no_time_at_all_is_not_called_too_large(kettle):
    """Its best order takes 0 minutes, so there is no ratio to it."""
    appraisal = replace(appraised(kettle, "leaks"), guided=0.0, shortest=0.0, best=0.0)
    lines = appraise.one(kettle, appraisal).splitlines()
    assert "  author's order 0.00, engine's order 0.00, best order 0.00" in lines


def test_a_complaint_that_is_named_twice_is_appraised_once(run):
    assert run("no-heat", "no-heat") == run("no-heat")


def test_json_carries_a_schema_number_and_the_same_figures(run):
    told = json.loads(run("no-heat", "--json"))
    assert told["schema"] == 2
    (tree,) = told["trees"]
    assert tree["symptom"] == "no-heat"
    assert tree["guided_ratio"] == pytest.approx(tree["guided"] / tree["best"])
    assert {"walked", "right", "testability", "savings", "bound"} <= tree.keys()


def test_machines_are_counted_by_the_librarys_own_word_too(run):
    assert run("--kettles", "200", "--seed", "4") == run("--machines", "200", "--seed", "4")
    assert "200 simulated kettles, guided order" in run("--kettles", "200")


def test_the_calibration_is_plotted_to_a_file_that_is_not_overwritten(run, tmp_path: Path):
    plot = tmp_path / "calibration.svg"
    told = json.loads(run("no-heat", "--machines", "150", "--plot", str(plot), "--json"))
    assert told["machines"] == 150
    assert plot.read_text(encoding="utf-8").startswith("<svg ")
    with pytest.raises(ExpectedError):
        run("no-heat", "--machines", "150", "--plot", str(plot))
    run("no-heat", "--machines", "150", "--plot", str(plot), "--force")


def test_a_plot_without_machines_is_refused_with_what_to_do(run):
    with pytest.raises(
        ExpectedError, match=r"A plot needs simulated machines\. Say how many: --machines 10000\."
    ):
        run("--plot", "x.svg")


def test_an_unknown_symptom_lists_near_ones(run):
    with pytest.raises(UnknownNameError, match="Did you mean 'no-heat'"):
        run("no-heats")


@pytest.mark.parametrize("number", ["0", "-3", "many", "1e4"])
def test_a_number_of_machines_that_is_none_is_refused(run, number, capsys):
    with pytest.raises(SystemExit):
        run(f"--machines={number}")
    assert "is not a number from 1 to 10000000" in capsys.readouterr().err


def test_the_same_library_gives_the_same_bytes_whatever_the_order_of_sets():
    """Python shuffles sets of names from run to run; no sum may follow them."""
    import os
    import subprocess
    import sys

    code = """
from diagtree.library.loading import load_library
from diagtree.commands.appraise import _plain
from diagtree.reasoning.appraisal import appraise
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.choosing import gains
from diagtree.reasoning.evidence import Evidence
library = load_library()
complaints = tuple(library.trees)[:4]
answers = {(s, library.trees[s].first): list(library.trees[s].checks[library.trees[s].first].answers)[0] for s in complaints}
found = {library.causes_of[complaints[0]][0]: True, library.causes_of[complaints[0]][1]: False}
belief = BeliefModel.of(library, complaints).given(Evidence(complaints, {}, answers, found))
print(belief.present, belief.ranking_all(), gains(belief), belief.log_chance)
print(_plain(appraise(library, min(library.trees, key=lambda s: len(library.trees[s].checks)))))
"""
    shown = {
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2", "3")
    }  # fmt: skip
    assert len(shown) == 1
