"""No answer leads to a check.

Nobody is ever asked it, so its findings are never found.

Wrong::

    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {found: {scale: 10}}
      hum:
        answers:
          no: {found: {element-open: 10}}
          yes: {found: {scale: 10}}

Told::

    7:3: checks > hum: No answer leads to this check. Lead one to it, or take it out.

Right::

    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {next: hum}
      hum:
        answers:
          no: {found: {element-open: 10}}
          yes: {found: {scale: 10}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "unreachable-check")
