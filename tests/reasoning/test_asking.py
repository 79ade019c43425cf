"""Ask or fix, in the workshop's money."""

from __future__ import annotations

from decimal import Decimal

import pytest

from diagtree.model.workshop import Workshop
from diagtree.reasoning.asking import ask_or_fix, repairs_for
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence
from diagtree.work.prices import Prices


@pytest.fixture(scope="module")
def costs(kettle):
    return Prices(kettle, Workshop())


def belief_of(kettle, *answers, symptom="no-heat"):
    told = Evidence((symptom,), {}, {(symptom, check): answer for check, answer in answers})
    return BeliefModel.of(kettle, [symptom]).given(told)


def test_a_remedy_that_two_causes_name_is_one_action(kettle, costs):
    repairs = repairs_for(belief_of(kettle), costs, "no-heat")
    cures = {action.name: action.cures for action in repairs.actions}
    assert cures["kettle/new-element"] == {"kettle/scale": 0.98, "kettle/element-open": 0.98}
    assert cures["kettle/descale"] == {"kettle/scale": 0.85}
    assert repairs.give_up == 35 + 60


def test_opening_and_closing_are_paid_once_for_all_repairs_behind_them(kettle, costs):
    repairs = repairs_for(belief_of(kettle), costs, "no-heat")
    by_name = {action.name: action for action in repairs.actions}
    assert set(by_name["kettle/new-switch"].opens) == {"kettle/base-off", "kettle/base-on"}
    first = repairs.price(by_name["kettle/new-switch"], ())
    second = repairs.price(by_name["kettle/clean-contacts"], by_name["kettle/new-switch"].opens)
    assert first == pytest.approx(float(costs.remedy_price("kettle/new-switch")))
    assert second == pytest.approx(float(costs.minutes(["kettle/wipe-contacts"])) * 1.0)


def test_before_any_answer_it_is_cheaper_to_ask(kettle, costs):
    advice = ask_or_fix(belief_of(kettle), costs, "no-heat")
    assert advice is not None
    assert not advice.stop
    assert advice.ask_cost is not None
    assert advice.ask_cost < advice.fix_cost
    assert advice.reason.startswith("Ask first: '")


def test_when_the_cause_is_plain_it_says_stop_asking_and_why(kettle, costs):
    belief = belief_of(kettle, ("lamp", "no"), ("other-socket", "no"), ("fuse", "no"))
    advice = ask_or_fix(belief, costs, "no-heat")
    assert advice is not None
    assert advice.stop
    assert advice.start == "kettle/new-fuse"
    assert advice.reason.startswith(
        "Stop asking: start with 'Fit a new fuse', because it helps 67 times in 100. To fix now costs "
    )


def test_the_cost_with_a_check_first_is_the_mean_over_its_answers(kettle, costs):
    """ECO = cost of the check + sum over answers of P(answer) ECR(after it)."""
    belief = belief_of(kettle)
    advice = ask_or_fix(belief, costs, "no-heat")
    assert advice is not None
    check = kettle.trees["no-heat"].checks[advice.check]
    mean = float(check.minutes) * 1.0
    for answer, chance in belief.predict("no-heat", advice.check).items():
        after = belief.model.given(belief.evidence.with_answer("no-heat", advice.check, answer))
        mean += chance * repairs_for(after, costs, "no-heat").best().cost
    assert advice.ask_cost == Decimal(mean).quantize(Decimal("0.01"))


def test_when_nothing_is_left_to_ask_it_says_so(kettle, costs):
    answers = [("look-inside", "bare"), ("lid", "yes"), ("heat", "low")]
    advice = ask_or_fix(belief_of(kettle, *answers, symptom="slow-boil"), costs, "slow-boil")
    assert advice is not None
    assert advice.stop
    assert advice.check is None
    assert advice.reason.startswith("Nothing is left to ask: start with ")


def test_more_repairs_than_can_be_compared_are_said_to_be_so(kettle, costs):
    advice = ask_or_fix(belief_of(kettle), costs, "no-heat")
    assert advice is not None
    assert advice.order.exact, "six remedies: every order was compared"
