"""Advice beside the plan: what to look at, what to offer, and what must not leave the workshop unseen."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from diagtree.library.library import Library
from diagtree.model.family import Cause, Risk
from diagtree.model.workshop import Brief
from diagtree.work.prices import Prices
from diagtree.work.result import Advice, AdviceKind
from diagtree.work.verdict import Judged, covers, home, part_title
from diagtree.work.weighing import GRAVITY
from diagtree.work.words import money, odds, what_with_part

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.evidence import Evidence

LOOK_FROM = 0.2
"""Chance from which something that nobody asked about is worth a look."""
SAFETY_FROM = 0.1
"""The same for what can hurt people."""


def advice(
    prices: Prices,
    belief: Belief,
    evidence: Evidence,
    judged: Judged,
    brief: Brief,
    fitted: Collection[str],
) -> tuple[Advice, ...]:
    """Gather the advice: safety first, then by risk and chance; one line for each part at most.

    Parameters
    ----------
    prices, belief, evidence, judged, brief
        As for the verdicts.
    fitted
        Families that are known to be on the machine; of others it is said "where fitted".
    """
    library = prices.library
    lines: list[Advice] = []
    for name, cause in library.causes.items():
        if judged.cure(prices, name) is not None:
            continue
        chance = belief.present.get(name, 0.0)
        line = _line(prices, evidence, judged, brief, fitted, name, cause, chance)
        if line is not None:
            lines.append(line)
    lines.sort(key=lambda a: (list(_ORDER).index(a.kind), GRAVITY[a.risk], -round(a.chance, 9), a.cause))
    seen: set[tuple[AdviceKind, str]] = set()
    kept = []
    for line in lines:
        key = (line.kind, home(library, line.cause))
        if line.kind is AdviceKind.OFFER or key not in seen:
            seen.add(key)
            kept.append(line)
    return tuple(kept)


_ORDER = (AdviceKind.SAFETY, AdviceKind.OFFER, AdviceKind.LOOK)


def _line(
    prices: Prices,
    evidence: Evidence,
    judged: Judged,
    brief: Brief,
    fitted: Collection[str],
    name: str,
    cause: Cause,
    chance: float,
) -> Advice | None:
    library = prices.library
    found = evidence.found.get(name)
    part = part_title(library, cause.part) if cause.part else None
    what = what_with_part(cause.title, part)
    if name.partition("/")[0] not in fitted and not found:
        what += ", where fitted"
    if found is False:
        return None
    if found and name in judged.let_be:
        kind = AdviceKind.SAFETY if cause.risk is Risk.UNSAFE else AdviceKind.OFFER
        text = f"{what}: seen, and left as it is by the mechanic."
    elif found and not covers(brief, cause.risk):
        kind, text = AdviceKind.OFFER, f"{what}: seen, and outside what was asked for. Offer it."
    elif cause.risk is Risk.UNSAFE and chance >= SAFETY_FROM:
        kind = AdviceKind.SAFETY
        text = f"{what} ({odds(chance)}): rule it out before the {library.machine.one} is handed over."
    elif chance >= LOOK_FROM and name not in _behind(library, evidence) and name not in judged.let_be:
        kind, text = AdviceKind.LOOK, f"{what} ({odds(chance)}): nobody has asked about it. Look at it."
    else:
        return None
    price = money(prices.remedy_price(prices.choice(cause))) if kind is AdviceKind.OFFER else None
    return Advice(kind, name, cause.title, part, chance, odds(chance), cause.risk, text, price)


def _behind(library: Library, evidence: Evidence) -> frozenset[str]:
    return frozenset(cause for symptom in evidence.complaints for cause in library.causes_of[symptom])


def fitted_families(library: Library, belief: Belief, evidence: Evidence) -> frozenset[str]:
    """Return the families that are known to be on the machine.

    A family is, if what was found is in it, or if more likely than not the cause of a complaint is: a tree may
    point at families of which a machine has only one.
    """
    found = {name.partition("/")[0] for name, there in evidence.found.items() if there}
    for symptom in evidence.complaints:
        shares: dict[str, float] = {}
        for cause, chance in belief.behind(symptom).items():
            home_family = (library.cause(cause).part or cause).partition("/")[0]
            shares[home_family] = shares.get(home_family, 0.0) + chance
        found |= {family for family, share in shares.items() if share > 0.5}
    return frozenset(found)
