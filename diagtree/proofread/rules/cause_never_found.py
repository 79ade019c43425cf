"""No tree points at a cause.

It can never be found by asking. Put it into the tree of the complaint that it makes.

Wrong::

    family: toaster
    causes:
      crumbs: {title: Crumbs in the slots}

Told::

    3:3: causes > crumbs: No tree points at this cause. Add it to the finding of a tree.

Right::

    family: kettle
    causes:
      scale: {title: Scale on the element}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "shared"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, _, path in manuscript.entries("causes"):
        if manuscript.full(name) not in manuscript.shelf.found_causes:
            told = "No tree points at this cause."
            yield manuscript.fault(path, told, "Add it to the finding of a tree.", of_key=True)
