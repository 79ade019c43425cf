"""Drawn machines follow the exact belief: within five standard errors, seeds fixed."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.draws import draw
from diagtree.reasoning.evidence import Evidence

COUNT = 40_000


def close(share, chance):
    return abs(share - chance) <= 5 * np.sqrt(chance * (1 - chance) / COUNT) + 1e-9


EVIDENCE = [
    Evidence(("no-heat",), {"lime": "limed"}, {("no-heat", "lamp"): "yes"}),
    Evidence(("no-heat", "slow-boil", "leaks"), {"lime": "limed"}, {("no-heat", "hum"): "no"}),
    Evidence(("slow-boil", "no-heat"), {}, {}, {"kettle/scale": True, "kettle/element-open": False}),
    Evidence(("no-heat", "leaks"), {}, {}, {"kettle/flex-damaged": True, "kettle/lid-loose": False}),
    Evidence((), {"handle": "worn"}, {}, {"kettle/scale": True}),
]


@pytest.mark.parametrize("evidence", EVIDENCE, ids=str)
def test_drawn_machines_agree_with_the_exact_chances(kettle, enumerated, evidence):
    belief = BeliefModel.of(kettle, evidence.complaints).given(evidence)
    drawn = draw(belief, COUNT, seed=7)
    for symptom, (causes, numbers) in drawn.behind.items():
        for number, cause in enumerate(causes):
            assert close(np.mean(numbers == number), belief.behind(symptom)[cause]), cause
    for condition, numbers in drawn.states.items():
        for number, chance in enumerate(belief.picture[condition].values()):
            assert close(np.mean(numbers == number), chance), condition
    for cause, chance in belief.present.items():
        assert close(np.mean(drawn.present(cause)), chance), cause
    truth = enumerated(kettle, evidence).all_causes
    for together in itertools.product(*(causes for causes, _ in drawn.behind.values())):
        yes = np.ones(COUNT, dtype=bool)
        for cause, (causes, numbers) in zip(together, drawn.behind.values(), strict=True):
            yes &= numbers == causes.index(cause)
        assert close(np.mean(yes), truth[together]), together


def test_the_same_seed_draws_the_same_machines_whatever_is_asked_first(kettle):
    evidence = EVIDENCE[1]
    belief = BeliefModel.of(kettle, evidence.complaints).given(evidence)
    one, other = draw(belief, 500, seed=3), draw(belief, 500, seed=3)
    besides = one.besides("kettle/scale")
    _ = other.states, other.besides("kettle/fuse-blown")
    assert np.array_equal(besides, other.besides("kettle/scale"))
    for symptom in evidence.complaints:
        assert np.array_equal(one.behind[symptom][1], other.behind[symptom][1])
    assert not np.array_equal(one.behind["no-heat"][1], draw(belief, 500, seed=4).behind["no-heat"][1])


def test_a_cause_is_never_both_behind_a_complaint_and_there_besides(kettle):
    evidence = EVIDENCE[2]
    drawn = draw(BeliefModel.of(kettle, evidence.complaints).given(evidence), 2000, seed=1)
    assert not (drawn.responsible("kettle/scale") & drawn.besides("kettle/scale")).any()
    assert drawn.present("kettle/scale").all()
    assert not drawn.present("kettle/element-open").any()
