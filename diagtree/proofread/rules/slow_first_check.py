"""The first check takes long, and quicker ones wait behind it.

Begin with what is quick: each minute spent first is spent on every machine. A check of more than ten
minutes should come later.

Wrong::

    first: strip
    checks:
      strip:
        ask: Is the element whole when it is out?
        minutes: 25
        answers:
          no: {found: {element-open: 30}}
          yes: {next: lamp}
      lamp:
        ask: Does the lamp come on?
        minutes: 1
        answers:
          no: {found: {fuse-blown: 30}}
          yes: {found: {scale: 40}}

Told::

    5:14: checks > strip > minutes: The first check takes 25 minutes, and quicker ones wait behind it. Begin with what is quick.

Right::

    first: lamp
    checks:
      lamp:
        ask: Does the lamp come on?
        minutes: 1
        answers:
          no: {next: strip}
          yes: {found: {scale: 40}}
      strip:
        ask: Is the element whole when it is out?
        minutes: 25
        answers:
          no: {found: {element-open: 30}}
          yes: {found: {fuse-blown: 30}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)
MOST = 10


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    first = manuscript.data.get("first")
    for name, check, path in manuscript.checks:
        minutes = number(check.get("minutes"))
        others = [number(other.data.get("minutes")) for other in manuscript.checks if other.name != name]
        if (
            name == first
            and minutes is not None
            and minutes > MOST
            and any(one and one < minutes / 3 for one in others)
        ):
            told = f"The first check takes {minutes} minutes, and quicker ones wait behind it."
            yield manuscript.fault((*path, "minutes"), told, "Begin with what is quick.")
