"""A job turns a fastener and names no tool.

The list of tools on the sheet is what is laid out before the work.

Wrong::

    family: kettle
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], fasteners: [base-screw]}

Told::

    3:3: jobs > base-off: The job turns a fastener and names no tool. Add 'tools:'.

Right::

    family: kettle
    jobs:
      base-off: {title: Take the base off, minutes: [1, 2, 4], fasteners: [base-screw], tools: [screwdriver]}
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
        if job.get("fasteners") and not job.get("tools"):
            told = "The job turns a fastener and names no tool."
            yield manuscript.fault(path, told, "Add 'tools:'.", of_key=True)
