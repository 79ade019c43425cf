"""The belief equals a plain enumeration of everything that could be the case, within 1e-9.

The enumeration is in conftest.py; it follows the definitions in docs/method.md word by word and shares no code
with the engine. For kettles and for random small libraries.
"""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from diagtree.library.library import join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel, ImpossibleEvidenceError
from diagtree.reasoning.evidence import Evidence

CLOSE = {"rel": 1e-9, "abs": 1e-9}


def assert_equal(belief, truth, library):
    for condition, states in belief.picture.items():
        for state, chance in states.items():
            assert chance == pytest.approx(truth.picture[condition, state], **CLOSE)
    for symptom in belief.evidence.complaints:
        assert sum(belief.behind(symptom).values()) == pytest.approx(1)
        for cause, chance in belief.behind(symptom).items():
            assert chance == pytest.approx(truth.behind[symptom, cause], **CLOSE)
        for leaf, chance in belief.leaves(symptom).items():
            assert chance == pytest.approx(truth.leaves[symptom, leaf], **CLOSE)
    for cause, chance in belief.behind_any.items():
        assert chance == pytest.approx(truth.behind_any[cause], **CLOSE)
    assert set(belief.present) == set(library.causes)
    for cause, chance in belief.present.items():
        assert chance == pytest.approx(truth.present[cause], **CLOSE)


@pytest.mark.parametrize(
    "evidence",
    [
        Evidence(()),
        Evidence((), {"lime": "limed"}),
        Evidence(("no-heat",)),
        Evidence(("no-heat",), {"lime": "limed", "handle": "worn"}),
        Evidence(("no-heat",), {}, {("no-heat", "lamp"): "no", ("no-heat", "fuse"): "yes"}),
        Evidence(("no-heat", "slow-boil"), {"lime": "limed"}, {("no-heat", "lamp"): "yes"}),
        Evidence(
            ("slow-boil", "no-heat", "leaks"), {}, {("leaks", "where"): "dry", ("no-heat", "hum"): "no"}
        ),
        Evidence(("slow-boil", "no-heat"), {}, {("slow-boil", "lid"): "no"}, {"kettle/scale": True}),
        Evidence(("slow-boil", "leaks"), {}, {}, {"kettle/lid-loose": False, "kettle/element-open": True}),
        Evidence(("leaks",), {"handle": "worn"}, {}, {"kettle/scale": True, "kettle/fuse-blown": False}),
    ],
    ids=str,
)
def test_a_kettle_agrees_with_enumeration(kettle, enumerated, evidence):
    belief = BeliefModel.of(kettle, evidence.complaints).given(evidence)
    truth = enumerated(kettle, evidence)
    assert_equal(belief, truth, kettle)
    before = enumerated(kettle, Evidence(evidence.complaints))
    assert belief.log_chance == pytest.approx(math.log(truth.total / before.total), **CLOSE)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_any_small_library_agrees_with_enumeration(data, enumerated, small_library):
    complaints = data.draw(st.integers(1, 3))
    library = data.draw(small_library(complaints=complaints, causes=4 if complaints < 3 else 3))
    evidence = Evidence(
        tuple(library.trees),
        {n: data.draw(st.sampled_from("ab")) for n in library.looks if data.draw(st.booleans())},
        {
            (symptom, name): data.draw(st.sampled_from(sorted(check.answers)))
            for symptom, tree in library.trees.items()
            for name, check in tree.checks.items()
            if data.draw(st.booleans())
        },
        {cause: data.draw(st.booleans()) for cause in library.causes if data.draw(st.integers(0, 3)) == 0},
    )
    truth = enumerated(library, Evidence(evidence.complaints, evidence.looks, evidence.answers))
    assume(truth.total > 0)
    model = BeliefModel.of(library, evidence.complaints)
    assert_equal(model.given(Evidence(evidence.complaints, evidence.looks, evidence.answers)), truth, library)
    try:
        with_found = enumerated(library, evidence)
    except ZeroDivisionError:
        with pytest.raises(ImpossibleEvidenceError):
            model.given(evidence)
        return
    belief = model.given(evidence)
    assert_equal(belief, with_found, library)
    before = enumerated(library, Evidence(evidence.complaints))
    assert belief.log_chance == pytest.approx(math.log(with_found.total / before.total), abs=1e-8)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_four_complaints_with_shared_causes_agree_with_enumeration(data, enumerated, small_library):
    library = data.draw(small_library(complaints=4, causes=3, conditions=1))
    evidence = Evidence(
        tuple(library.trees), {}, {(symptom, "q0"): "a0" for symptom in library.trees}, {"thing/c0": True}
    )
    model = BeliefModel.of(library, evidence.complaints)
    for told in (Evidence(evidence.complaints), evidence):
        assert_equal(model.given(told), enumerated(library, told), library)


@pytest.mark.parametrize("seed", range(6))
def test_seven_complaints_that_share_three_likely_causes_agree_with_enumeration(enumerated, seed):
    """The hardest case for the sums: signed terms of up to seven complaints for causes met on most machines."""
    dice = random.Random(seed)
    causes = {
        f"c{n}": {
            "title": "C", "out-of-100": dice.choice([0, 1, 30, 70, 95, 97]), "risk": "nuisance", "why": "W.",
            "remedies": ["mend"], "more-likely": {"x": {"up": dice.choice([1, 5, 40])}},
        }
        for n in range(3)
    }  # fmt: skip
    trees = [
        {
            "symptom": f"s{n}", "title": "T", "family": "f", "first": "q",
            "checks": {"q": {"ask": "?", "minutes": 1, "trust": "sure", "answers": {
                "a": {"says": "a", "found": {dice.choice(sorted(causes)): dice.choice([1, 50])}},
                "b": {"says": "b", "found": {dice.choice(sorted(causes)): 3}},
            }}},
        }
        for n in range(7)
    ]  # fmt: skip
    states = {"low": {"says": "low", "out-of-100": 60}, "up": {"says": "up", "out-of-100": 40}}
    library = join(
        [Family.model_validate({"family": "f", "title": "F", "causes": causes})],
        [Conditions.model_validate({"conditions": {"x": {"title": "X", "states": states}}})],
        [Tree.model_validate(tree) for tree in trees],
    )
    told = Evidence(
        tuple(library.trees),
        {},
        {(symptom, "q"): dice.choice("ab") for symptom in library.trees if dice.random() < 0.8},
        {"f/c0": True} if seed % 3 == 0 else {},
    )
    belief = BeliefModel.of(library, told.complaints).given(told)
    assert_equal(belief, enumerated(library, told), library)
