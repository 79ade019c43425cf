"""The low, likely and high minutes of a job are all the same.

Nothing always takes the same time. The allowance would be too small.

Wrong::

    family: toaster
    jobs:
      empty: {title: Empty the tray, minutes: [5, 5, 5]}

Told::

    3:34: jobs > empty > minutes: Low, likely and high are all 5 minutes. Think of the best and the worst time.

Right::

    family: toaster
    jobs:
      empty: {title: Empty the tray, minutes: [3, 5, 10]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, job, path in manuscript.entries("jobs"):
        minutes = [number(one) for one, _ in items(job.get("minutes"), path)]
        if len(minutes) == 3 and minutes[0] and len(set(minutes)) == 1:
            told = f"Low, likely and high are all {minutes[0]} minutes."
            yield manuscript.fault(
                (*path, "minutes"), told, "Think of the best and the worst time.", of_key=True
            )
