"""No finding in the tree has a count.

Without counts nothing says which cause is likelier. Think of 100 that came in with this complaint, and
write how many had each cause.

Wrong::

    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 0}}
          yes: {found: {scale: 0}}

Told::

    2:1: checks: No finding has a count, so nothing says which cause is likely. Write behind each cause how many of 100 with this complaint have it: found: {the-cause: 20}.

Right::

    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 70}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "no-counts")
