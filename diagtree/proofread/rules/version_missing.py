"""A tree has no version.

A case that was walked with the tree names its version; a printed sheet does so too.

Wrong::

    symptom: hums
    title: It hums
    first: lamp

Told::

    1:1: symptom: The tree has no version. Add 'version: 1'.

Right::

    symptom: hums
    title: It hums
    version: 1
    first: lamp
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "form"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    if "symptom" in manuscript.data and "version" not in manuscript.data:
        yield manuscript.fault(("symptom",), "The tree has no version.", "Add 'version: 1'.", of_key=True)
