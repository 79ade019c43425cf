"""Points: for the fault, for the minutes, for how tight and which fluid. All sums can be done by hand."""

from __future__ import annotations

from dataclasses import dataclass

FAULT, TIME, WORK = 60.0, 25.0, 15.0
"""The most points for each."""

MISLED = 0.5
"""Of the points for the fault, where a wrong cause was named for which the answers spoke."""

LEAST_MINUTES = 1.0
"""A way shorter than this counts as long."""


@dataclass(frozen=True, slots=True)
class Named:
    """What was named for one complaint.

    Parameters
    ----------
    right
        True if it is the cause behind the complaint.
    reasoned
        True if the answers put it first, with the chance from which a cause counts as proved.
    ground
        From 0 to 1: how far the answers had proved it, its chance over that which proves.
    """

    right: bool
    reasoned: bool
    ground: float


@dataclass(frozen=True, slots=True)
class Score:
    """The points.

    Parameters
    ----------
    fault, time, work
        Points for each.
    total
        Out of 100, whole.
    """

    fault: float
    time: float
    work: float | None
    total: int


def score(named: tuple[Named, ...], minutes: float, least: float, answered: int = 0, asked: int = 0) -> Score:
    """Count the points of one machine.

    Parameters
    ----------
    named
        What was named for each complaint; at least one.
    minutes
        What the way took.
    least
        The fewest in which it could be proved.
    answered, asked
        How many questions about the work were answered rightly, and how many were asked. If none was asked,
        the other points count for the whole.

    Returns
    -------
    Score
        - Fault: 60 for the right cause, 30 for a wrong one that the answers had proved, shared among the
          complaints.
        - Time: 25 x least / minutes, never more than 25 (both at least 1 minute), times how far the answers had
          proved what was named; only for right causes.
        - Work: 15 x right answers / questions.

    Examples
    --------
    >>> score((Named(True, True, 1.0),), minutes=5, least=4, answered=1, asked=2)
    Score(fault=60.0, time=20.0, work=7.5, total=88)
    >>> score((Named(True, False, 0.25),), minutes=0, least=4).total
    78
    >>> score((Named(False, True, 0.0),), minutes=8, least=4).total
    35
    """
    count = len(named)
    fault = FAULT * sum(1.0 if one.right else MISLED * one.reasoned for one in named) / count
    pace = min(1.0, max(LEAST_MINUTES, least) / max(LEAST_MINUTES, minutes))
    time = TIME * pace * sum(min(1.0, one.ground) for one in named if one.right) / count
    work = WORK * answered / asked if asked else None
    whole = FAULT + TIME + (WORK if work is not None else 0.0)
    points = 100 * (fault + time + (work or 0.0)) / whole
    return Score(fault, time, work, int(points + 0.5))
