"""A stronger remedy holds less often than a milder one of the same cause.

Then nobody would ever choose it. One of the two figures is a slip.

Wrong::

    family: toaster
    causes:
      worn: {title: Worn, out-of-100: 5, risk: nuisance, remedies: [clean-it, new-one]}
    remedies:
      clean-it: {title: Clean it, verdict: clean, holds: 90}
      new-one: {title: Fit a new one, verdict: replace, holds: 60}

Told::

    3:75: causes > worn > remedies > 2: 'new-one' holds 60 times in 100, and the milder 'clean-it' 90 times. Look at both figures again.

Right::

    family: toaster
    causes:
      worn: {title: Worn, out-of-100: 5, risk: nuisance, remedies: [clean-it, new-one]}
    remedies:
      clean-it: {title: Clean it, verdict: clean, holds: 60}
      new-one: {title: Fit a new one, verdict: replace, holds: 98}
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, cause, path in manuscript.entries("causes"):
        best: tuple[Decimal, str] | None = None
        for name, at in items(cause.get("remedies"), (*path, "remedies")):
            holds = number(manuscript.shelf.entry("remedies", manuscript.full(name)).get("holds"))
            if holds is None:
                continue
            if best is not None and holds < best[0]:
                told = f"'{name}' holds {holds} times in 100, and the milder '{best[1]}' {best[0]} times."
                yield manuscript.fault(at, told, "Look at both figures again.")
            best = max(best or (holds, name), (holds, name))
