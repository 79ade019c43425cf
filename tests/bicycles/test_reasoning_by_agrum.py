"""The belief equals pyAgrum's exact inference on a network built from the same library, within 1e-6.

The network says the joint belief in other words; see tests/reasoning/agrum_network.py.
"""

from __future__ import annotations

import itertools
import math
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import pytest

from diagtree.library.loading import load_library
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts

_spec = spec_from_file_location("agrum_network", Path(__file__).parents[1] / "reasoning" / "agrum_network.py")
_module = module_from_spec(_spec)
_spec.loader.exec_module(_module)
Network = _module.Network


@pytest.fixture(scope="module")
def bundled():
    library = load_library()
    assert len(library.trees) >= 4
    return library


def assert_agrees(library, network, evidence):
    model = BeliefModel.of(library, evidence.complaints)
    belief, inference = model.given(evidence), network.given(evidence)
    for condition, states in belief.picture.items():
        truth = inference.posterior(f"x:{condition}").tolist()
        assert list(states.values()) == pytest.approx(truth, abs=1e-6)
    for symptom in evidence.complaints:
        truth = inference.posterior(f"behind:{symptom}").tolist()
        assert belief.finding_chances(symptom) == pytest.approx(truth, abs=1e-6)
        for check in library.trees[symptom].checks:
            if (symptom, check) not in evidence.answers:
                predicted = inference.posterior(f"check:{symptom}:{check}").tolist()
                assert list(belief.predict(symptom, check).values()) == pytest.approx(predicted, abs=1e-6)
    before = network.given(Evidence(evidence.complaints)).evidenceProbability()
    ratio = inference.evidenceProbability() / before
    assert belief.log_chance == pytest.approx(math.log(ratio), abs=1e-6)
    if not evidence.answers and not evidence.found:
        for cause in model.asked:
            assert belief.present[cause] == pytest.approx(inference.posterior(cause)[1], abs=1e-6)


def some_answers(library, complaints, which):
    """Answer some checks on the authors' ways and one off them, deterministically."""
    answers = {}
    for symptom in complaints:
        tree, name = library.trees[symptom], library.trees[symptom].first
        for step in range(3):
            names = list(tree.checks[name].answers)
            answer = names[(which + step) % len(names)]
            answers[symptom, name] = answer
            if tree.checks[name].answers[answer].next is None:
                break
            name = tree.checks[name].answers[answer].next
        off = next((n for n in tree.checks if (symptom, n) not in answers), None)
        if off is not None and which:
            answers[symptom, off] = list(tree.checks[off].answers)[-1]
    return answers


KETTLES = [("no-heat",), ("no-heat", "slow-boil"), ("no-heat", "slow-boil", "leaks")]


@pytest.mark.parametrize("complaints", KETTLES, ids="+".join)
def test_a_kettle_agrees_with_pyagrum(kettle, complaints):
    network = Network(kettle, complaints)
    assert_agrees(kettle, network, Evidence(complaints))
    assert_agrees(kettle, network, Evidence(complaints, {"lime": "limed", "handle": "worn"}))
    for which in range(2):
        told = Evidence(complaints, {"lime": "limed"}, some_answers(kettle, complaints, which))
        assert_agrees(kettle, network, spread_facts(kettle, told))
    found = {kettle.causes_of["no-heat"][0]: True, kettle.causes_of["no-heat"][1]: False}
    assert_agrees(kettle, network, Evidence(complaints, {}, {}, found))


def tied(library, most=17):
    """Pairs of trees that share causes, most shared first; of trees that pyAgrum can still take together."""
    causes = {s: set(library.causes_of[s]) for s in library.trees if len(library.causes_of[s]) <= most}
    pairs = [(len(causes[a] & causes[b]), a, b) for a, b in itertools.combinations(causes, 2)]
    return [(a, b) for shared, a, b in sorted(pairs, key=lambda pair: -pair[0]) if shared]


def several(library, count):
    """Two tied trees; a third; or two pairs that are tied within and not to each other."""
    first, *others = tied(library)
    causes = library.causes_of
    if count == 2:
        return first
    met = {cause for symptom in first for cause in causes[symptom]}
    if count == 4:
        apart = (p for p in others if not met & {*causes[p[0]], *causes[p[1]]})
        return (*first, *next(apart))
    rest = [s for s in library.trees if s not in first and len(causes[s]) <= 17]
    return (*first, max(rest, key=lambda s: (len(met & set(causes[s])), -len(causes[s]))))


def test_every_bundled_tree_agrees_with_pyagrum(bundled):
    looks = {name: list(look.answers)[-1] for name, look in list(bundled.looks.items())[:4]}
    for symptom in bundled.trees:
        network = Network(bundled, (symptom,))
        told = Evidence((symptom,), looks, some_answers(bundled, (symptom,), 1))
        assert_agrees(bundled, network, spread_facts(bundled, told))


@pytest.mark.parametrize("count", [2, 3, 4])
def test_several_bundled_complaints_agree_with_pyagrum(bundled, count):
    complaints = several(bundled, count)
    assert len(set(complaints)) == count
    network = Network(bundled, complaints)
    looks = {name: list(look.answers)[-1] for name, look in list(bundled.looks.items())[:3]}
    told = Evidence(complaints, looks, some_answers(bundled, complaints, 1))
    assert_agrees(bundled, network, spread_facts(bundled, told))
    assert_agrees(bundled, network, Evidence(complaints))
