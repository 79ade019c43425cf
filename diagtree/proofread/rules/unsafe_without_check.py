"""A remedy for an unsafe cause has no function check after it.

Work on what can hurt is not done until somebody has seen it work.

Wrong::

    family: toaster
    causes:
      bare: {title: Bare wire, risk: unsafe, remedies: [new-flex], caution: [Pull the plug first.]}
    remedies:
      new-flex: {title: Fit a new flex}

Told::

    3:53: causes > bare > remedies > 1: The remedy 'new-flex' for the unsafe cause 'bare' has no function check. Add 'verify:' to the remedy.

Right::

    family: toaster
    causes:
      bare: {title: Bare wire, risk: unsafe, remedies: [new-flex], caution: [Pull the plug first.]}
    remedies:
      new-flex: {title: Fit a new flex, verify: [Test the earth.]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "safety"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, cause, path in manuscript.entries("causes"):
        for remedy, at in (
            items(cause.get("remedies"), (*path, "remedies")) if cause.get("risk") == "unsafe" else ()
        ):
            written = manuscript.shelf.entry("remedies", manuscript.full(remedy))
            if written and not written.get("verify"):
                told = f"The remedy '{remedy}' for the unsafe cause '{name}' has no function check."
                yield manuscript.fault(at, told, "Add 'verify:' to the remedy.")
