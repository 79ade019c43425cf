"""One fluid must never meet another, and the other says nothing of it.

Whoever reads about the other one is not warned.

Wrong::

    family: toaster
    fluids:
      oil: {title: Oil, kind: oil, never-with: [soap]}
      soap: {title: Soap, kind: cleaner}

Told::

    3:45: fluids > oil > never-with > 1: 'soap' does not say that it must never meet 'oil'. Add 'never-with: oil' there.

Right::

    family: toaster
    fluids:
      oil: {title: Oil, kind: oil, never-with: [soap]}
      soap: {title: Soap, kind: cleaner, never-with: [oil]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "fluids"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, fluid, path in manuscript.entries("fluids"):
        for foe, at in items(fluid.get("never-with"), (*path, "never-with")):
            other = manuscript.shelf.entries("fluids").get(manuscript.full(foe))
            if other is None:
                continue
            back = [other[0].full(one) for one, _ in items(other[1].data.get("never-with"), ())]
            if manuscript.full(name) not in back:
                told = f"'{foe}' does not say that it must never meet '{name}'."
                yield manuscript.fault(at, told, f"Add 'never-with: {name}' there.")
