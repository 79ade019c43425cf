"""What is left as it is, and why: parts that an answer or the picture of the machine speaks for."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from diagtree.work.prices import Prices
from diagtree.work.result import LeftAlone

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.beyond import LeaveAlone
    from diagtree.reasoning.conflict import Told

LINES = 6
"""So many are named: those that would have been the dearest mistakes."""


def left_alone(
    prices: Prices, belief: Belief, judged: Collection[str], absent: Collection[str]
) -> tuple[LeftAlone, ...]:
    """List the parts that something that was told clears.

    Parameters
    ----------
    prices
        What a needless repair would have cost.
    belief
        What is thought.
    judged
        Parts with a verdict: they are not left.
    absent
        Parts that the machine does not have: nobody leaves what is not there.

    Returns
    -------
    tuple of LeftAlone
        At most `LINES`: the dearest mistake that was spared first (chance before, times the repair's price). A
        part that can hurt people is only cleared by an answer that a sound part gives, never by the picture.
    """
    from diagtree.reasoning.beyond import leave_alone

    parts = prices.library.parts
    cleared = [
        each
        for each in leave_alone(belief)
        if each.part in parts and each.part not in {*judged, *absent}
        if _may_be_left(prices, each)
    ]
    cleared.sort(key=lambda each: (-round(each.before * _dearest(prices, each.part), 6), each.part))
    return tuple(
        LeftAlone(
            each.part,
            parts[each.part].title,
            each.chance,
            f"{parts[each.part].title}: leave. {_reason(belief, each)}",
        )
        for each in cleared[:LINES]
    )


def _reason(belief: Belief, each: LeaveAlone) -> str:
    from diagtree.reasoning.why import says

    if each.because is not None:
        return says(belief, each.because)
    return f"The {belief.model.library.machine.one} is {', '.join(each.picture)}."


def _may_be_left(prices: Prices, each: LeaveAlone) -> bool:
    if prices.library.parts[each.part].safety:
        return each.because is not None and _seen_sound(prices, each.because)
    return each.because is not None or bool(each.picture)


def _seen_sound(prices: Prices, told: Told) -> bool:
    """True if a sound part was looked at and answered for itself: that another fault explains it all clears nothing."""
    if not told.symptom:
        return False
    return prices.library.tree(told.symptom).checks[told.name].answers[told.answer].healthy


def _dearest(prices: Prices, part: str) -> float:
    return max(
        float(prices.remedy_price(prices.choice(cause)))
        for cause in prices.library.causes.values()
        if cause.part == part
    )
