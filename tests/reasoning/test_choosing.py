"""What a check is worth: check values computed by brute force, and the enumeration over several complaints.

E1, E2, E5: gains recomputed by brute force from the definition H(C) - sum P(a) H(C|a).
"""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.choosing import gains, information, ready
from diagtree.reasoning.effort import opening_jobs
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.rows import CheckRows, Finding, entropy, split_causes


def gain(prior, rows):
    """The gain of a check with one row for each (cause, share)."""
    findings = tuple(Finding(cause, "q", str(n), share) for n, (cause, share) in enumerate(prior))
    speaks = tuple((n, n) for n in range(len(prior)))
    numbers, behind = {}, {}
    for n, (cause, share) in enumerate(prior):
        numbers.setdefault(cause, []).append(n)
        behind[cause] = behind.get(cause, 0) + share
    check = CheckRows(
        answers=tuple(str(n) for n in range(len(rows[0]))),
        sound=(1 / len(rows[0]),) * len(rows[0]),
        rows=tuple(rows),
        speaks=speaks,
        split=split_causes(speaks, findings, numbers),
        strangers={},
        fact=None,
    )
    return information(check, [share for _, share in prior], behind)


THREE = [("1", 0.5), ("2", 0.3), ("3", 0.2)]


def test_e1_a_yes_or_no_check_tells_its_mutual_information():
    assert gain(THREE, [(0.9, 0.1), (0.2, 0.8), (0.1, 0.9)]) == pytest.approx(0.4525262446, abs=1e-10)


def test_e2_a_check_of_three_answers_tells_its_mutual_information():
    rows = [(0.7, 0.2, 0.1), (0.1, 0.8, 0.1), (0.1, 0.1, 0.8)]
    assert gain(THREE, rows) == pytest.approx(0.5141670790, abs=1e-10)
    assert entropy([0.5, 0.3, 0.2]) == pytest.approx(1.4854752972, abs=1e-10)


T1, T2, T3 = "1100", "1010", "1000"


@pytest.mark.parametrize(("pattern", "cause", "group"), [(T1, 1, 0), (T2, 1, 0), (T3, 0.811278, 0.311278)])
def test_e5_the_gain_is_about_the_cause_not_about_the_group_of_repairs(pattern, cause, group):
    """The gain about the repair group would call the two best checks worthless."""
    rows = [(1.0, 0.0) if sign == "1" else (0.0, 1.0) for sign in pattern]
    assert gain([(str(n), 0.25) for n in range(4)], rows) == pytest.approx(cause, abs=1e-6)
    grouped = [("14", 0.25), ("23", 0.25), ("23", 0.25), ("14", 0.25)]
    assert gain(grouped, rows) == pytest.approx(group, abs=1e-6)


def _joint_gain(library, evidence, symptom, check, enumerated):
    """H(C) - sum P(a) H(C | a), C being the responsible causes of all complaints together."""
    before = entropy(enumerated(library, evidence).all_causes.values())
    weights = {
        answer: enumerated(library, evidence.with_answer(symptom, check, answer))
        for answer in library.trees[symptom].checks[check].answers
    }
    total = sum(truth.total for truth in weights.values())
    after = sum(truth.total / total * entropy(truth.all_causes.values()) for truth in weights.values())
    return before - after


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_the_gain_is_the_information_about_the_causes_of_all_complaints(data, enumerated, small_library):
    """Though only the check's own complaint is looked at: the chain rule of mutual information."""
    library = data.draw(small_library(complaints=2, causes=3))
    library = replace(library, trees={
        name: tree.model_copy(update={"checks": {
            n: check.model_copy(update={"fact": None, "anytime": True}) for n, check in tree.checks.items()}})
        for name, tree in library.trees.items()})  # fmt: skip
    evidence = Evidence(tuple(library.trees), {}, {("s0", "q0"): "a0"})
    for worth in gains(BeliefModel.of(library, evidence.complaints).given(evidence)):
        truth = _joint_gain(library, evidence, *worth.place, enumerated)
        assert worth.bits == pytest.approx(truth, abs=1e-9)


