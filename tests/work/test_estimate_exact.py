"""The whole distribution of prices against full enumeration, with conditions that tie causes together."""

import itertools
from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.model.family import Verdict
from diagtree.model.workshop import Brief, Workshop
from diagtree.work.prices import Prices, next_stronger
from diagtree.work.work import work_out

SHOP = Workshop(
    rate=Decimal(60), tax=Decimal(0), consumables=Decimal(0), rounding=Decimal("0.01"), brief=Brief.FULL
)


def steady(library):
    """The same library with minutes that never vary, and no final checks."""
    jobs = {
        name: job.model_copy(update={"minutes": (job.minutes[1],) * 3}) for name, job in library.jobs.items()
    }
    return replace(library, jobs=jobs, final_checks={})


def chance_in(library, cause, state):
    """pi_c(x) as the design defines it: the share times the factors over their mean, at most 0.95."""
    entry = library.causes[cause]
    factor = mean = 1.0
    for condition, table in entry.more_likely.items():
        factor *= float(table.get(state[condition], 1))
        states = library.conditions[condition].states
        mean *= sum(float(one.out_of_100) / 100 * float(table.get(name, 1)) for name, one in states.items())
    return min(0.95, float(entry.out_of_100) / 100 * factor / mean)


def enumerated(library, work, symptom):
    """Each price of one complaint with its chance, worked out from the catalogue alone."""
    prices = Prices(library, SHOP)
    planned = [row.remedy for row in work.verdicts if row.planned]
    chosen = {row.cause: row.remedy for row in work.verdicts}
    plan = [job.job for job in work.plan]
    uncovered = {part for job in plan for part in library.jobs[job].uncovers}
    met = [
        name
        for name, cause in library.causes.items()
        if cause.part in uncovered and not curing(library, planned, cause)
    ]
    counts: dict[str, float] = {}
    for check in library.trees[symptom].checks.values():
        for answer in check.answers.values():
            for cause, count in (answer.found or {}).items():
                counts[cause] = counts.get(cause, 0.0) + float(count)
    conditions = library.conditions
    found: dict[int, float] = {}
    total = 0.0
    for names in itertools.product(*(condition.states for condition in conditions.values())):
        state = dict(zip(conditions, names, strict=True))
        p_state = 1.0
        for condition, name in state.items():
            p_state *= float(conditions[condition].states[name].out_of_100) / 100
        for cause, count in counts.items():
            entry = library.causes[cause]
            weight = p_state * count * chance_in(library, cause, state) / (float(entry.out_of_100) / 100)
            total += weight
            others = [name for name in met if name != cause]
            for there in itertools.product((True, False), repeat=len(others)):
                p = weight
                for name, yes in zip(others, there, strict=True):
                    p *= chance_in(library, name, state) if yes else 1 - chance_in(library, name, state)
                once = {chosen.get(name) or prices.choice(library.causes[name]) for name, yes in
                        zip(others, there, strict=True) if yes}  # fmt: skip
                cures = curing(library, planned, entry)
                if not cures:
                    branches = [(1.0, once | {chosen.get(cause) or prices.choice(entry)}, set())]
                else:
                    holds = float(library.remedies[cures[-1]].holds) / 100
                    again = {next_stronger(entry, cures[-1])} - {cures[-1]}
                    branches = [(holds, once, set()), (1 - holds, once, again)]
                for share, besides, anew in branches:
                    price = cost(prices, planned, plan, besides, anew)
                    found[price] = found.get(price, 0.0) + p * share
    return {price: chance / total for price, chance in found.items()}


def curing(library, planned, cause):
    """Planned remedies for a cause: the author's, else a new part in its place."""
    new = [r for r in planned if library.remedies[r].verdict is Verdict.REPLACE]
    return [r for r in cause.remedies if r in planned] or [
        r for r in new if cause.part in library.remedies[r].parts
    ]


def cost(prices, planned, plan, besides, again):
    """In cents."""
    jobs = dict.fromkeys(
        job for remedy in sorted(besides) for job in prices.jobs_of([remedy]) if job not in plan
    )
    anew = dict.fromkeys(job for remedy in sorted(again) for job in prices.jobs_of([remedy]))
    net = prices.minutes([*plan, *jobs, *anew])
    net += prices.goods([*planned, *besides], [*plan, *jobs]) + prices.goods(again, anew)
    return round(net * 100)


@pytest.mark.parametrize("symptom", ["no-heat", "slow-boil", "leaks"])
def test_every_price_comes_as_often_as_full_enumeration_says(kettle, believed, symptom):
    library = steady(kettle)
    belief, evidence = believed(library, [symptom])
    chances = None
    for confidence in (50, 65, 75, 80, 88, 93, 97):
        shop = SHOP.model_copy(update={"confidence": Decimal(confidence)})
        work = work_out(library, belief, evidence, shop)
        chances = chances or enumerated(library, work, symptom)
        assert sum(chances.values()) == pytest.approx(1)
        quoted = round(work.estimate.price * 100)
        # Four standard errors of 20,000 draws: what lies under the price, and what lies under the next lower one.
        error = 4 * (confidence / 100 * (1 - confidence / 100) / 20_000) ** 0.5
        at_or_under = sum(chance for price, chance in chances.items() if price <= quoted)
        under = sum(chance for price, chance in chances.items() if price < quoted)
        assert at_or_under >= confidence / 100 - error
        assert under <= confidence / 100 + error
    assert len(chances) >= 4
