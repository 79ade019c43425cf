"""A closing job has closing jobs of its own.

The sheet would never come to an end of closing.

Wrong::

    family: toaster
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], after: [base-on]}
      base-on: {title: Put the base on, minutes: [1, 2, 4], after: [base-off]}

Told::

    3:68: jobs > base-off > after > 1: 'base-on' closes 'base-off' and must itself be followed by it. Take 'after:' out of the closing job.
    4:65: jobs > base-on > after > 1: 'base-off' closes 'base-on' and must itself be followed by it. Take 'after:' out of the closing job.

Right::

    family: toaster
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], after: [base-on]}
      base-on: {title: Put the base on, minutes: [1, 2, 4]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "jobs"
KINDS = ("catalogue",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for name, job, path in manuscript.entries("jobs"):
        for closing, at in items(job.get("after"), (*path, "after")):
            back = [
                manuscript.full(one)
                for one, _ in items(manuscript.shelf.entry("jobs", manuscript.full(closing)).get("after"), ())
            ]
            if manuscript.full(name) in back:
                told = f"'{closing}' closes '{name}' and must itself be followed by it."
                yield manuscript.fault(at, told, "Take 'after:' out of the closing job.")
