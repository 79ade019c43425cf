"""A job or remedy puts a fluid into a system that does not take it.

Either the job names the wrong fluid, or the system's list is short of one.

Wrong::

    family: kettle
    jobs:
      fill: {title: Fill the vessel, minutes: [1, 2, 3], fluids: [{fluid: bleach, into: vessel, amount: 500}]}

Told::

    3:71: jobs > fill > fluids > 1 > fluid: The system 'vessel' does not take 'bleach'. It takes: kettle/vinegar.

Right::

    family: kettle
    jobs:
      fill: {title: Fill the vessel, minutes: [1, 2, 3], fluids: [{fluid: vinegar, into: vessel, amount: 500}]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import each, mapping
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "fluids"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for section in ("jobs", "remedies"):
        for _, entry, path in manuscript.entries(section):
            for use, at in each(entry.get("fluids"), (*path, "fluids")):
                fluid, into = mapping(use).get("fluid"), mapping(use).get("into")
                system = manuscript.shelf.entries("systems").get(manuscript.full(into))
                if system is None or not isinstance(fluid, str):
                    continue
                takes = [system[0].full(name) for name, _ in items(system[1].data.get("takes"), ())]
                if manuscript.full(fluid) not in takes:
                    told = f"The system '{into}' does not take '{fluid}'."
                    yield manuscript.fault((*at, "fluid"), told, f"It takes: {', '.join(takes)}.")
