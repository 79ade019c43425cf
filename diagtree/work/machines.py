"""Machines drawn from a belief: what lies behind each complaint, and what else is wrong with each of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from diagtree.reasoning.belief import Belief


@dataclass(frozen=True)
class Machines:
    """So many machines, drawn.

    Parameters
    ----------
    count
        How many.
    behind
        For each complaint the causes that may lie behind it, and for each machine the place of its cause.
    besides
        For each cause asked for: whether it is on the machine while it lies behind no complaint.
    """

    count: int
    behind: Mapping[str, tuple[tuple[str, ...], npt.NDArray[np.intp]]]
    besides: Mapping[str, npt.NDArray[np.bool_]]


def draw_machines(
    belief: Belief, complaints: Iterable[str], besides: Iterable[str], count: int, seed: int
) -> Machines:
    """Draw machines from a belief.

    Parameters
    ----------
    belief
        What is thought about the one machine that stands there.
    complaints
        Its complaints.
    besides
        Causes of which it matters whether they are there although nobody complains of them.
    count, seed
        How many, and where the random numbers start.

    Returns
    -------
    Machines
        The same for the same seed.
    """
    import numpy as np

    random = np.random.default_rng([seed, 1])
    behind = {}
    for symptom in complaints:
        chances = belief.behind(symptom)
        causes = tuple(chances)
        edges = np.cumsum(np.fromiter((chances[cause] for cause in causes), float, len(causes)))
        places = np.searchsorted(edges / edges[-1], random.random(count), side="right")
        behind[symptom] = (causes, np.minimum(places, len(causes) - 1))
    there = {}
    for cause in besides:
        lies_behind = belief.behind_any.get(cause, 0.0)
        apart = (belief.present[cause] - lies_behind) / (1 - lies_behind) if lies_behind < 1 else 0.0
        there[cause] = random.random(count) < apart
    return Machines(count, behind, there)
