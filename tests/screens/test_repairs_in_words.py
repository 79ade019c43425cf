"""Which repair to start with and what comes next if it fails, as the answer to "why this question" tells it."""

from __future__ import annotations

import itertools

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.model.workshop import Workshop
from diagtree.reasoning.asking import repairs_for
from diagtree.screens.words import why_question
from diagtree.work.prices import Prices


@pytest.fixture
def walker(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=("no-heat",))
    for _ in kettle.looks:
        walker.cannot_tell()
    return walker


def told(walker, costs):
    (line,) = (
        each for each in why_question(walker, walker.question, costs) if each.startswith("To start with")
    )
    return line


def test_repairs_are_named_in_the_order_that_costs_least(kettle, walker):
    """The order by going through all of them."""
    costs = Prices(kettle, Workshop())
    repairs = repairs_for(walker.belief, costs, "no-heat")
    names = [action.name for action in repairs.actions]
    orders = itertools.chain.from_iterable(
        itertools.permutations(names, count) for count in range(len(names) + 1)
    )
    first, second, *_ = (kettle.remedies[name].title for name in min(orders, key=repairs.expected))
    assert told(walker, costs).startswith(
        f"To start with as things stand: {first}. If that does not help: {second}"
    )
    assert "every order" not in told(walker, costs)


def test_where_too_many_repairs_are_possible_it_says_that_it_fell_back(kettle, walker, monkeypatch):
    monkeypatch.setattr("diagtree.reasoning.ordering.EXACT", 2)
    costs = Prices(kettle, Workshop())
    count = len(repairs_for(walker.belief, costs, "no-heat").actions)
    assert told(walker, costs).endswith(
        f"There are {count} repairs, too many to compare every order: what helps most for its price comes first."
    )
