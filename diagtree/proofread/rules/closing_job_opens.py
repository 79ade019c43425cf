"""Jobs close each other in a ring.

Each must follow another of them, so the sheet would never come to an end of closing.

Wrong::

    family: toaster
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], after: [base-on]}
      base-on: {title: Put the base on, minutes: [1, 2, 4], after: [base-off]}

Told::

    4:65: jobs > base-on > after > 1: Each of these jobs closes the next: toaster/base-on, toaster/base-off, toaster/base-on. Take 'after:' out of the closing job.

Right::

    family: toaster
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], after: [base-on]}
      base-on: {title: Put the base on, minutes: [1, 2, 4]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "closing-job-opens")
