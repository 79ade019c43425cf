"""A value that can be measured has two answers.

Which one counts would be chance.

Wrong::

    checks:
      heat:
        reading: kettle/water-temperature
        answers:
          low: {says: Luke warm, below: 95, found: {scale: 5}}
          full: {says: At the boil, from: 90, found: {scale: 5}}

Told::

    6:39: checks > heat > answers > full > from: This band overlaps the one of 'low'. Begin it where that one ends: from: 95.

Right::

    checks:
      heat:
        reading: kettle/water-temperature
        answers:
          low: {says: Luke warm, below: 90, found: {scale: 5}}
          full: {says: At the boil, from: 90, found: {scale: 5}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "measures"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "band-overlap")
