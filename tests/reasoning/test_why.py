"""Why a cause, why a question, what moved the picture; what else to look at and what to leave alone."""

from __future__ import annotations

import math

import pytest

from diagtree.model.family import Risk
from diagtree.model.workshop import Workshop
from diagtree.reasoning.asking import repairs_for
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.beyond import also_look_at, leave_alone
from diagtree.reasoning.conflict import Told
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.why import what_moved, why_ask, why_cause
from diagtree.work.prices import Prices


def believe(kettle, evidence):
    return BeliefModel.of(kettle, evidence.complaints).given(evidence)


def test_the_weight_of_an_answer_is_the_change_of_the_odds_given_the_rest(kettle, enumerated):
    """I. J. Good 1950: 10 log10 of the odds with the answer over the odds without it, by enumeration."""
    evidence = Evidence(
        ("no-heat",), {"lime": "limed"}, {("no-heat", "lamp"): "yes", ("no-heat", "hum"): "no"}
    )
    weights = {
        w.told.name: w.decibans for w in why_cause(believe(kettle, evidence), "kettle/scale", "no-heat")
    }
    full = enumerated(kettle, evidence).behind["no-heat", "kettle/scale"]
    for name, rest in {
        "lime": evidence.without_look("lime"),
        "lamp": evidence.without_answer("no-heat", "lamp"),
        "hum": evidence.without_answer("no-heat", "hum"),
    }.items():
        without = enumerated(kettle, rest).behind["no-heat", "kettle/scale"]
        expected = 10 * math.log10(full / (1 - full) * (1 - without) / without)
        assert weights[name] == pytest.approx(expected, abs=1e-6)


def test_a_cause_is_explained_in_words_the_strongest_answer_first(kettle):
    evidence = Evidence(
        ("no-heat",), {"lime": "limed"}, {("no-heat", "lamp"): "yes", ("no-heat", "hum"): "no"}
    )
    first, *_ = why_cause(believe(kettle, evidence), "kettle/scale", "no-heat")
    assert first.told == Told("no-heat", "hum", "no")
    assert first.reason == (
        "Does it hum after a minute? 'Silent' speaks strongly against it: odds 13 times lower."
    )


def test_a_cause_that_nobody_asked_about_is_explained_by_its_presence(kettle):
    weights = why_cause(believe(kettle, Evidence(("leaks",), {"lime": "limed"})), "kettle/scale")
    assert [w.told.name for w in weights] == ["lime"]
    assert weights[0].decibans > 3


def test_a_question_is_explained_by_what_each_answer_would_leave(kettle):
    belief = believe(kettle, Evidence(("no-heat",), {}, {("no-heat", "lamp"): "yes"}))
    costs = Prices(kettle, Workshop())
    why = why_ask(belief, "no-heat", "hum", costs)
    assert why.start == repairs_for(belief, costs, "no-heat").best().names[0]
    assert any(s.start != why.start for s in why.answers), "an answer changes what to start with"
    assert {s.answer: s.leader for s in why.answers} == {"no": "kettle/element-open", "yes": "kettle/scale"}
    assert sum(s.chance for s in why.answers) == pytest.approx(1)
    assert any(s.changes for s in why.answers)
    assert 0 < why.bits < why.open_bits
    for settles in why.answers:
        after = believe(kettle, belief.evidence.with_answer("no-heat", "hum", settles.answer))
        assert settles.leader_chance == after.behind("no-heat")[settles.leader]
    assert "would put 'Element burnt out' first, with" in why.reason


def test_a_question_that_changes_nothing_says_so(kettle):
    answers = {("no-heat", "lamp"): "no", ("no-heat", "other-socket"): "no", ("no-heat", "fuse"): "no"}
    why = why_ask(believe(kettle, Evidence(("no-heat",), {}, answers)), "no-heat", "hum")
    assert why.reason.endswith("No answer would change what comes first.")


def test_the_picture_names_the_answers_that_moved_it_most(kettle):
    evidence = Evidence(("no-heat",), {"lime": "limed", "handle": "worn"}, {("no-heat", "lamp"): "yes"})
    water, use = what_moved(believe(kettle, evidence))
    assert (water.condition, water.state) == ("water", "hard")
    assert water.weights[0].told.name == "lime"
    assert water.chance > water.before
    assert (use.condition, use.state) == ("use", "heavy")
    assert use.weights[0].told.name == "handle"


def test_what_nobody_complained_of_and_the_picture_makes_likely_is_worth_a_look(kettle):
    belief = believe(kettle, Evidence(("leaks",), {"lime": "limed", "handle": "worn"}))
    looks = also_look_at(belief)
    assert [each.cause for each in looks] == ["kettle/switch-worn", "kettle/element-open", "kettle/scale"]
    assert [each.risk for each in looks] == [Risk.DAMAGE, Risk.DAMAGE, Risk.NUISANCE]
    scale = looks[-1]
    assert scale.chance == belief.present["kettle/scale"]
    assert scale.usual == pytest.approx(0.30)
    assert scale.reason == "Scale on the element: 48 in 100, against 30 in 100 usually (hard water)."


def test_with_prices_the_dearest_to_miss_comes_first_within_a_risk(kettle):
    belief = believe(kettle, Evidence(("leaks",), {"lime": "limed", "handle": "worn"}))
    priced = also_look_at(belief, Prices(kettle, Workshop()))
    worth = [each.chance * each.price for each in priced if each.risk is Risk.DAMAGE]
    assert worth == sorted(worth, reverse=True)


def test_a_part_that_the_answers_clear_is_left_alone_with_the_reason(kettle):
    answers = {("no-heat", "lamp"): "yes", ("no-heat", "fuse"): "yes", ("no-heat", "flex"): "sound"}
    (flex,) = list(leave_alone(believe(kettle, Evidence(("no-heat",), {}, answers))))
    assert flex.part == "kettle/flex"
    assert flex.chance < 0.02 < flex.before
    assert flex.because == Told("no-heat", "lamp", "yes")
    assert flex.reason == (
        "Flex and plug: leave it alone, under 1 in 100 that anything is wrong with it. "
        "Does the lamp come on? 'Comes on'."
    )


def test_before_any_answer_nothing_is_cleared(kettle):
    assert leave_alone(believe(kettle, Evidence(("no-heat",)))) == ()
