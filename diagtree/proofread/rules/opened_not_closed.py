"""A job opens something and no closing job follows.

What is taken off must go back on: the sheet would end with a part on the bench.

Wrong::

    family: toaster
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], uncovers: [tray]}

Told::

    3:3: jobs > base-off: The job opens something up, and no closing job follows it. Add 'after:' with the job that closes it.

Right::

    family: toaster
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], uncovers: [tray], after: [base-on]}
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
    for _, job, path in manuscript.entries("jobs"):
        if job.get("uncovers") and not job.get("after"):
            told = "The job opens something up, and no closing job follows it."
            yield manuscript.fault(path, told, "Add 'after:' with the job that closes it.", of_key=True)
