"""A finding lies behind too many questions.

Nobody answers more than a dozen questions without guessing at some. Begin with what splits the causes best.

Wrong::

    first: c1
    checks:
      c1:
        answers: {no: {next: c2}, yes: {found: {scale: 1}}}
      c2:
        answers: {no: {next: c3}, yes: {found: {scale: 1}}}
      c3:
        answers: {no: {next: c4}, yes: {found: {scale: 1}}}
      c4:
        answers: {no: {next: c5}, yes: {found: {scale: 1}}}
      c5:
        answers: {no: {next: c6}, yes: {found: {scale: 1}}}
      c6:
        answers: {no: {next: c7}, yes: {found: {scale: 1}}}
      c7:
        answers: {no: {next: c8}, yes: {found: {scale: 1}}}
      c8:
        answers: {no: {next: c9}, yes: {found: {scale: 1}}}
      c9:
        answers: {no: {next: c10}, yes: {found: {scale: 1}}}
      c10:
        answers: {no: {next: c11}, yes: {found: {scale: 1}}}
      c11:
        answers: {no: {next: c12}, yes: {found: {scale: 1}}}
      c12:
        answers: {no: {next: c13}, yes: {found: {scale: 1}}}
      c13:
        answers: {no: {found: {scale: 1}}, yes: {found: {scale: 1}}}

Told::

    27:3: checks > c13: This check can come as question 13, after 12 others. Bring each finding within 12 questions.

Right::

    first: c1
    checks:
      c1:
        answers: {no: {next: c2}, yes: {found: {scale: 1}}}
      c2:
        answers: {no: {found: {scale: 1}}, yes: {found: {scale: 1}}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.structure import ways
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)
MOST = 12


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    on = ways(manuscript.data)
    first = manuscript.data.get("first")
    depth: dict[str, int] = {first: 1} if isinstance(first, str) and first in on else {}
    open_ = list(depth)
    while open_:
        name = open_.pop(0)
        if depth[name] > MOST:
            told = f"This check can come as question {depth[name]}, after {depth[name] - 1} others."
            yield manuscript.fault(
                ("checks", name), told, f"Bring each finding within {MOST} questions.", of_key=True
            )
            return
        for edge in on[name]:
            if edge.to in on and depth.get(edge.to, 0) < depth[name] + 1:
                depth[edge.to] = depth[name] + 1
                open_.append(edge.to)
