"""A fluid boils later with water in it than fresh.

Water lowers the boiling point. The two figures are the wrong way round.

Wrong::

    family: toaster
    fluids:
      glycol: {title: Glycol, kind: fluid, boils-dry: 155, boils-wet: 230}

Told::

    3:67: fluids > glycol > boils-wet: It boils at 230 °C with water in it and at 155 °C fresh. Put them the other way round.

Right::

    family: toaster
    fluids:
      glycol: {title: Glycol, kind: fluid, boils-dry: 230, boils-wet: 155}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "fluids"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, fluid, path in manuscript.entries("fluids"):
        dry, wet = number(fluid.get("boils-dry")), number(fluid.get("boils-wet"))
        if dry is not None and wet is not None and wet >= dry:
            told = f"It boils at {wet} °C with water in it and at {dry} °C fresh."
            yield manuscript.fault((*path, "boils-wet"), told, "Put them the other way round.")
