"""The order of repairs against published examples and brute force.

P1: Jensen et al., AI EDAM 15:321-333, 2001, figure 1. P2: Lin, IJAR 55:977-988, 2014, figure 2. K1 to K7 were
constructed and worked out by brute force over all orders.
"""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.reasoning.ordering import EXACT, Action, Repairs, independent_faults, one_fault, with_check


def singles(chances, costs, cures=None, give_up=0.0, openings=None, opens=None):
    cures = cures or dict.fromkeys(chances, 1.0)
    return Repairs(
        one_fault(chances),
        [Action(f, costs[f], {f: cures[f]}, tuple((opens or {}).get(f, ()))) for f in chances],
        openings or {},
        give_up,
    )


JENSEN = Repairs(
    one_fault({"1": 0.20, "2": 0.25, "3": 0.40, "4": 0.15}),
    [Action("A1", 1, {"1": 1, "2": 1}), Action("A2", 1, {"2": 1, "3": 1}), Action("A3", 1, {"3": 1, "4": 1})],
)


@pytest.mark.parametrize(
    ("order", "cost"),
    [("213", 1.50), ("312", 1.45), ("132", 1.55), ("231", 1.55), ("321", 1.65), ("123", 1.70)],
)
def test_p1_each_order_of_overlapping_actions_costs_what_was_published(order, cost):
    assert JENSEN.expected(f"A{number}" for number in order) == pytest.approx(cost)


def test_p1_the_ratio_order_is_not_the_best_and_the_search_finds_the_best():
    assert JENSEN.by_ratio().names == ("A2", "A1", "A3")
    assert JENSEN.by_ratio().cost == pytest.approx(1.50)
    best = JENSEN.best()
    assert best.names == ("A3", "A1"), "these two cure all four: nothing is left for A2"
    assert best.cost == pytest.approx(1.45)
    assert best.exact


def test_p2_a_check_that_costs_more_than_it_saves_is_not_made():
    plain = singles({"1": 0.5, "2": 0.25, "3": 0.25}, dict.fromkeys("123", 1))
    assert plain.best().cost == pytest.approx(7 / 4)
    after_first = [
        (0.5, singles({"2": 1.0, "3": 0.0}, dict.fromkeys("23", 1))),
        (0.5, singles({"2": 0.0, "3": 1.0}, dict.fromkeys("23", 1))),
    ]
    assert 1 + 0.5 * with_check(1, after_first) == pytest.approx(2)


K1 = singles(
    {"a": 0.10, "b": 0.30, "c": 0.20, "d": 0.25, "e": 0.15}, {"a": 4, "b": 30, "c": 5, "d": 12, "e": 3}
)


def test_k1_single_faults_go_by_chance_a_cost():
    assert K1.by_ratio().names == K1.best().names == tuple("ecadb")
    assert K1.best().cost == pytest.approx(25.45)
    assert K1.expected("eacdb") == pytest.approx(25.75), "by cost"
    assert K1.expected("bdcea") == pytest.approx(41.8), "by chance"
    assert max(K1.expected(order) for order in itertools.permutations("abcde")) == pytest.approx(42.4)


K2 = singles(
    {"1": 0.5, "2": 0.3, "3": 0.2},
    {"1": 10, "2": 4, "3": 10},
    {"1": 0.8, "2": 0.9, "3": 1},
    give_up=100,
)


@pytest.mark.parametrize(
    ("order", "cost"),
    [("213", 27.6), ("123", 28.7), ("231", 29.6), ("132", 30.6), ("321", 31.5), ("312", 32.6)],
)
def test_k2_actions_that_may_fail_cost_what_brute_force_says(order, cost):
    assert K2.expected(order) == pytest.approx(cost)


def test_k2_actions_that_may_fail_go_by_chance_times_holding_a_cost():
    assert K2.best().names == K2.by_ratio().names == ("2", "1", "3")
    assert K2.best().unresolved == pytest.approx(0.13)


def test_k3_the_search_gives_up_when_going_on_costs_more():
    repairs = singles(
        {"1": 0.60, "2": 0.25, "3": 0.15},
        {"1": 10, "2": 15, "3": 40},
        {"1": 1, "2": 0.9, "3": 0.5},
        give_up=50,
    )
    assert repairs.best().names == ("1", "2")
    assert repairs.best().cost == pytest.approx(24.75)
    assert repairs.expected("123") == pytest.approx(28.0)
    assert repairs.expected("1") == pytest.approx(30.0)


