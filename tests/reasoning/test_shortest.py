"""The shortest order, and the best order by exact search."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.library.library import join
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.best import BestOrder
from diagtree.reasoning.choosing import LEAST_BITS, gains
from diagtree.reasoning.evidence import Evidence
from diagtree.reasoning.ideal import IdealTree, State, entropy_bound, huffman, saved_by_asking_earlier
from diagtree.reasoning.rows import entropy
from diagtree.reasoning.shortest import next_check


def test_the_next_check_is_an_open_one_and_not_one_that_nobody_could_tell(kettle):
    belief = BeliefModel.of(kettle, ["no-heat"]).given(Evidence(("no-heat",)))
    first = next_check(belief)
    assert first is not None
    assert first.bits >= LEAST_BITS
    assert first in gains(belief)
    second = next_check(belief, unable={first.place})
    assert second is not None
    assert second.place != first.place


def test_when_everything_is_answered_there_is_no_next_check(kettle):
    answers = {
        ("slow-boil", "look-inside"): "bare",
        ("slow-boil", "lid"): "yes",
        ("slow-boil", "heat"): "low",
    }
    assert (
        next_check(BeliefModel.of(kettle, ["slow-boil"]).given(Evidence(("slow-boil",), {}, answers))) is None
    )


def test_a_complaint_that_is_ended_is_not_asked_about(kettle):
    belief = BeliefModel.of(kettle, ["no-heat", "slow-boil"]).given(Evidence(("no-heat", "slow-boil")))
    first = next_check(belief)
    other = next_check(belief, ended=[first.symptom])
    assert other is not None
    assert other.symptom != first.symptom
    assert next_check(belief, ended=["no-heat", "slow-boil"]) is None


def table(shares, columns, minutes):
    """A library whose checks can be asked in any order; each cause gives each check a certain answer."""
    causes = {
        f"c{n}": {"title": "C", "out-of-100": 10, "risk": "nuisance", "why": "W.", "remedies": ["mend"]}
        for n in range(len(shares))
    }
    checks = {}
    for q, column in enumerate(columns):
        checks[f"q{q}"] = {
            "ask": "What?", "minutes": minutes[q], "anytime": True,
            "answers": {f"a{a}": {"says": "so", "next": "last"} for a in sorted(set(column))},
            "shows": {f"c{n}": f"a{a}" for n, a in enumerate(column)},
        }  # fmt: skip
    # Each cause has a leaf of its own; the check with the leaves itself tells nothing that is open.
    checks["last"] = {
        "ask": "Which?", "minutes": 900,
        "answers": {f"l{n}": {"says": "so", "found": {f"c{n}": share}} for n, share in enumerate(shares)},
    }  # fmt: skip
    tree = {"symptom": "s", "title": "S", "family": "f", "first": "q0", "checks": checks}
    return IdealTree(
        join(
            [Family.model_validate({"family": "f", "title": "F", "causes": causes})],
            [],
            [Tree.model_validate(tree)],
        ),
        "s",
    )


E3 = table([45, 45, 5, 5], [(0, 0, 1, 1), (0, 1, 1, 1), (1, 0, 0, 1)], [1, 1, 1])


def test_e3_the_greedy_order_is_not_the_best_and_the_search_finds_the_best():
    """Constructed, worked out by brute force: greedy 2.0, best 1.65 starting with the second check."""
    assert E3.walk(E3.most_a_minute).expected == pytest.approx(2.0)
    best = BestOrder(E3)
    assert best.expected() == pytest.approx(1.65)
    assert best.policy()(E3.start) == "q1"
    assert E3.walk(best.policy()).expected == pytest.approx(1.65)


def test_e3_looking_ahead_finds_the_best_order_too():
    assert E3.walk(E3.shortest).expected == pytest.approx(1.65)


@pytest.mark.parametrize(
    ("chances", "bits", "checks"),
    [
        ((0.4, 0.3, 0.2, 0.1), 1.846439, 1.9),
        ((0.5, 0.25, 0.125, 0.125), 1.75, 1.75),
        ((0.9, 0.1), 0.468996, 1),
    ],
)
def test_e4_entropy_and_huffman_bound_the_number_of_two_way_checks(chances, bits, checks):
    assert entropy(chances) == pytest.approx(bits, abs=1e-6)
    assert huffman(chances) == pytest.approx(checks)
    assert bits <= checks < bits + 1


def by_brute_force(ideal, state):
    """The least expected minutes, trying every order; nothing is remembered."""
    if ideal.done(state):
        return 0.0
    total = math.fsum(weight for _, weight in state.weights)
    costs = [
        ideal.minutes(state, name)
        + sum(weight / total * by_brute_force(ideal, then) for _, weight, then in ideal.after(state, name))
        for name in ideal.useful(state)
    ]
    return min(costs, default=0.0)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_the_search_agrees_with_brute_force_on_small_trees(data, small_library):
    library = data.draw(small_library(complaints=1, causes=4, conditions=0))
    ideal = IdealTree(library, "s0")
    best = BestOrder(ideal)
    truth = by_brute_force(ideal, ideal.start)
    assert best.expected() == pytest.approx(truth)
    assert ideal.walk(best.policy()).expected == pytest.approx(truth)
    assert ideal.walk(ideal.shortest).expected >= truth - 1e-9
    assert ideal.walk(ideal.most_a_minute).expected >= ideal.walk(ideal.shortest).expected - 1e-9


@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_no_order_beats_the_entropy_bound(data):
    """E[minutes] >= I(leaf; cause) min over checks of minutes / log2(answers)."""
    count = data.draw(st.integers(2, 5))
    shares = data.draw(st.lists(st.integers(1, 50), min_size=count, max_size=count))
    columns = [tuple(n >> bit & 1 for n in range(count)) for bit in range(3)]
    columns = [column for column in columns if len(set(column)) > 1]
    minutes = [data.draw(st.sampled_from([1, 2, 7])) for _ in columns]
    ideal = table(shares, columns, minutes)
    assert entropy_bound(ideal) <= BestOrder(ideal).expected() + 1e-9


def test_the_kettle_in_the_authors_order_takes_what_it_takes_by_hand(kettle):
    """No-heat: 6 of 100 end after lamp and other socket (3 min), 18 after the fuse too (6), 38 after the flex (7),
    38 after lamp and hum (2)."""
    walked = (ideal := IdealTree(kettle, "no-heat")).walk(ideal.guided())
    assert walked.expected == pytest.approx((6 * 3 + 18 * 6 + 38 * 7 + 38 * 2) / 100)
    assert (walked.least, walked.most) == (2, 7)
    assert (walked.fewest, walked.greatest) == (2, 4)


def test_asking_earlier_saves_what_the_two_orders_differ_by(kettle):
    ideal = IdealTree(kettle, "no-heat")
    now = ideal.walk(ideal.guided()).expected
    saved, first, second = saved_by_asking_earlier(ideal)[0]
    assert now - ideal.walk(ideal.guided((first, second))).expected == pytest.approx(saved)
    assert saved > 0


def test_a_state_that_is_settled_is_done(kettle):
    ideal = IdealTree(kettle, "no-heat")
    one = State((ideal.start.weights[0],))
    assert ideal.done(one)
    assert ideal.useful(one) == []
