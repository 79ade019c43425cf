"""Figures for authors: the published-form vector, and the kettle by hand and by enumeration."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from diagtree.reasoning.appraisal import appraise, ways
from diagtree.reasoning.effort import minutes_of
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.rows import rows_of
from diagtree.reasoning.testability import signatures, tell_apart

# Classic testability forms (Simpson, Sheppard, IEEE Design & Test 1992); the figures recomputed by hand.
SHARES = dict(zip("123456", (0.30, 0.25, 0.20, 0.10, 0.10, 0.05), strict=True))
SIGNS = dict(zip("123456", ("1010", "1100", "1100", "0111", "1010", "0000"), strict=True))
VECTOR = tell_apart(
    SHARES,
    {cause: tuple("x" if sign == "1" else "" for sign in row) for cause, row in SIGNS.items()},
    {"1": 1, "2": 2, "3": 4, "4": 2},
)


def test_the_detected_share_is_that_of_causes_that_show_in_some_check():
    assert VECTOR.detected == pytest.approx(0.95)


def test_causes_with_equal_signatures_look_alike():
    assert set(VECTOR.groups) == {("1", "5"), ("2", "3"), ("4",), ("6",)}
    assert VECTOR.groups[-1] == VECTOR.hidden == ("6",), "what no check shows comes last"


def test_the_share_told_apart_grows_with_the_size_of_groups():
    assert VECTOR.told_apart == pytest.approx((0.105263, 1), abs=1e-6)
    assert VECTOR.mean_size == pytest.approx(1.6667, abs=1e-4)
    assert VECTOR.expected_size == pytest.approx(1.894737, abs=1e-6)


def test_the_checks_remove_what_the_partition_holds_of_the_uncertainty():
    assert VECTOR.uncertainty == pytest.approx(2.365957, abs=1e-6)
    assert VECTOR.removable == pytest.approx(1.595462, abs=1e-6)
    assert VECTOR.removable / VECTOR.uncertainty == pytest.approx(0.6743, abs=1e-4)


def test_the_cheapest_sufficient_set_costs_three():
    assert VECTOR.cheapest == ("1", "2")
    assert VECTOR.cheapest_minutes == 3
    assert VECTOR.exact


def test_no_cheaper_set_of_checks_tells_as_much_apart():
    """By going through all sets."""

    def groups(kept):
        return {tuple(row[k] for k in kept) for row in SIGNS.values()}

    minutes = (1, 2, 4, 2)
    enough = [
        sum(minutes[k] for k in kept)
        for size in range(5)
        for kept in itertools.combinations(range(4), size)
        if len(groups(kept)) == len(groups(range(4)))
    ]
    assert min(enough) == VECTOR.cheapest_minutes
    alone = [
        str(k + 1) for k in range(4) if len(groups([o for o in range(4) if o != k])) == len(groups(range(4)))
    ]
    assert list(VECTOR.unneeded) == alone


def test_a_cause_shows_by_its_likeliest_answer_where_a_sound_part_shows_another(kettle):
    signs = signatures(rows_of(kettle.trees["no-heat"]))
    assert signs["kettle/fuse-blown"] == ("no", "", "no", "", ""), "off the way it shows what is sound"
    assert signs["kettle/scale"] == ("", "", "", "", ""), "it comes to light where nothing else shows"


def test_each_way_through_a_tree_is_found_once(kettle):
    found = [way[-1] for way in ways(kettle.trees["no-heat"])]
    assert found == [
        ("fuse", "no"), ("flex", "hurt"), ("flex", "sound"), ("other-socket", "yes"), ("hum", "no"), ("hum", "yes"),
    ]  # fmt: skip


def test_the_chance_that_a_finding_is_right_is_that_of_enumeration(kettle, enumerated):
    """Go through all ways and findings; at each end the likeliest cause is named."""
    tree, rows = kettle.trees["no-heat"], rows_of(kettle.trees["no-heat"])
    right = minutes = total = 0.0
    whole = enumerated(kettle, Evidence(("no-heat",))).total
    for way in ways(tree):
        truth = enumerated(kettle, Evidence(("no-heat",), {}, {("no-heat", c): a for c, a in way}))
        chance = truth.total / whole
        right += chance * max(truth.behind.values())
        minutes += chance * sum(float(tree.checks[name].minutes) for name, _ in way)
        total += chance
    assert total == pytest.approx(1)
    appraisal = appraise(kettle, "no-heat")
    assert appraisal.right_exact
    assert appraisal.right == pytest.approx(right)
    assert appraisal.walked.expected == pytest.approx(minutes)
    assert (appraisal.walked.least, appraisal.walked.most) == (2, 7)
    assert len(rows.findings) == 8


def test_the_appraisal_of_a_kettle_holds_together(kettle):
    for symptom in kettle.trees:
        appraisal = appraise(kettle, symptom)
        assert appraisal.best is not None
        assert appraisal.bound <= appraisal.best + 1e-9
        assert appraisal.best <= appraisal.shortest + 1e-9
        assert appraisal.best <= appraisal.guided + 1e-9
        assert appraisal.guided_ratio >= 1 - 1e-9
        assert 0 < appraisal.right <= 1
        for saving in appraisal.savings:
            assert 0 < saving.minutes <= appraisal.guided - appraisal.best + 1e-9


def test_opening_work_is_paid_once_on_the_way(kettle):
    tree = kettle.trees["no-heat"]
    behind = tree.model_copy(update={"checks": {
        name: check.model_copy(update={"behind": ("kettle/base-off",)}) for name, check in tree.checks.items()}})  # fmt: skip
    library = replace(kettle, trees={"no-heat": behind})
    assert minutes_of(library, [("no-heat", "lamp"), ("no-heat", "hum")]) == 1 + 1 + 2


def test_a_tree_with_too_many_ways_is_appraised_by_simulated_machines(kettle, monkeypatch):
    import diagtree.reasoning.appraisal as module

    exact = appraise(kettle, "no-heat")
    monkeypatch.setattr(module, "MOST_WAYS", 2)
    drawn = appraise(kettle, "no-heat", seed=5)
    assert not drawn.right_exact
    assert drawn.right == pytest.approx(exact.right, abs=5 * (0.25 / module.DRAWN) ** 0.5)
    assert drawn == appraise(kettle, "no-heat", seed=5), "the same seed, the same figures"