def test_k4_a_perfect_check_before_a_repair_is_ordered_by_the_cost_of_the_check():
    checks, repair = {"X": 2, "Y": 5, "Z": 8}, {"X": 60, "Y": 5, "Z": 10}
    chances = {"X": 0.3, "Y": 0.3, "Z": 0.4}
    repairs = Repairs(one_fault(chances), [Action(n, checks[n], {n: 1}, then=repair[n]) for n in chances])
    assert repairs.best().names == ("X", "Y", "Z")
    assert repairs.best().cost == pytest.approx(32.2)
    assert repairs.expected("YZX") == pytest.approx(34.7)
    assert repairs.by_ratio().names == ("X", "Y", "Z")


def test_k5_one_cover_over_two_parts_breaks_the_ratio_order_and_the_search_mends_it():
    repairs = singles(
        {"A": 0.4, "B": 0.3, "C": 0.1, "D": 0.2},
        {"A": 6, "B": 2, "C": 4, "D": 9},
        openings={"cover": 14},
        opens={"A": ["cover"], "B": ["cover"]},
    )
    assert repairs.by_ratio().names == tuple("CDAB")
    assert repairs.by_ratio().cost == pytest.approx(26.7)
    assert repairs.best().names == tuple("BACD")
    assert repairs.best().cost == pytest.approx(23.2)


def test_k6_independent_faults_of_a_failed_machine_go_by_odds_a_cost():
    """Srinivas 1995, arXiv 1302.4985: order by p / (C (1 - p))."""
    repairs = Repairs(
        independent_faults({"a": 0.6, "b": 0.1}), [Action("a", 10, {"a": 1}), Action("b", 1, {"b": 1})]
    )
    assert repairs.expected("ab") == pytest.approx(10.15625)
    assert repairs.expected("ba") == pytest.approx(10.375)
    assert repairs.best().names == ("a", "b")


def test_k7_a_check_that_changes_the_order_is_worth_what_it_saves():
    chances = {"1": 0.40, "2": 0.35, "3": 0.25}
    costs = {"1": 20, "2": 30, "3": 50}
    yes = {"1": 0.9, "2": 0.2, "3": 0.1}
    assert singles(chances, costs).best().cost == pytest.approx(50.5)
    p_yes = sum(chances[n] * yes[n] for n in chances)
    assert p_yes == pytest.approx(0.455)
    after_yes = {n: chances[n] * yes[n] / p_yes for n in chances}
    after_no = {n: chances[n] * (1 - yes[n]) / (1 - p_yes) for n in chances}
    assert list(after_yes.values()) == pytest.approx([0.791209, 0.153846, 0.054945], abs=1e-6)
    assert list(after_no.values()) == pytest.approx([0.073394, 0.513761, 0.412844], abs=1e-6)
    assert singles(after_yes, costs).best().cost == pytest.approx(29.010989, abs=1e-6)
    assert singles(after_no, costs).best().cost == pytest.approx(55.779817, abs=1e-6)
    assert singles(after_no, costs).best().names == ("2", "3", "1")
    eco = with_check(2, [(p_yes, singles(after_yes, costs)), (1 - p_yes, singles(after_no, costs))])
    assert eco == pytest.approx(45.6)
    assert 50.5 - eco == pytest.approx(4.9)


def test_with_more_actions_than_can_be_compared_it_says_that_it_fell_back():
    many = [str(number) for number in range(EXACT + 1)]
    repairs = singles(dict.fromkeys(many, 1 / len(many)), {name: float(name) + 1 for name in many})
    fallen = repairs.best()
    assert not fallen.exact
    assert fallen.names == tuple(many), "cheapest first, all alike"
    assert (
        fallen.reason == "9 repairs are too many to compare every order (at most 8): ordered by chance a cost"
    )


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_the_search_finds_the_least_of_all_orders_and_stops(data):
    names = "abcd"[: data.draw(st.integers(1, 4))]
    shares = [data.draw(st.integers(1, 9)) for _ in names]
    actions = [
        Action(
            name,
            data.draw(st.integers(1, 30)),
            {
                f: data.draw(st.sampled_from([0.3, 0.8, 1.0]))
                for f in names
                if f == name or data.draw(st.booleans())
            },
            ("cover",) if data.draw(st.booleans()) else (),
        )
        for name in names
    ]
    repairs = Repairs(
        one_fault({name: share / sum(shares) for name, share in zip(names, shares, strict=True)}),
        actions,
        {"cover": data.draw(st.integers(1, 40))},
        give_up=data.draw(st.integers(1, 200)),
    )
    least = min(
        repairs.expected(order)
        for count in range(len(names) + 1)
        for order in itertools.permutations(names, count)
    )
    assert repairs.best().cost == pytest.approx(least)
    assert repairs.expected(repairs.best().names) == pytest.approx(least)
    ratio = repairs.by_ratio()
    assert ratio.cost >= least - 1e-9
    assert ratio.cost == pytest.approx(repairs.expected(ratio.names))
    assert ratio.unresolved == pytest.approx(repairs.left(a for a in actions if a.name in ratio.names))
