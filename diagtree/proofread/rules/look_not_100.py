"""What a quick look shows for a state does not add up to 100.

Each of 100 in a state gives exactly one answer. So the column of a state, over all answers, is 100.

Wrong::

    looks:
      lime:
        speaks-of: water
        answers:
          clean: {says: Clean, shows: {soft: 90, hard: 20}}
          limed: {says: Limed, shows: {soft: 10, hard: 70}}

Told::

    4:5: looks > lime > answers: For the state 'hard' the answers add up to 90, not to 100. Each of 100 gives exactly one answer.

Right::

    looks:
      lime:
        speaks-of: water
        answers:
          clean: {says: Clean, shows: {soft: 90, hard: 20}}
          limed: {says: Limed, shows: {soft: 10, hard: 80}}
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("conditions",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, look, path in manuscript.entries("looks"):
        totals: dict[str, Decimal] = {}
        for answer in mapping(look.get("answers")).values():
            for state, count in mapping(mapping(answer).get("shows")).items():
                totals[state] = totals.get(state, Decimal()) + (number(count) or 0)
        for state, total in totals.items():
            if total != 100:
                told = f"For the state '{state}' the answers add up to {total:f}, not to 100."
                yield manuscript.fault(
                    (*path, "answers"), told, "Each of 100 gives exactly one answer.", of_key=True
                )
