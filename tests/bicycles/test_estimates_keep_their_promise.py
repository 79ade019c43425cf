"""Does the quoted price keep its promise on bicycles? 10,000 of each kind, worked on one by one by a plain program.

The plain program is the one that the engine's own test is held to; it shares only the catalogue with the estimate.
"""

from __future__ import annotations

import random
import runpy
from functools import cache
from pathlib import Path

import pytest
import yaml

from diagtree.library.loading import load_library
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.draws import draw as draw_machines
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.work.prices import Prices
from diagtree.work.work import work_out

TESTS = Path(__file__).parents[1]
BIKES = yaml.load((TESTS / "bicycles" / "worked_bikes.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
PLAIN = runpy.run_path(str(TESTS / "work" / "test_calibration.py"))
COUNT = 10_000
DRAWS = 20_000
TWO_ERRORS = 2 * (0.8 * 0.2 * (1 / COUNT + 1 / DRAWS)) ** 0.5
"""Both are samples: the bikes that are worked on, and those that the price was drawn from."""


class Remembered:
    """A catalogue's prices, each asked for once: the plain program asks ten thousand times."""

    def __init__(self, prices: Prices) -> None:
        self.jobs_of = self._once(prices.jobs_of)
        self.goods = self._once(prices.goods)
        self.choice = lambda cause: chosen(cause.title)
        titles = {cause.title: cause for cause in prices.library.causes.values()}
        chosen = cache(lambda title: prices.choice(titles[title]))

    @staticmethod
    def _once(ask):
        known = cache(ask)
        return lambda *lists: known(*(tuple(one) for one in lists))


@pytest.fixture(scope="module")
def library():
    return load_library()


def told(library, name):
    bike = BIKES[name]
    answers = {
        (s, check): answer for s, checks in bike["answers"].items() for check, answer in checks.items()
    }
    evidence = spread_facts(library, Evidence(tuple(bike["answers"]), bike["looks"], answers))
    return BeliefModel.of(library, evidence.complaints).given(evidence), evidence


def not_there(library, evidence):
    """Parts that an answer says the bike does not have."""
    return {
        part
        for (symptom, check), answer in evidence.answers.items()
        for part in library.trees[symptom].checks[check].answers[answer].without
    } | {
        part
        for look, answer in evidence.looks.items()
        for part in library.looks[look].answers[answer].without
    }


def cost_of_each(library, name):
    """The work for one of the bikes, and what 10,000 like it cost, tax included."""
    shop = Workshop()
    belief, evidence = told(library, name)
    work = work_out(library, belief, evidence, shop)
    prices, chance = Remembered(Prices(library, shop)), random.Random(4)
    machines = draw_machines(belief, COUNT, seed=77)
    absent = not_there(library, evidence)
    uncovered = {part for job in work.plan for part in library.jobs[job.job].uncovers} - absent
    behind = [[causes[n] for n in numbers] for causes, numbers in machines.behind.values()]
    there = {
        cause: machines.besides(cause)
        for cause, entry in library.causes.items()
        if entry.part in uncovered and belief.present[cause] > 0
    }
    totals = []
    for i in range(COUNT):
        causes = sorted({row[i] for row in behind})
        beside = [cause for cause, yes in there.items() if yes[i]]
        minutes, goods = PLAIN["one_machine"](library, prices, work, causes, beside, chance)
        net = minutes * float(shop.rate) / 60 + goods + float(shop.consumables)
        totals.append((1 + float(shop.tax) / 100) * net)
    return work, totals


@pytest.mark.parametrize("name", list(BIKES))
def test_of_ten_thousand_bikes_eighty_of_a_hundred_come_in_at_or_under_the_price(library, name):
    work, totals = cost_of_each(library, name)
    assert (work.estimate.draws, work.estimate.confidence) == (DRAWS, 80)
    assert work.estimate.price > work.estimate.planned.total
    assert PLAIN["kept"](totals, work.estimate.price) == pytest.approx(0.8, abs=TWO_ERRORS)
