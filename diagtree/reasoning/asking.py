"""Ask or fix: when starting with a repair costs less than the best question, stop asking.

Expected cost of repair (ECR) against expected cost with an observation first (ECO), in the workshop's money;
Heckerman, Breese, Rommelse, CACM 38(3):49-57, 1995.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple, Protocol

from diagtree.library.library import Library
from diagtree.model.family import Verdict
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import Belief
from diagtree.reasoning.choosing import Place, Worth, gains
from diagtree.reasoning.evidence import spread_facts
from diagtree.reasoning.ordering import Action, Repairs, TryInOrder, one_fault

LEAST_CHANCE = 0.01
"""Repairs for a cause less likely than this are not weighed; it is left among what nothing mends."""

LEAST_BITS = 0.005
"""A check that tells less than this is not weighed; of the others money decides."""

MOST_CHECKS = 4
"""So many of the best checks are weighed in money."""

MARGIN = 0.01
"""Fixing must be cheaper than asking by more than this share of it: a near tie is no reason to stop asking."""


class Costs(Protocol):
    """What work costs in one workshop; `diagtree.work.prices.Prices` is one."""

    @property
    def library(self) -> Library:
        """The library."""

    @property
    def workshop(self) -> Workshop:
        """The workshop."""

    @property
    def minute(self) -> Decimal:
        """What a minute of labour costs."""

    def jobs_of(self, remedies: Iterable[str]) -> tuple[str, ...]:
        """All jobs that remedies take, with what they need and what closes them."""

    def minutes(self, jobs: Iterable[str]) -> Decimal:
        """The expected minutes of jobs."""

    def goods(self, remedies: Iterable[str], jobs: Iterable[str]) -> Decimal:
        """What parts and fluids cost."""


@dataclass(frozen=True, slots=True)
class AskOrFix:
    """What is cheaper for one complaint: the best question, or the first repair.

    Parameters
    ----------
    symptom
        The complaint.
    stop
        True if it is cheaper to stop asking, by more than `MARGIN`, or if nothing is left to ask.
    start
        The remedy to start with, by its full name.
    order
        The remedies in the order in which to try them, and whether each order was compared.
    fix_cost
        What fixing costs on average from now on, before tax.
    check
        The best check, or None if nothing is left to ask.
    ask_cost
        What it costs on average with that check first, before tax.
    reason
        One sentence for the bench, with the figures.
    """

    symptom: str
    stop: bool
    start: str
    order: TryInOrder
    fix_cost: Decimal
    check: str | None
    ask_cost: Decimal | None
    reason: str


class _Price(NamedTuple):
    """What one remedy costs by itself, and each of the jobs that open and close around it."""

    cost: float
    around: Mapping[str, float]


class _PriceList(dict[str, _Price]):
    """Prices of remedies, worked out when first asked for: they are the same after any answer."""

    def __init__(self, costs: Costs) -> None:
        super().__init__()
        self._costs = costs

    def __missing__(self, name: str) -> _Price:
        costs = self._costs
        own = costs.library.remedies[name].jobs
        around = {
            job: float(costs.minutes([job]) * costs.minute + costs.goods([], [job]))
            for job in costs.jobs_of([name])
            if job not in own
        }
        self[name] = price = _Price(
            float(costs.minutes(own) * costs.minute + costs.goods([name], own)), around
        )
        return price


def repairs_for(belief: Belief, costs: Costs, symptom: str, opened: Collection[str] = ()) -> Repairs:
    """Write down what may be behind a complaint and the remedies that there are for it.

    Parameters
    ----------
    belief
        What is believed.
    costs
        What work costs.
    symptom
        The complaint.
    opened
        Opening jobs that have been done for another reason; those behind answered checks are known.

    Returns
    -------
    Repairs
        A remedy that several causes name is one action that may cure each of them. Opening and closing jobs
        are shared opening work; what an answered check has opened is not paid again. Giving up costs a
        come-back and an hour of looking further.
    """
    return _repairs(belief, costs, symptom, opened, _PriceList(costs))


def _repairs(
    belief: Belief, costs: Costs, symptom: str, opened: Collection[str], prices: Mapping[str, _Price]
) -> Repairs:
    library = costs.library
    behind = belief.behind(symptom)
    cures: dict[str, dict[str, float]] = {}
    for cause, chance in behind.items():
        if chance < LEAST_CHANCE:
            continue
        for name in library.causes[cause].remedies:
            remedy = library.remedies.get(name)
            if remedy is not None and remedy.verdict is not Verdict.LEAVE and remedy.holds > 0:
                cures.setdefault(name, {})[cause] = float(remedy.holds) / 100
    done = set(opened)
    for place in belief.evidence.answers:
        done |= belief.model.efforts[place].opening.keys()
    openings: dict[str, float] = {}
    actions: list[Action] = []
    for name, cured in cures.items():
        price = prices[name]
        around = {job: cost for job, cost in price.around.items() if job not in done}
        openings |= around
        actions.append(Action(name, price.cost, cured, tuple(around)))
    give_up = float(costs.workshop.come_back + costs.workshop.rate)
    return Repairs(one_fault(behind), actions, openings, give_up)


def start_with(repairs: Repairs) -> str | None:
    """Return the remedy to try first; None if there is none that helps."""
    names = try_in_order(repairs).names
    return names[0] if names else None


def try_in_order(repairs: Repairs) -> TryInOrder:
    """Return the remedies in the order in which to try them, where one starts with repairs at once."""
    plan = repairs.best()
    # Giving up at once may be cheaper, but a workshop is there to mend.
    return plan if plan.names else repairs.by_ratio()


def ask_or_fix(
    belief: Belief, costs: Costs, symptom: str, unable: Collection[Place] = (), opened: Collection[str] = ()
) -> AskOrFix | None:
    """Weigh the best question about a complaint against starting with the best repair.

    Parameters
    ----------
    belief
        What is believed.
    costs
        What work costs.
    symptom
        The complaint.
    unable, opened
        As for `diagtree.reasoning.choosing.gains`.

    Returns
    -------
    AskOrFix or None
        None if there is no remedy to start with.
    """
    prices = _PriceList(costs)
    now = _repairs(belief, costs, symptom, opened, prices)
    plan = try_in_order(now)
    if not plan.names:
        return None
    minute = float(costs.minute)
    best: tuple[float, Worth] | None = None
    worths = [w for w in gains(belief, unable, opened) if w.symptom == symptom and w.bits >= LEAST_BITS]
    for worth in worths[:MOST_CHECKS]:
        cost = worth.minutes * minute
        for answer, chance in belief.predict(symptom, worth.check).items():
            told = belief.evidence.with_answer(symptom, worth.check, answer)
            after = belief.model.given(spread_facts(belief.model.library, told))
            cost += chance * _repairs(after, costs, symptom, opened, prices).best().cost
        if best is None or cost < best[0]:
            best = cost, worth
    stop = best is None or _cheaper(plan.cost, best[0])
    return AskOrFix(
        symptom=symptom,
        stop=stop,
        start=plan.names[0],
        order=plan,
        fix_cost=_money(plan.cost),
        check=best[1].check if best else None,
        ask_cost=_money(best[0]) if best else None,
        reason=_reason(belief, costs, symptom, now, plan, best),
    )


def _cheaper(fix: float, ask: float) -> bool:
    """True if fixing costs less than asking by more than the margin, or if neither costs anything."""
    return fix < ask * (1 - MARGIN) or fix <= 0


def _money(value: float) -> Decimal:
    return Decimal(value).quantize(Decimal("0.01"))


def _reason(
    belief: Belief,
    costs: Costs,
    symptom: str,
    now: Repairs,
    plan: TryInOrder,
    best: tuple[float, Worth] | None,
) -> str:
    library, currency = costs.library, costs.workshop.currency
    first = next(action for action in now.actions if action.name == plan.names[0])
    helps = round(100 * (1 - now.left([first])))
    title = library.remedies[plan.names[0]].title
    start = f"start with '{title}', because it helps {helps} times in 100"
    if best is None:
        return f"Nothing is left to ask: {start}."
    cost, worth = best
    ask = belief.model.library.trees[symptom].checks[worth.check].ask
    if _cheaper(plan.cost, cost):
        said = (
            f"Stop asking: {start}. To fix now costs {_money(plan.cost)} {currency} on average, "
            f"to ask '{ask}' first {_money(cost)} {currency}."
        )
        if not plan.exact and len(plan.names) > 1:
            said += f" There are {len(now.actions)} repairs, too many to compare every order."
        return said
    if plan.cost <= cost:
        return (
            f"Ask first: '{ask}' That costs as much as to fix now, {_money(cost)} against {_money(plan.cost)} "
            f"{currency} on average, and tells more."
        )
    return (
        f"Ask first: '{ask}' To ask costs {_money(cost)} {currency} on average from here, "
        f"to fix now {_money(plan.cost)} {currency}."
    )
