"""What an answer changed, in one sentence."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Ranking = Sequence[tuple[str, float]]
"""Causes with their chances, likeliest first."""

_FEW = 3
_STIRRED = 0.005
"""Less than this is no change that anybody would speak of."""


def out_of_100(chance: float) -> str:
    """Say a chance as people estimate best: out of 100.

    Examples
    --------
    >>> out_of_100(0.552), out_of_100(0.005), out_of_100(0.997), out_of_100(1.0), out_of_100(0.0)
    ('55 in 100', 'under 1 in 100', 'over 99 in 100', '100 in 100', 'under 1 in 100')
    """
    if chance >= 1 - 1e-9:
        return "100 in 100"
    number = round(chance * 100)
    if number == 0:
        return "under 1 in 100"
    return "over 99 in 100" if number == 100 else f"{number} in 100"


def ordinal(number: int) -> str:
    """Write a rank: 1st, 2nd, 3rd, 4th.

    Examples
    --------
    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 21, 112)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '21st', '112th']
    """
    if number % 100 in {11, 12, 13}:
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


def what_changed(before: Ranking, after: Ranking, title: Callable[[str], str]) -> str:
    """Say in one sentence what changed between two rankings.

    The new first is named if there is one; else the cause that moved most.

    Examples
    --------
    >>> before = [("scale", 0.6), ("switch", 0.3), ("fuse", 0.1)]
    >>> what_changed(before, [("switch", 0.55), ("scale", 0.4), ("fuse", 0.05)], str.capitalize)
    'Switch rose from 2nd to 1st, 55 in 100.'
    >>> what_changed(before, [("scale", 0.8), ("switch", 0.15), ("fuse", 0.05)], str.capitalize)
    'Scale stays 1st and rose from 60 in 100 to 80 in 100.'
    >>> what_changed(before, before, str.capitalize)
    'Nothing changed: Scale stays 1st, 60 in 100.'
    >>> what_changed([("scale", 0.264), *before[1:]], [("scale", 0.256), *before[1:]], str.capitalize)
    'Nothing changed: Scale stays 1st, 26 in 100.'
    """
    if not after:
        return "Nothing is known yet."
    first, chance = after[0]
    was = dict(before)
    ranks = {cause: place for place, (cause, _) in enumerate(before, 1)}
    if first not in ranks:
        return f"{title(first)} is 1st, {out_of_100(chance)}."
    if ranks[first] != 1:
        return f"{title(first)} rose from {ordinal(ranks[first])} to 1st, {out_of_100(chance)}."
    shown = {cause for cause, _ in [*after[:_FEW], *before[:_FEW]]}
    moves = {cause: now - was.get(cause, 0.0) for cause, now in after if cause in shown}
    most = max(moves, key=lambda cause: abs(moves[cause]))
    stood = was.get(most, 0.0)
    # What is told as the same figure twice has not moved for those who read it.
    if abs(moves[most]) < _STIRRED or out_of_100(stood) == out_of_100(stood + moves[most]):
        return f"Nothing changed: {title(first)} stays 1st, {out_of_100(chance)}."
    moved = _moved(stood, stood + moves[most])
    if most == first:
        return f"{title(first)} stays 1st and {moved}."
    return f"{title(first)} stays 1st, {out_of_100(chance)}; {title(most)} {moved}."


def _moved(before: float, now: float) -> str:
    verb = "rose" if now > before else "fell"
    return f"{verb} from {out_of_100(before)} to {out_of_100(now)}"
