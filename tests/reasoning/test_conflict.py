"""Answers that do not fit: check values worked out by brute force over the definition.

Prior .5/.3/.2; P(answer 0 | cause): E1 .9/.2/.1; E2 .8/.1/.7; E3 .05/.6/.5.
Measure: Jensen, Chamberlain, Nordahl, Jensen 1990, arXiv 1304.1146.
"""

from __future__ import annotations

import math

import pytest

from diagtree.library.library import join
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.conflict import conflict, explained_by
from diagtree.reasoning.evidence import Evidence

ROWS = {"e1": (90, 20, 10), "e2": (80, 10, 70), "e3": (5, 60, 50)}


@pytest.fixture(scope="module")
def model():
    causes = {
        f"c{n}": {"title": "C", "out-of-100": 10, "risk": "nuisance", "why": "W.", "remedies": ["mend"]}
        for n in (1, 2, 3)
    }
    checks = {
        name: {
            "ask": f"What does {name} show?", "minutes": 1, "anytime": True,
            "answers": {"a0": {"says": "nought", "next": "last"}, "a1": {"says": "one", "next": "last"}},
            "shows": {f"c{n}": {"a0": p, "a1": 100 - p} for n, p in enumerate(row, start=1)},
        }
        for name, row in ROWS.items()
    }  # fmt: skip
    checks["last"] = {
        "ask": "What is it?", "minutes": 1,
        "answers": {"x": {"says": "x", "found": {"c1": 50, "c2": 30, "c3": 20}}, "y": {"says": "y", "found": {"c1": 0}}},
    }  # fmt: skip
    tree = {"symptom": "s", "title": "S", "family": "f", "first": "e1", "checks": checks}
    library = join(
        [Family.model_validate({"family": "f", "title": "F", "causes": causes})],
        [],
        [Tree.model_validate(tree)],
    )
    return BeliefModel.of(library, ["s"])


def told(*answers):
    return Evidence(
        ("s",), {}, {("s", check): f"a{answer}" for check, answer in zip(ROWS, answers, strict=False)}
    )


@pytest.mark.parametrize(
    ("answers", "bits"),
    [((0, 0), -0.330973), ((0, 1), 0.603438), ((0, 0, 0), 1.687820), ((0, 1, 0), 0.800821)],
)
def test_the_measure_is_the_one_of_the_source(model, answers, bits):
    assert conflict(model.given(told(*answers))).bits == pytest.approx(bits, abs=1e-6)


@pytest.mark.parametrize(("answers", "explained"), [((0, 1), None), ((0, 0, 0), None), ((0, 1, 0), "f/c2")])
def test_a_rare_cause_that_explains_the_answers_is_not_flagged(model, answers, explained):
    belief = model.given(told(*answers))
    result = conflict(belief, threshold=0.0)
    assert result.explained_by == explained
    assert (result.suspect is None) == (explained is not None)


def test_the_cause_explains_the_conflict_by_as_much_as_the_check_value_says(model):
    belief = model.given(told(0, 1, 0))
    left = 0.800821 + math.log2(0.3 / belief.behind("s")["f/c2"])
    assert left == pytest.approx(-0.635749, abs=1e-6)
    assert explained_by(belief, 0.635, model.nothing_told) == "f/c2"


def test_the_suspect_is_the_answer_that_the_others_speak_against_most(model):
    """Worked out here from the definition: the largest log2(P(e_i) / P(e_i | rest))."""
    prior = (0.5, 0.3, 0.2)
    names = list(ROWS)

    def chance(checks):
        return sum(p * math.prod(ROWS[name][n] / 100 for name in checks) for n, p in enumerate(prior))

    surprise = {
        name: math.log2(chance([name]) * chance([other for other in names if other != name]) / chance(names))
        for name in names
    }
    result = conflict(model.given(told(0, 0, 0)))
    assert result.suspect is not None
    assert result.suspect.name == max(surprise, key=lambda name: surprise[name])
    assert result.suspect_bits == pytest.approx(max(surprise.values()), abs=1e-6)
    assert result.reason == (
        "These answers do not fit together. Look again at this one first: What does e3 show? You said: nought."
    )


def test_one_answer_alone_cannot_pull_apart(model):
    assert conflict(model.given(told(0))).bits == 0


def test_a_fact_that_stands_in_two_trees_is_one_telling(kettle):
    answers = {("no-heat", "flex"): "hurt", ("leaks", "flex-look"): "hurt"}
    model = BeliefModel.of(kettle, ["no-heat", "leaks"])
    assert conflict(model.given(Evidence(("no-heat", "leaks"), {}, answers))).bits == 0


def test_a_misleading_answer_on_a_kettle_is_named(kettle):
    """It hums, yet the fuse was said to be blown: one of the two is wrong."""
    answers = {("no-heat", "fuse"): "no", ("no-heat", "lamp"): "yes", ("no-heat", "hum"): "yes"}
    result = conflict(BeliefModel.of(kettle, ["no-heat"]).given(Evidence(("no-heat",), {}, answers)))
    assert result.bits > 1
    assert result.suspect is not None
    assert result.suspect.name in {"fuse", "lamp"}
