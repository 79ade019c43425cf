"""A value that can be measured has no answer.

Whoever measures just that value cannot go on.

Wrong::

    checks:
      heat:
        reading: kettle/water-temperature
        answers:
          low: {says: Luke warm, below: 60, found: {scale: 5}}
          full: {says: At the boil, from: 90, found: {scale: 5}}

Told::

    6:39: checks > heat > answers > full > from: Between 60 and 90 there is no answer: a gap after 'low'. Begin it where that one ends: from: 60.

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
    return (fault for fault in manuscript.sheet.faults if fault.rule == "band-gap")
