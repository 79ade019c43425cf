"""diagtree learn: confirmed kettles are counted once, beside the tree, and used from then on."""

from __future__ import annotations

import argparse
import io
import json
import shutil
from pathlib import Path

import pytest

from diagtree.case.journal import Journal
from diagtree.case.walker import Walker
from diagtree.commands import learn
from diagtree.commands.common import add_library_arguments, library_from
from diagtree.commands.main import main
from diagtree.errors import ExpectedError
from diagtree.learning.counts import read_counts
from diagtree.reasoning.belief import BeliefModel

KETTLE = Path(__file__).parents[1] / "kettle"
WHEN = "2026-01-02T03:04:05+00:00"


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """A workshop with trees of its own, and five kettles that were handed over."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("DIAGTREE_CASES", str(tmp_path / "cases"))
    monkeypatch.delenv("DIAGTREE_TREES", raising=False)
    shutil.copytree(KETTLE, "mine/kettles")
    Path("cases").mkdir()
    return tmp_path


@pytest.fixture
def hand_over(bench, kettle):
    def one(name, cause, answers=("no", "no", "no")):
        with Journal.create(bench / "cases" / f"{name}.case") as journal:
            walker = Walker(kettle, journal, complaints=["no-heat"], label=name, clock=lambda: WHEN)
            while walker.stage == "looks":
                walker.cannot_tell()
            for answer in answers:
                walker.answer(answer)
            walker.hand_over("Kim", {"no-heat": f"kettle/{cause}"} if cause else {})

    return one


def _options(command, *words):
    parser = argparse.ArgumentParser()
    command(parser)
    bundled = [word for name in ("library", "whole-bike") for word in ("--block", name)]
    return parser.parse_args([*words, "--trees", "mine", *bundled])


@pytest.fixture
def run(bench, capsys):
    def call(*words):
        assert learn.run(_options(learn.add_arguments, *words)) == 0
        return capsys.readouterr().out

    return call


COUNTS = Path("mine/kettles/no-heat.counts")


def test_confirmed_kettles_are_counted_beside_the_tree_which_stays_as_it_is(run, hand_over):
    for number in range(4):
        hand_over(f"k{number}", "fuse-blown")
    hand_over("unknown", None)
    tree = (KETTLE / "no-heat.yaml").read_bytes()
    # (20 x 0.18 + 4) / 24; the ends are scipy.stats.beta(7.6, 16.4)'s 5th and 95th percentile.
    fuse = "    18.0          4   31.7  17.3 to 47.8    Fuse blown\n"
    out = run()
    assert (
        "4 confirmed at the handover, 1 handed over without a word of what it was, 0 not handed over" in out
    )
    assert (
        "The water stays cold (no-heat): 4 confirmed kettles, 4 of them new; the author's counts weigh as"
        in out
    )
    assert fuse in out
    assert f"  Counts in {COUNTS}\n" in out
    assert Path("mine/kettles/no-heat.yaml").read_bytes() == tree
    assert len(read_counts(COUNTS).machines) == 4


def test_learning_again_counts_nothing_twice_and_writes_the_same_bytes(run, hand_over):
    hand_over("one", "scale", ("yes", "yes"))
    run()
    written = COUNTS.read_bytes()
    assert ", 0 of them new;" in run()
    assert COUNTS.read_bytes() == written


def test_a_machine_stays_counted_when_its_case_has_been_cleared_away(run, hand_over):
    hand_over("old", "scale")
    run()
    Path("cases/old.case").unlink()
    hand_over("new", "fuse-blown")
    assert "2 confirmed kettles, 1 of them new;" in run()


def test_from_then_on_the_library_counts_with_them_and_says_so(run, hand_over, bench, kettle, capsys):
    hand_over("one", "fuse-blown")
    run()
    library = library_from(_options(add_library_arguments))
    assert library.identity("no-heat") != kettle.identity("no-heat")
    assert (
        "diagtree: note: mine/kettles/no-heat.counts: The tree 'no-heat' counts with 1 confirmed kettle of"
        in (capsys.readouterr().err)
    )


def test_counts_outside_the_own_folders_are_not_used(run, hand_over, kettle):
    hand_over("one", "fuse-blown")
    run("--to", "elsewhere")
    assert Path("elsewhere/no-heat.counts").is_file()
    assert library_from(_options(add_library_arguments)).identity("no-heat") == kettle.identity("no-heat")


def test_show_writes_nothing(run, hand_over):
    hand_over("one", "fuse-blown")
    assert f"  Would be written to {COUNTS}\n" in run("--show")
    assert not COUNTS.exists()


def test_the_weight_is_kept_until_it_is_set_again(run, hand_over):
    hand_over("one", "fuse-blown")
    run("--weight", "30", "--weight", "no-heat=50")
    assert read_counts(COUNTS).weighs == 50
    assert "weigh as much as 50." in run()


def test_it_is_shown_whether_the_stated_chances_have_held(run, hand_over):
    """The fuse was found by its answers each time, so they must score better than the prior alone."""
    for number in range(3):
        hand_over(f"k{number}", "fuse-blown")
    out = run("--plot", "held.svg")
    assert "3 confirmed complaints; the first cause was right in 100 of 100." in out
    assert "so looks and answers helped." in out
    assert "3 confirmed; bars: two standard errors" in Path("held.svg").read_text(encoding="utf-8")
    told = json.loads(run("--json"))
    assert told["held"]["brier"] < told["held"]["prior_brier"]
    assert told["trees"][0]["shares"][0].keys() >= {
        "cause",
        "stated",
        "confirmed",
        "now",
        "low",
        "high",
        "moved",
    }


def test_a_cause_that_the_tree_does_not_find_is_told_to_its_author(run, hand_over):
    hand_over("one", "lid-loose")
    assert (
        "  1 confirmed as Lid does not close, which this tree does not find: a way to it is missing." in run()
    )


def test_a_worked_case_that_comes_out_otherwise_with_own_counts_is_told(run, hand_over):
    for number in range(12):
        hand_over(f"k{number}", "switch-worn")
    told = "  The worked case 'Fuse' comes out otherwise with these counts: 'kettle/switch-worn' comes first"
    assert told not in run("--weight", "500")
    assert told in run("--weight", "1")


def test_confirmed_machines_of_other_trees_are_no_reason_to_ask_for_more(run, hand_over):
    hand_over("one", "scale")
    assert "Nothing to learn: what was confirmed is about other trees.\n" in run("leaks")


def test_without_any_confirmed_kettle_it_says_what_to_do(run):
    assert run().endswith("Nothing to learn yet. Say at the handover what it was.\n")
    with pytest.raises(ExpectedError, match="There is nothing to draw yet"):
        run("--plot", "held.svg")


def test_a_folder_of_cases_that_is_not_there_is_named(run):
    with pytest.raises(ExpectedError, match="There is no folder 'nowhere'"):
        run("--cases", "nowhere")


def test_a_case_that_cannot_be_read_is_named_and_passed_over(bench, hand_over, capsys):
    hand_over("one", "scale")
    Path("cases/broken.case").write_text("{\n", encoding="utf-8")
    learn.run(_options(learn.add_arguments))
    assert "diagtree: passed over: broken.case: " in capsys.readouterr().err


@pytest.mark.parametrize("text", ["0", "no-heat=", "many", "-3"])
def test_a_weight_that_is_none_is_refused(bench, text, capsys):
    with pytest.raises(SystemExit):
        _options(learn.add_arguments, f"--weight={text}")
    assert "is not a number from 1 to 1000000, or SYMPTOM=NUMBER" in capsys.readouterr().err


def test_from_the_first_question_to_own_counts(run, bench, monkeypatch, capsys):
    """Diagnosed in line mode, handed over with what it was, learnt, and diagnosed with the new counts."""
    words = ["diagnose", "no-heat", "--plain", "--case", "cases/one.case", "--trees", "mine"]
    bundled = ["--block", "library", "--block", "whole-bike"]
    looks = "t\n" * len(library_from(_options(add_library_arguments)).looks)
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{looks}1\n1\n1\nhand over Kim\nfuse blown\n\n"))
    assert main([*words, *bundled]) == 0
    assert "Confirmed: Fuse blown." in capsys.readouterr().out
    assert "1 confirmed kettle, 1 of them new;" in run()
    library = library_from(_options(add_library_arguments))
    behind = BeliefModel.of(library, ("no-heat",)).nothing_told.behind("no-heat")
    assert behind["kettle/fuse-blown"] == pytest.approx((20 * 0.18 + 1) / 21, abs=1e-6)
