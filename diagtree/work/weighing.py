"""One part, several things that it may have, several remedies: which is least dear in the end?

For each remedy: its price, and for each cause the chance that it does not hold times what follows then: the
come-back and the next stronger remedy. A cause that the remedy does nothing for counts as not held, and its
own best remedy follows. With one cause this is price + (1 - holds) (come-back + price of the next stronger).
Least wins, except that an unsafe risk takes the remedy most sure to hold.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from diagtree.model.family import Risk
from diagtree.work.prices import Prices, next_stronger
from diagtree.work.result import Option
from diagtree.work.words import money, odds

UNSAFE_COUNTS_FROM = 0.1
"""Share of the part's chance from which an unsafe cause makes the verdict a matter of safety."""

GRAVITY = {Risk.UNSAFE: 0, Risk.DAMAGE: 1, Risk.NUISANCE: 2}


def options(prices: Prices, main: str, weights: Mapping[str, float]) -> tuple[Option, ...]:
    """Weigh the remedies of a part's main cause over all that the part may have.

    Parameters
    ----------
    prices
        What remedies cost.
    main
        The cause whose remedies are weighed.
    weights
        Each cause of the part with its chance, the main one included; they are scaled to one.

    Returns
    -------
    tuple of Option
        In the order in which the author lists them, mildest first.
    """
    whole = sum(weights.values())
    shares = {cause: Decimal(repr(weight / whole)) for cause, weight in weights.items() if weight > 0}
    weighed = []
    for name in prices.library.cause(main).remedies:
        remedy = prices.remedy(name)
        holds = Decimal(0)
        cost = prices.remedy_price(name)
        for cause_name, share in shares.items():
            cause = prices.library.cause(cause_name)
            if prices.cures(name, cause_name):
                chance = remedy.holds / 100
                follows = next_stronger(cause, name)
            else:
                chance = Decimal(0)
                follows = prices.choice(cause)
            holds += share * chance
            cost += share * (1 - chance) * (prices.workshop.come_back + prices.remedy_price(follows))
        weighed.append(
            Option(
                remedy=name,
                title=remedy.title,
                verdict=remedy.verdict,
                holds=float(holds),
                price=money(prices.remedy_price(name)),
                expected_cost=money(cost),
                minutes=float(prices.minutes(prices.jobs_of([name]))),
            )
        )
    return tuple(weighed)


def gravest(prices: Prices, weights: Mapping[str, float]) -> Risk:
    """Return the gravest risk among the causes that count: at least one in ten of the part's chance."""
    whole = sum(weights.values())
    risks = [
        prices.library.cause(cause).risk
        for cause, weight in weights.items()
        if weight >= UNSAFE_COUNTS_FROM * whole
    ]
    return min(risks, key=GRAVITY.__getitem__)


def choose(weighed: tuple[Option, ...], risk: Risk) -> Option:
    """Choose among weighed remedies; of two that are alike the milder one."""
    if risk is Risk.UNSAFE:
        return min(weighed, key=lambda option: (-option.holds, option.expected_cost))
    return min(weighed, key=lambda option: option.expected_cost)


def times(holds: float) -> str:
    """Say how often a remedy holds.

    Examples
    --------
    >>> times(0.3), times(0.85), times(0.995)
    ('3 times in 10', '85 times in 100', 'almost always')
    """
    if holds >= 0.995:
        return "almost always"
    hundred = round(holds * 100)
    return f"{hundred // 10} times in 10" if hundred % 10 == 0 else f"{hundred} times in 100"


def reason(part: str, chosen: Option, weighed: tuple[Option, ...], risk: Risk, currency: str) -> str:
    """Give the reason for a verdict in one or two sentences with its figures.

    Parameters
    ----------
    part
        The part's title.
    chosen, weighed
        The remedy chosen, and all that were weighed.
    risk
        Of the causes that count.
    currency
        The workshop's.

    Returns
    -------
    str
        For example ``Switch: replace. 'Clean the contacts' holds 5 times in 10: with come-backs it costs
        EUR 33.00, 'Fit a new switch' EUR 22.44.``
    """
    head = f"{part}: {chosen.verdict.value}."
    others = [option for option in weighed if option.remedy != chosen.remedy]
    if not others:
        return f"{head} '{chosen.title}' is the one remedy; it holds {times(chosen.holds)}."
    if risk is Risk.UNSAFE:
        milder = max(others, key=lambda option: option.holds)
        return (
            f"{head} People can be hurt, so the surest remedy is taken: '{chosen.title}' holds "
            f"{times(chosen.holds)}, '{milder.title}' {times(milder.holds)}."
        )
    rival = min(others, key=lambda option: option.expected_cost)
    stronger = rival if weighed.index(rival) > weighed.index(chosen) else None
    if stronger is not None:
        return (
            f"{head} '{chosen.title}' holds {times(chosen.holds)}: with come-backs it costs {currency} "
            f"{chosen.expected_cost}, '{rival.title}' {currency} {rival.expected_cost}."
        )
    return (
        f"{head} '{rival.title}' holds {times(rival.holds)}: with come-backs it costs {currency} "
        f"{rival.expected_cost}, '{chosen.title}' {currency} {chosen.expected_cost}."
    )


def overruled(part: str, chosen: Option | None, figures: Option) -> str:
    """Say that a person chose otherwise than the figures, and what these say."""
    said = f"the figures say '{figures.title}', which holds {times(figures.holds)}"
    if chosen is None:
        return f"{part}: leave. Chosen by the mechanic; {said}."
    return f"{part}: {chosen.verdict.value}. '{chosen.title}' is chosen by the mechanic; {said}."


def allowed_for(part: str, chosen: Option, chance: float, currency: str) -> str:
    """Say what follows if a complaint turns out to be something else."""
    return (
        f"{part}: {chosen.verdict.value}, if it turns out to be this ({odds(chance)}). "
        f"'{chosen.title}' costs {currency} {chosen.price} by itself."
    )
