"""A torque's range is very wide.

From loose to broken in one range: the two ends probably belong to two fasteners.

Wrong::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, torque: {from: 1, to: 9}, preparation: dry}

Told::

    3:46: fasteners > screw > torque: The range goes from 1 to 9 N·m, more than 3 times as much. Narrow it, or make two fasteners of it.

Right::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, torque: {from: 1, to: 1.4}, preparation: dry}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "torque"
KINDS = ("catalogue",)
MOST_TIMES = 3


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, fastener, path in manuscript.entries("fasteners"):
        torque = mapping(fastener.get("torque"))
        least, most = number(torque.get("from")), number(torque.get("to"))
        if least and most and most > MOST_TIMES * least:
            told = f"The range goes from {least} to {most} N·m, more than {MOST_TIMES} times as much."
            yield manuscript.fault(
                (*path, "torque"), told, "Narrow it, or make two fasteners of it.", of_key=True
            )
