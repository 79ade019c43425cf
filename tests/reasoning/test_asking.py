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


def test_few_repairs_are_compared_in_every_order(kettle, costs):
    advice = ask_or_fix(belief_of(kettle), costs, "no-heat")
    assert advice is not None
    assert advice.order.exact, "six remedies: every order was compared"


def test_more_repairs_than_can_be_compared_are_said_to_be_so(kettle, costs, monkeypatch):
    monkeypatch.setattr("diagtree.reasoning.ordering.EXACT", 2)
    belief = belief_of(kettle, ("lamp", "yes"), ("hum", "no"))
    advice = ask_or_fix(belief, costs, "no-heat")
    assert advice is not None
    assert advice.stop
    assert not advice.order.exact
    assert advice.reason.endswith(f" {count_of(belief, costs)} repairs, too many to compare every order.")


def count_of(belief, costs):
    return len(repairs_for(belief, costs, "no-heat").actions)


def test_a_near_tie_is_no_reason_to_stop_asking(kettle, costs, monkeypatch):
    belief = belief_of(kettle, ("lamp", "no"), ("other-socket", "no"), ("fuse", "no"))
    clear = ask_or_fix(belief, costs, "no-heat")
    assert clear is not None
    assert clear.stop
    share = 1 - clear.fix_cost / clear.ask_cost
    monkeypatch.setattr("diagtree.reasoning.asking.MARGIN", float(share) + 0.001)
    near = ask_or_fix(belief, costs, "no-heat")
    assert near is not None
    assert not near.stop
    assert (near.fix_cost, near.ask_cost) == (clear.fix_cost, clear.ask_cost)
    assert near.reason.startswith("Ask first: '")
    assert near.reason.endswith(
        f"That costs as much as to fix now, {near.ask_cost} against {near.fix_cost} EUR on average, and tells more."
    )


def test_what_a_check_has_opened_is_not_paid_again_for_the_repair(kettle, costs):
    """The base is off for the look at the contacts; the repairs behind it need only close it."""
    before = repairs_for(belief_of(kettle), costs, "no-heat", opened=())
    after = repairs_for(belief_of(kettle), costs, "no-heat", opened=("kettle/base-off",))
    switch = {action.name: action for action in before.actions}["kettle/new-switch"]
    opened = {action.name: action for action in after.actions}["kettle/new-switch"]
    assert opened.opens == ("kettle/base-on",)
    base_off = float(costs.minutes(["kettle/base-off"]) * costs.minute)
    assert before.price(switch, ()) - after.price(opened, ()) == pytest.approx(base_off)
    assert after.expected([opened.name]) < before.expected([switch.name])
