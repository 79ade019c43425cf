"""A band begins or ends where the reading is never taken.

One of the two is a slip: the band's end, or the reading's least and most.

Wrong::

    checks:
      heat:
        reading: kettle/water-temperature
        answers:
          low: {says: Low, below: 900, found: {scale: 5}}
          full: {says: High, from: 900, found: {scale: 5}}

Told::

    5:31: checks > heat > answers > low > below: 900 is more than the most of this reading, 101. Mend the band or the reading.
    6:32: checks > heat > answers > full > from: 900 is more than the most of this reading, 101. Mend the band or the reading.

Right::

    checks:
      heat:
        reading: kettle/water-temperature
        answers:
          low: {says: Low, below: 90, found: {scale: 5}}
          full: {says: High, from: 90, found: {scale: 5}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "measures"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, check, path in manuscript.checks:
        reading = manuscript.shelf.entry("readings", manuscript.full(check.get("reading")))
        least, most = number(reading.get("least")), number(reading.get("most"))
        for name, answer in mapping(check.get("answers")).items():
            for key in ("from", "below"):
                value = number(mapping(answer).get(key))
                if value is None:
                    continue
                told = ""
                if least is not None and value < least:
                    told = f"{value} is less than the least of this reading, {least}."
                elif most is not None and value > most:
                    told = f"{value} is more than the most of this reading, {most}."
                if told:
                    yield manuscript.fault(
                        (*path, "answers", name, key), told, "Mend the band or the reading."
                    )
