"""A thread is written in a way that cannot be worked with.

From the thread the program works out what the bolt bears. Write M5x0.8, 9/16 in x 20 tpi, or none.

Wrong::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: four millimetres, until: it holds, preparation: dry}

Told::

    3:38: fasteners > screw > thread: 'four millimetres' is not a thread. Write it like 'M5x0.8', '9/16 in x 20 tpi' or '1.375 x 24'.

Right::

    family: toaster
    fasteners:
      screw: {title: Base screw, thread: M4x0.7, until: it holds, preparation: dry}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.errors import ExpectedError
from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "torque"
KINDS = ("catalogue",)
OTHER = ("none", "fine", "as marked", "read", "press", "wedge", "quick", "snap")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    from diagtree.mechanics.threads import parse

    for _, fastener, path in manuscript.entries("fasteners"):
        thread = fastener.get("thread")
        if not isinstance(thread, str) or thread.casefold().startswith(OTHER):
            continue
        try:
            parse(thread)
        except ExpectedError as error:
            yield manuscript.fault((*path, "thread"), error.wrong, error.mend)
