"""A cause is said to be on none of 100 that come in.

The program weighs each cause with its share of all that come in. With 0 it can never be there, whatever is
seen.

Wrong::

    family: toaster
    causes:
      crumbs: {title: Crumbs, out-of-100: 0}

Told::

    3:39: causes > crumbs > out-of-100: A cause that is on 0 of 100 can never be found. If it is rare, write 0.1.

Right::

    family: toaster
    causes:
      crumbs: {title: Crumbs, out-of-100: 0.5}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, cause, path in manuscript.entries("causes"):
        if number(cause.get("out-of-100")) == 0:
            told = "A cause that is on 0 of 100 can never be found."
            yield manuscript.fault((*path, "out-of-100"), told, "If it is rare, write 0.1.")
