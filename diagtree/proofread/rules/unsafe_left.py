"""A remedy that leaves things as they are is offered for an unsafe cause.

What can hurt is not left.

Wrong::

    family: toaster
    causes:
      bare: {title: Bare wire, risk: unsafe, remedies: [leave-it]}
    remedies:
      leave-it: {title: Leave it, verdict: leave, verify: [Look again.]}

Told::

    3:53: causes > bare > remedies > 1: 'leave-it' leaves an unsafe cause as it is. Take it out of this cause.

Right::

    family: toaster
    causes:
      bare: {title: Bare wire, risk: unsafe, remedies: [new-flex]}
    remedies:
      new-flex: {title: Fit a new flex, verdict: replace, verify: [Test the earth.]}
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
        for name, at in (
            items(cause.get("remedies"), (*path, "remedies")) if cause.get("risk") == "unsafe" else ()
        ):
            if manuscript.shelf.entry("remedies", manuscript.full(name)).get("verdict") == "leave":
                told = f"'{name}' leaves an unsafe cause as it is."
                yield manuscript.fault(at, told, "Take it out of this cause.")
