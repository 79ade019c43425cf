"""The price: planned bill, price at the chosen confidence, and an allowance that says what it is for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from diagtree.model.workshop import Brief, Workshop
from diagtree.work import pert
from diagtree.work.allowance import Asked, Drawn, draw, what_may_come
from diagtree.work.prices import Prices
from diagtree.work.result import AllowanceItem, Bill, Estimate, FinalLine, PartLine, PlannedJob
from diagtree.work.verdict import Judged
from diagtree.work.words import money, odds, share_out, to_multiple

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.evidence import Evidence

DRAWS = 20_000
SEED = 1
CURVE = (50, 60, 70, 75, 80, 85, 90, 95, 99)
"""The confidences that a curve of prices is drawn through."""
LEAST_SHARE = 0.03
"""What drives less of the allowance than this is put together as the rest."""
NAMED = 6
"""So many drivers are named; a customer reads no more."""


def bill(workshop: Workshop, minutes: Decimal, goods: Decimal, consumables: Decimal) -> Bill:
    """Make a bill: each line to the cent, the total to the workshop's rounding.

    Parameters
    ----------
    workshop
        Rate, tax and rounding.
    minutes
        Of labour.
    goods, consumables
        Parts and fluids; rags and cleaner; before tax.

    Examples
    --------
    >>> made = bill(Workshop(), Decimal(25), Decimal("9.98"), Decimal(2))
    >>> made.labour, made.tax, made.rounding, made.total
    (Decimal('25.00'), Decimal('7.40'), Decimal('0.02'), Decimal('44.40'))
    """
    labour = money(minutes * workshop.rate / 60)
    parts = money(goods)
    extra = money(consumables)
    net = labour + parts + extra
    tax = money(net * workshop.tax / 100)
    total = to_multiple(net + tax, workshop.rounding)
    return Bill(labour, parts, extra, tax, total - net - tax, total)


def part_lines(prices: Prices, remedies: Iterable[str]) -> tuple[PartLine, ...]:
    """List the parts that remedies fit, each once with how many."""
    lines = []
    for part, amount in prices.amounts(remedies).items():
        entry = prices.library.parts.get(part)
        each = prices.part(part)
        own = part in prices.workshop.part_prices
        lines.append(
            PartLine(
                part=part,
                title=entry.title if entry else part,
                amount=amount,
                each=None if each is None else money(each),
                total=None if each is None else money(each * amount),
                basis=f"workshop; {prices.workshop.basis}" if own else (entry.basis or "" if entry else ""),
            )
        )
    return tuple(lines)


def unpriced(prices: Prices, remedies: Iterable[str], jobs: Iterable[str]) -> tuple[str, ...]:
    """Return the titles of parts and fluids that nobody gave a price for: they are not in the sum.

    A fluid of which nobody said how much is used is a smear on a thread, and costs nothing worth naming.
    """
    names = list(remedies)
    titles = [line.title for line in part_lines(prices, names) if line.each is None]
    uses = [use for use, _ in prices.uses(names).values()]
    uses += [use for job in jobs for use in prices.library.jobs[job].fluids]
    fluids = prices.library.fluids
    titles += [
        fluids[use.fluid].title if use.fluid in fluids else use.fluid
        for use in uses
        if use.amount is not None and prices.use(use) is None
    ]
    return tuple(dict.fromkeys(titles))


def estimate(
    prices: Prices,
    belief: Belief,
    evidence: Evidence,
    judged: Judged,
    plan: Sequence[PlannedJob],
    final_checks: Iterable[FinalLine],
    brief: Brief,
    *,
    draws: int = DRAWS,
    seed: int = SEED,
) -> Estimate:
    """Estimate price and minutes of a plan.

    Parameters
    ----------
    prices
        Library and workshop.
    belief, evidence
        What is thought and what was told.
    judged, plan, final_checks, brief
        What is done.
    draws, seed
        How many machines are drawn for the price at the chosen confidence, and where their random numbers
        start. The same seed gives the same price.

    Returns
    -------
    Estimate
        The price is never less than the planned bill.
    """
    workshop = prices.workshop
    jobs = [job.job for job in plan]
    fixed = sum((line.minutes for line in final_checks), Decimal(0))
    minutes = prices.minutes(jobs) + fixed
    planned = bill(workshop, minutes, prices.goods(judged.remedies, jobs), workshop.consumables)
    asked = what_may_come(prices, belief, evidence, judged, plan, brief)
    drawn = draw(prices, belief, evidence, judged, plan, asked, float(fixed), count=draws, seed=seed)
    totals = in_steps(workshop, drawn)
    at = {level: _quantile(totals, level / 100) * workshop.rounding for level in CURVE}
    price = max(planned.total, _quantile(totals, float(workshop.confidence) / 100) * workshop.rounding)
    allowance = price - planned.total
    return Estimate(
        currency=workshop.currency,
        planned=planned,
        confidence=workshop.confidence,
        price=price,
        allowance=allowance,
        items=_items(workshop, asked, drawn, allowance),
        expected_minutes=float(minutes),
        minutes_at_confidence=float(fixed)
        + pert.total_at([job.minutes for job in plan], float(workshop.confidence)),
        minutes_with_allowance=float(_quantile(drawn.minutes, float(workshop.confidence) / 100)),
        prices_at={level: max(planned.total, found) for level, found in at.items()},
        unpriced=unpriced(prices, judged.remedies, jobs),
        draws=draws,
        seed=seed,
        basis=workshop.basis,
    )


def in_steps(workshop: Workshop, drawn: Drawn) -> npt.NDArray[np.int64]:
    """Return the total of each drawn machine, tax included, in whole steps of the workshop's rounding."""
    import numpy as np

    net = drawn.minutes * float(workshop.rate / 60) + drawn.goods + float(workshop.consumables)
    total = net * float(1 + workshop.tax / 100)
    # A hair is added so that what is half a step in decimals is rounded up in floats too.
    return np.floor(total / float(workshop.rounding) + 0.5 + 1e-9).astype(np.int64)


