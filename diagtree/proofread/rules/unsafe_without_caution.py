"""A cause that makes the machine unsafe carries no caution.

Neither the cause nor all of its remedies tell what can hurt, so the sheet cannot either.

Wrong::

    family: toaster
    causes:
      bare: {title: Bare wire, risk: unsafe, remedies: [new-flex]}
    remedies:
      new-flex: {title: Fit a new flex, verify: [Test the earth.]}

Told::

    3:3: causes > bare: The cause is unsafe, and neither it nor each of its remedies has a caution. Add 'caution:'.

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
    for _, cause, path in manuscript.entries("causes"):
        if cause.get("risk") == "unsafe" and not cause.get("caution"):
            remedies = [
                manuscript.shelf.entry("remedies", manuscript.full(name))
                for name, _ in items(cause.get("remedies"), path)
            ]
            if not remedies or not all(remedy.get("caution") for remedy in remedies):
                told = "The cause is unsafe, and neither it nor each of its remedies has a caution."
                yield manuscript.fault(path, told, "Add 'caution:'.", of_key=True)
