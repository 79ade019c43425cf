"""A remedy has no job.

Nobody is told what to do, and it costs no time. Only leaving a part alone needs no job.

Wrong::

    family: toaster
    remedies:
      clean-it: {title: Clean it, verdict: clean, holds: 50}

Told::

    3:3: remedies > clean-it: The remedy has no job. Add 'jobs:'.

Right::

    family: toaster
    remedies:
      clean-it: {title: Clean it, verdict: clean, holds: 50, jobs: [empty]}
    jobs:
      empty: {title: Empty the tray, minutes: [1, 2, 4]}
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
        if not remedy.get("jobs") and remedy.get("verdict") != "leave":
            yield manuscript.fault(path, "The remedy has no job.", "Add 'jobs:'.", of_key=True)