def test_a_check_is_open_when_no_answer_speaks_against_the_way_to_it(kettle):
    tree = kettle.trees["no-heat"]
    assert ready(tree, {}) == {"lamp", "other-socket", "fuse", "flex", "hum"}
    assert ready(tree, {"lamp": "yes"}) == {"hum", "fuse", "flex"}, "fuse and flex make sense at any time"
    assert ready(tree, {"lamp": "no"}) == {"other-socket", "fuse", "flex"}


def test_a_fact_in_two_trees_is_worth_what_it_tells_in_both(kettle):
    both = BeliefModel.of(kettle, ["no-heat", "leaks"]).given(Evidence(("no-heat", "leaks")))
    parts = 0.0
    for symptom, check in (("no-heat", "flex"), ("leaks", "flex-look")):
        rows = both.model.rows[symptom]
        parts += information(rows.checks[check], both.finding_chances(symptom), both.behind(symptom))
    worth = {w.place: w for w in gains(both)}
    assert worth["no-heat", "flex"].bits == worth["leaks", "flex-look"].bits
    assert worth["no-heat", "flex"].bits == pytest.approx(parts)


def _behind(kettle, **jobs):
    tree = kettle.trees["no-heat"]
    checks = {
        name: check.model_copy(update={"behind": jobs.get(name, ()), "anytime": True})
        for name, check in tree.checks.items()
    }
    return replace(kettle, trees={"no-heat": tree.model_copy(update={"checks": checks})})


def test_opening_work_is_paid_once_for_all_checks_behind_it(kettle):
    library = _behind(kettle, hum=("kettle/base-off",), flex=("kettle/base-off",))
    model = BeliefModel.of(library, ["no-heat"])
    before = {w.check: w for w in gains(model.given(Evidence(("no-heat",))))}
    assert before["hum"].minutes == before["flex"].minutes == 3, "two minutes for the base, one to look"
    assert before["hum"].opening == ("kettle/base-off",)
    told = Evidence(("no-heat",), {}, {("no-heat", "flex"): "sound"})
    after = {w.check: w for w in gains(model.given(told))}
    assert after["hum"].minutes == 1
    assert after["hum"].opening == ()


def test_opening_work_is_laid_on_all_checks_that_are_worth_doing_behind_it(kettle):
    library = _behind(kettle, hum=("kettle/base-off",), lamp=("kettle/base-off",))
    worths = gains(BeliefModel.of(library, ["no-heat"]).given(Evidence(("no-heat",))))
    hum, lamp = ({w.check: w for w in worths}[name] for name in ("hum", "lamp"))
    first = max(hum, lamp, key=lambda w: w.bits)
    assert first.per_minute == pytest.approx((hum.bits + lamp.bits) / (2 + 1 + 1))
    assert first.per_minute > first.bits / first.minutes
    other = min(hum, lamp, key=lambda w: w.bits)
    assert other.per_minute == pytest.approx(other.bits / 3)


def test_what_an_opening_job_needs_is_opened_too(kettle):
    assert opening_jobs(kettle, ["kettle/swap-element"]) == {
        "kettle/swap-element": 8.0,
        "kettle/base-off": 2.0,
    }


def test_a_check_of_no_minutes_is_not_infinitely_good(kettle):
    tree = kettle.trees["slow-boil"]
    quick = tree.checks["lid"].model_copy(update={"minutes": Decimal(0)})
    library = replace(
        kettle, trees={"slow-boil": tree.model_copy(update={"checks": tree.checks | {"lid": quick}})}
    )
    worths = gains(BeliefModel.of(library, ["slow-boil"]).given(Evidence(("slow-boil",))))
    assert all(math.isfinite(w.per_minute) for w in worths)


def test_entropy_of_a_sure_thing_is_nothing():
    assert entropy([1.0, 0.0]) == 0
