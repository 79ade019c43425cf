"""A remedy replaces a part and names none to be fitted.

The new part is missing from the parts list and from the price.

Wrong::

    family: toaster
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, holds: 99, jobs: [swap]}

Told::

    3:3: remedies > new-flex: The remedy replaces something and names no part to be fitted. Add 'parts:'.

Right::

    family: toaster
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, holds: 99, jobs: [swap], parts: [flex]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, remedy, path in manuscript.entries("remedies"):
        if remedy.get("verdict") == "replace" and not remedy.get("parts"):
            told = "The remedy replaces something and names no part to be fitted."
            yield manuscript.fault(path, told, "Add 'parts:'.", of_key=True)
