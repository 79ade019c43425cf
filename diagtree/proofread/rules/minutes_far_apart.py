"""The high minutes of a job are very far from the low ones.

Two different jobs hide in it: the plain one, and the one where something is stuck.

Wrong::

    family: toaster
    jobs:
      empty: {title: Empty the tray, minutes: [2, 5, 90]}

Told::

    3:34: jobs > empty > minutes: The high minutes are more than 15 times the low ones. Make two jobs of it.

Right::

    family: toaster
    jobs:
      empty: {title: Empty the tray, minutes: [2, 5, 15]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "jobs"
KINDS = ("catalogue",)
MOST_TIMES = 15


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, job, path in manuscript.entries("jobs"):
        minutes = [number(one) for one, _ in items(job.get("minutes"), path)]
        if len(minutes) == 3 and minutes[0] and minutes[2] and minutes[2] > MOST_TIMES * minutes[0]:
            told = f"The high minutes are more than {MOST_TIMES} times the low ones."
            yield manuscript.fault((*path, "minutes"), told, "Make two jobs of it.", of_key=True)
