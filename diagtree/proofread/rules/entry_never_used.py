"""Nothing refers to a remedy, a job or a reading.

It was forgotten where it belongs, or it can go.

Wrong::

    family: toaster
    jobs:
      empty: {title: Empty the tray, minutes: [1, 2, 4]}

Told::

    3:3: jobs > empty: Nothing refers to this job. Name it where it belongs, or take it out.

Right::

    family: toaster
    remedies:
      empty-it: {title: Empty it, verdict: clean, holds: 80, jobs: [empty]}
    causes:
      crumbs: {title: Crumbs, remedies: [empty-it]}
    jobs:
      empty: {title: Empty the tray, minutes: [1, 2, 4]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import SINGULAR
from diagtree.proofread.manuscript import Manuscript

GROUP = "shared"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for section in ("remedies", "jobs", "readings"):
        for name, _, path in manuscript.entries(section):
            if (section, manuscript.full(name)) not in manuscript.shelf.used:
                told = f"Nothing refers to this {SINGULAR[section]}."
                yield manuscript.fault(path, told, "Name it where it belongs, or take it out.", of_key=True)
