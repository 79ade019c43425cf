"""What a folder of cases holds for learning: each machine once, and what had been stated for it."""

from __future__ import annotations

import shutil

import pytest

from diagtree.case.journal import Journal
from diagtree.case.view import Memory, View
from diagtree.case.walker import Walker
from diagtree.learning.confirmed import forecasts, gather
from diagtree.reasoning.calibration import brier

WHEN = "2026-01-02T03:04:05+00:00"


def kept(kettle, path, confirmed, answers=("no", "no", "no"), hand_over=True, found=None, label="one"):
    with Journal.create(path) as journal:
        walker = Walker(kettle, journal, complaints=["no-heat"], label=label, clock=lambda: WHEN)
        for _ in kettle.looks:
            if walker.stage == "looks":
                walker.cannot_tell()
        for answer in answers:
            walker.answer(answer)
        if found:
            walker.found_out(found, True)
        if hand_over:
            walker.hand_over("Kim", confirmed)
    return path


FUSE = {"no-heat": "kettle/fuse-blown"}


def test_cases_are_told_apart_by_how_far_they_came(kettle, tmp_path):
    kept(kettle, tmp_path / "a.case", FUSE)
    kept(kettle, tmp_path / "b.case", {}, label="two")
    kept(kettle, tmp_path / "c.case", {}, hand_over=False)
    (tmp_path / "d.case").write_text("no case\n", encoding="utf-8")
    gathered = gather(tmp_path)
    assert [one.causes for one in gathered.confirmed] == [FUSE]
    assert (gathered.silent, gathered.waiting) == (1, 1)
    assert [path.name for path, _ in gathered.unreadable] == ["d.case"]


def test_a_copy_of_a_case_is_the_same_machine_and_the_one_gone_on_with_counts(kettle, tmp_path):
    path = kept(kettle, tmp_path / "a.case", FUSE)
    shutil.copy(path, tmp_path / "0-copy.case")
    (before,) = gather(tmp_path).confirmed
    with Journal.open(path) as journal:
        walker = Walker(kettle, journal, clock=lambda: WHEN)
        walker.note("rings again")
        walker.hand_over("Kim", {"no-heat": "kettle/switch-worn"})
    (after,) = gather(tmp_path).confirmed
    assert after.id == before.id
    assert after.causes == {"no-heat": "kettle/switch-worn"}


def test_two_machines_that_went_the_same_way_are_two(kettle, tmp_path):
    kept(kettle, tmp_path / "a.case", FUSE, label="one")
    kept(kettle, tmp_path / "b.case", FUSE, label="two")
    assert len({one.id for one in gather(tmp_path).confirmed}) == 2


def test_what_was_seen_with_the_machine_open_is_no_forecast(kettle, tmp_path):
    """The stated chance is that of the answers alone; what was seen would state the truth after the fact."""
    kept(kettle, tmp_path / "a.case", FUSE, found="kettle/fuse-blown")
    kept(kettle, tmp_path / "b.case", FUSE, label="two")
    first, second = forecasts(kettle, gather(tmp_path).confirmed).machines
    assert first == second
    assert first.stated < 0.999


def test_a_forecast_is_the_belief_of_its_answers_and_its_scores_are_briers(kettle, tmp_path):
    kept(kettle, tmp_path / "a.case", {"no-heat": "kettle/scale"})
    (one,) = gather(tmp_path).confirmed
    (machine,) = forecasts(kettle, [one]).machines
    belief = View(one.case, Memory(kettle)).belief
    assert machine.first == belief.ranking("no-heat")[0][0] == "kettle/fuse-blown"
    assert not machine.right
    assert machine.brier == pytest.approx(brier(belief.behind("no-heat"), "kettle/scale"))


def test_a_cause_that_the_tree_does_not_find_was_given_no_chance(kettle, tmp_path):
    kept(kettle, tmp_path / "a.case", {"no-heat": "kettle/lid-loose"})
    (machine,) = forecasts(kettle, gather(tmp_path).confirmed).machines
    belief = View(gather(tmp_path).confirmed[0].case, Memory(kettle)).belief
    assert machine.brier == pytest.approx(1 + sum(p * p for p in belief.behind("no-heat").values()))
