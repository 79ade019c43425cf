"""A system takes two fluids that must never meet.

One residue of the wrong fluid ruins every seal.

Wrong::

    family: kettle
    systems:
      tank: {title: The tank, takes: [vinegar, bleach], read: Look at the label.}

Told::

    3:35: systems > tank > takes > 1: 'vinegar' must never meet 'bleach', and the system 'tank' takes both. Make two systems of it.
    3:44: systems > tank > takes > 2: 'bleach' must never meet 'vinegar', and the system 'tank' takes both. Make two systems of it.

Right::

    family: kettle
    systems:
      tank: {title: The tank, takes: [vinegar], read: Look at the label.}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "fluids"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, system, path in manuscript.entries("systems"):
        taken = list(items(system.get("takes"), (*path, "takes")))
        for one, at in taken:
            fluid = manuscript.shelf.entries("fluids").get(manuscript.full(one))
            foes = (
                {fluid[0].full(foe) for foe, _ in items(fluid[1].data.get("never-with"), ())}
                if fluid
                else set()
            )
            for other, _ in taken:
                if manuscript.full(other) in foes:
                    told = f"'{one}' must never meet '{other}', and the system '{name}' takes both."
                    yield manuscript.fault(at, told, "Make two systems of it.")
