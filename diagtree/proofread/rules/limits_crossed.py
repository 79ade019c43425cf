"""The least value of a reading is not under its most.

Every value would be odd.

Wrong::

    family: toaster
    readings:
      heat: {title: Heat, unit: °C, example: 200 °C, least: 300, most: 0}

Told::

    3:57: readings > heat > least: 'least: 300' is not under 'most: 0'. Put them the other way round.

Right::

    family: toaster
    readings:
      heat: {title: Heat, unit: °C, example: 200 °C, least: 0, most: 300}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "measures"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, reading, path in manuscript.entries("readings"):
        least, most = number(reading.get("least")), number(reading.get("most"))
        if least is not None and most is not None and least >= most:
            told = f"'least: {least}' is not under 'most: {most}'."
            yield manuscript.fault((*path, "least"), told, "Put them the other way round.")
