"""Jobs wait for each other in a ring.

Each needs another of them, or closes what another opened. None of them could ever be begun.

Wrong::

    family: toaster
    jobs:
      tray-out: {title: Take the tray out, minutes: [1, 1, 2], needs: [base-off]}
      base-off: {title: Take the base off, minutes: [1, 1, 2], needs: [tray-out]}

Told::

    4:68: jobs > base-off > needs > 1: Each of these jobs needs the next: toaster/tray-out, toaster/base-off, toaster/tray-out. Take one of the needs out.

Right::

    family: toaster
    jobs:
      tray-out: {title: Take the tray out, minutes: [1, 1, 2]}
      base-off: {title: Take the base off, minutes: [1, 1, 2], needs: [tray-out]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "job-cycle")
