"""A `shows` row gives out more than 100, or names all answers and gives out less.

The row says what 100 with that cause would show. What the named answers leave over is shared by the others.

Wrong::

    checks:
      hum:
        shows: {scale: {no: 30, yes: 90}}
        answers:
          no: {says: Silent, next: a}
          yes: {says: It hums, next: b}

Told::

    3:13: checks > hum > shows > scale: What 'scale' shows adds up to 120, not to 100. Think of 100 with this cause.

Right::

    checks:
      hum:
        shows: {scale: {no: 10, yes: 90}}
        answers:
          no: {says: Silent, next: a}
          yes: {says: It hums, next: b}
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, check, path in manuscript.checks:
        answers = mapping(check.get("answers"))
        for cause, row in mapping(check.get("shows")).items():
            total = sum((number(count) or Decimal() for count in mapping(row).values()), Decimal())
            if total > 100 or (total < 100 and answers and set(mapping(row)) == set(answers)):
                told = f"What '{cause}' shows adds up to {total:f}, not to 100."
                yield manuscript.fault(
                    (*path, "shows", cause), told, "Think of 100 with this cause.", of_key=True
                )
