"""A remedy works on a safety part and has no function check.

The part is marked as one that hurts people when it fails.

Wrong::

    family: toaster
    parts:
      flex: {title: Flex, safety: true}
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, part: flex}

Told::

    5:3: remedies > new-flex: The remedy works on the safety part 'flex' and has no function check. Add 'verify:'.

Right::

    family: toaster
    parts:
      flex: {title: Flex, safety: true}
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, part: flex, verify: [Test the earth.]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import is_true
from diagtree.proofread.manuscript import Manuscript

GROUP = "safety"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, remedy, path in manuscript.entries("remedies"):
        part = remedy.get("part")
        if isinstance(part, str) and not remedy.get("verify"):
            written = manuscript.shelf.entry("parts", manuscript.full(part))
            if is_true(written.get("safety")) and remedy.get("verdict") != "leave":
                told = f"The remedy works on the safety part '{part}' and has no function check."
                yield manuscript.fault(path, told, "Add 'verify:'.", of_key=True)