def _quantile(values: npt.NDArray[np.generic], level: float) -> Decimal:
    """Return the least value that at least ``level`` of all values do not pass."""
    import numpy as np

    place = max(0, int(np.ceil(level * len(values) - 1e-9)) - 1)
    return Decimal(np.partition(values, place)[place].item())


def _items(workshop: Workshop, asked: Asked, drawn: Drawn, allowance: Decimal) -> tuple[AllowanceItem, ...]:
    """Share out the allowance by what drives it.

    Each driver's share goes by what it costs on average over all machines, and slow work by what it costs over
    the expected minutes on average: ``1 in 6`` of 30.00 weighs twice as much as ``1 in 6`` of 15.00.
    """
    import numpy as np

    if allowance <= 0:
        return ()
    weights = [float(cost.mean()) for cost in drawn.extra_cost]
    slower = np.maximum(0.0, drawn.plan_minutes - drawn.plan_minutes.mean()).mean()
    weights.append(float(slower) * float(workshop.rate / 60))
    if not sum(weights):
        weights[-1] = 1.0
    whole = sum(weights)
    kept = sorted(
        (place for place, weight in enumerate(weights) if weight >= LEAST_SHARE * whole),
        key=lambda place: (-weights[place], place),
    )[:NAMED]
    rest = sum(weight for place, weight in enumerate(weights) if place not in kept)
    shares = share_out(allowance, [*(weights[place] for place in kept), rest], _unit(allowance))
    items = []
    for place, share in zip(kept, shares, strict=False):
        if place == len(asked.extras):
            items.append(AllowanceItem("work that takes longer than planned", None, None, "", share))
            continue
        extra = asked.extras[place]
        chance = float(drawn.happens[place].mean())
        items.append(AllowanceItem(extra.what, extra.cause, chance, odds(chance), share))
    if shares[-1]:
        items.append(AllowanceItem("other things, each unlikely", None, None, "", shares[-1]))
    return tuple(item for item in items if item.amount)


def _unit(allowance: Decimal) -> Decimal:
    """A cent, or less where the workshop rounds to less."""
    exponent = allowance.as_tuple().exponent
    return Decimal(1).scaleb(min(-2, exponent if isinstance(exponent, int) else -2))
