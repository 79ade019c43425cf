"""The example of a reading does not show its unit.

The example is what people copy.

Wrong::

    family: toaster
    readings:
      heat: {title: Heat, unit: °C, example: 200}

Told::

    3:42: readings > heat > example: The example does not show the unit '°C'. Write for example: 200 °C.

Right::

    family: toaster
    readings:
      heat: {title: Heat, unit: °C, example: 200 °C}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "measures"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, reading, path in manuscript.entries("readings"):
        unit, example = reading.get("unit"), reading.get("example")
        if isinstance(unit, str) and isinstance(example, str) and unit not in example:
            told = f"The example does not show the unit '{unit}'."
            yield manuscript.fault((*path, "example"), told, f"Write for example: {example} {unit}.")
