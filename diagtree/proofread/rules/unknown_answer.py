"""A worked case or a `shows` row names an answer that its check does not have.

The case would test nothing, or the row would never count.

Wrong::

    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {found: {scale: 10}}
    cases:
      - {answers: {lamp: dark}, expect: fuse-blown}

Told::

    8:22: cases > 1 > answers > lamp: There is no answer 'dark' to that check. Choose one of: no, yes.

Right::

    first: lamp
    checks:
      lamp:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {found: {scale: 10}}
    cases:
      - {answers: {lamp: no}, expect: fuse-blown}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "unknown-answer")
