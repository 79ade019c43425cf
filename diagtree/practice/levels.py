"""The levels of practice: what may be behind a complaint, whether answers mislead, what is shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from diagtree.errors import UnknownNameError


@dataclass(frozen=True, slots=True)
class Level:
    """How hard a machine is.

    Parameters
    ----------
    name
        As it is typed.
    says
        What it means, in a sentence.
    common
        True if only common causes are drawn.
    flat
        True if a rare cause is drawn as often as a common one.
    misleads
        True if answers mislead as often as they do in life; else each answer is the likeliest one.
    ranking
        True if the likely causes are shown all the way.
    complaints
        How many complaints a machine comes in with.
    """

    name: str
    says: str
    common: bool = False
    flat: bool = False
    misleads: bool = True
    ranking: bool = False
    complaints: int = 1


LEVELS: Mapping[str, Level] = {
    level.name: level
    for level in (
        Level(
            "beginner",
            "Common causes. No answer misleads. What is likely is shown all the way.",
            common=True,
            misleads=False,
            ranking=True,
        ),
        Level("apprentice", "As in life: some answers mislead. What is likely is shown at the end."),
        Level(
            "journeyman",
            "Rare causes come as often as common ones. Two complaints. Some answers mislead.",
            flat=True,
            complaints=2,
        ),
    )
}
"""By name, the easiest first."""


def level_called(name: str) -> Level:
    """Return a level by its name.

    Raises
    ------
    UnknownNameError
        If there is none.

    Examples
    --------
    >>> level_called("beginner").misleads
    False
    """
    if name not in LEVELS:
        raise UnknownNameError("level", name, list(LEVELS))
    return LEVELS[name]
