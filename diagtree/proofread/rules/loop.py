"""Answers lead round in a circle.

The apprentice would be asked the same question for ever. Two answers may join in one check; no answer may
lead back.

Wrong::

    first: lamp
    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {found: {scale: 10}}
      fuse:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {next: lamp}

Told::

    10:19: checks > fuse > answers > yes > next: This leads round in a loop: lamp, fuse, lamp. Lead it to a check that was not asked yet, or to a finding.

Right::

    first: lamp
    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {found: {scale: 10}}
      fuse:
        answers:
          no: {found: {fuse-blown: 10}}
          yes: {found: {switch-worn: 10}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "loop")
