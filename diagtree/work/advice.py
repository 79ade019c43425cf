"""Advice beside the plan: what to look at, what to offer, and what must not leave the workshop unseen."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from diagtree.model.family import Risk
from diagtree.model.workshop import Brief
from diagtree.work.prices import Prices
from diagtree.work.result import Advice, AdviceKind
from diagtree.work.verdict import Judged, covers, home, part_title
from diagtree.work.weighing import GRAVITY
from diagtree.work.words import money, odds, what_with_part

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.beyond import AlsoLook
    from diagtree.reasoning.evidence import Evidence

SAFETY_FROM = 0.1
"""Chance from which what can hurt people is ruled out before the machine is handed over."""
LINES = 5
"""So many lines matter; what was seen and left is always told besides."""


def advice(
    prices: Prices,
    belief: Belief,
    evidence: Evidence,
    judged: Judged,
    brief: Brief,
    fitted: Collection[str],
) -> tuple[Advice, ...]:
    """Gather the advice: what can hurt first, then by chance times price; one line for each part.

    What a verdict is about already ("if it is not that") is not said again here.

    Parameters
    ----------
    prices, belief, evidence, judged, brief
        As for the verdicts.
    fitted
        Families that are known to be on the machine; of others it is said "if the machine has one".
    """
    from diagtree.reasoning.beyond import also_look_at

    library = prices.library
    looks = {look.cause: look for look in also_look_at(belief, prices)}
    # What lies behind a complaint has been asked about, and stands on the sheet with its chance already.
    told = {cause for symptom in evidence.complaints for cause in library.causes_of[symptom]}
    told |= {
        cause for row in judged.verdicts for cause in (row.cause, *(other for other, _ in row.other_causes))
    }
    lines: list[tuple[tuple[int, int, float, str], Advice]] = []
    for name, cause in library.causes.items():
        if judged.cure(prices, name) is not None or cause.part in judged.absent:
            continue
        chance = belief.present.get(name, 0.0)
        line = _line(prices, evidence, judged, brief, fitted, name, chance, looks.get(name))
        if line is None or (line.kind is not AdviceKind.OFFER and name in told and name not in judged.let_be):
            continue
        worth = chance * float(prices.remedy_price(prices.choice(cause)))
        lines.append(((_ORDER.index(line.kind), GRAVITY[line.risk], -round(worth, 6), name), line))
    lines.sort(key=lambda item: item[0])
    kept: list[Advice] = []
    seen: set[str] = set()
    for _, line in lines:
        place = home(library, line.cause)
        if line.cause in evidence.found:
            kept.append(line)
        elif place not in seen and len(seen) < LINES:
            seen.add(place)
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
    chance: float,
    look: AlsoLook | None,
) -> Advice | None:
    library = prices.library
    cause = library.cause(name)
    found = evidence.found.get(name)
    part = part_title(library, cause.part) if cause.part else None
    what = what_with_part(cause.title, part)
    if name.partition("/")[0] not in fitted and not found:
        what += f", if the {library.machine.one} has one"
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
    elif look is not None and name not in judged.let_be:
        usual = f"of all {library.machine.many} {odds(look.usual)}"
        picture = f"; {', '.join(look.picture)}" if look.picture else ""
        kind, text = AdviceKind.LOOK, f"{what}: {odds(chance)}, {usual}{picture}. Nobody asked: look at it."
    else:
        return None
    price = money(prices.remedy_price(prices.choice(cause))) if kind is AdviceKind.OFFER else None
    return Advice(kind, name, cause.title, part, chance, odds(chance), cause.risk, text, price)
