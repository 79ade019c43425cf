"""A torque has no basis of its own.

A torque is the figure that people trust most. The sheet prints where it comes from, and the catalogue's
general basis is too thin for that.

Wrong::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, torque: {from: 1, to: 1.4}, preparation: dry}

Told::

    3:46: fasteners > screw > torque: The torque does not say where it comes from. Add 'basis:', 'from memory' if need be.

Right::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, torque: {from: 1, to: 1.4}, preparation: dry, basis: common practice}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "torque"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, fastener, path in manuscript.entries("fasteners"):
        if fastener.get("torque") and not fastener.get("basis"):
            told = "The torque does not say where it comes from."
            yield manuscript.fault(
                (*path, "torque"), told, "Add 'basis:', 'from memory' if need be.", of_key=True
            )
