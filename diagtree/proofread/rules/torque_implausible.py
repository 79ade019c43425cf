"""A torque is more than the thread can bear.

The program works out from thread, class and, where given, the material around it what a bolt of that size
bears (VDI 2230, dry steel of class 12.9 where no class is given). More than that is a slip of the pen or of
the unit.

Wrong::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, torque: {from: 10, to: 14}, preparation: dry}

Told::

    3:69: fasteners > screw > torque > to: 14 N·m is more than M4x0.7 bears, about 7.0 N·m. Look at the figure and its unit again.

Right::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, torque: {from: 1.0, to: 1.4}, preparation: dry}
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from diagtree.errors import ExpectedError
from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "torque"
KINDS = ("catalogue",)
DRY = 0.20


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, fastener, path in manuscript.entries("fasteners"):
        most = number(mapping(fastener.get("torque")).get("to"))
        if most is None:
            continue
        bears = ceiling(fastener)
        if bears is not None and float(most) > bears:
            told = f"{most} N·m is more than {fastener.get('thread')} bears, about {bears:.1f} N·m."
            yield manuscript.fault((*path, "torque", "to"), told, "Look at the figure and its unit again.")


def ceiling(fastener: dict[str, Any]) -> float | None:
    """Return the torque, N·m, at which a fastener's bolt yields; None where the thread says too little."""
    from diagtree.mechanics.bolts import preload, torque
    from diagtree.mechanics.materials import bolt_class
    from diagtree.mechanics.threads import parse

    try:
        thread = parse(str(fastener.get("thread")))
        bolt = bolt_class(str(fastener.get("property-class") or "12.9"))
        force = preload(thread, bolt.proof, DRY)
        return torque(thread, force, DRY, DRY)
    except ExpectedError:
        return None
