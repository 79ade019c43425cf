"""A remedy fits a part that has no price.

The estimate would give it away.

Wrong::

    family: toaster
    parts:
      flex: {title: Flex}
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, parts: [flex]}

Told::

    5:63: remedies > new-flex > parts > 1: The part 'flex' has no price. Add 'price:' to the part.

Right::

    family: toaster
    parts:
      flex: {title: Flex, price: 6.00}
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, parts: [flex]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, remedy, path in manuscript.entries("remedies"):
        parts = remedy.get("parts")
        named = (
            [(name, (*path, "parts", name)) for name in parts]
            if isinstance(parts, dict)
            else items(parts, (*path, "parts"))
        )
        for name, at in named:
            part = manuscript.shelf.entry("parts", manuscript.full(name))
            if part and part.get("price") is None:
                told = f"The part '{name}' has no price."
                yield manuscript.fault(at, told, "Add 'price:' to the part.", of_key=isinstance(parts, dict))
