"""A check has more answers than can be held in mind.

Seven choices are the most that somebody with a tool in hand can compare. Ask twice instead.

Wrong::

    checks:
      colour:
        answers:
          a: {next: b}
          b: {next: b}
          c: {next: b}
          d: {next: b}
          e: {next: b}
          f: {next: b}
          g: {next: b}
          h: {next: c}

Told::

    3:5: checks > colour > answers: There are 8 answers to choose from; 7 are the most that can be compared. Ask two questions instead.

Right::

    checks:
      colour:
        answers:
          light: {next: b}
          dark: {next: c}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)
MOST = 7


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, check, path in manuscript.checks:
        count = len(mapping(check.get("answers")))
        if count > MOST:
            told = f"There are {count} answers to choose from; {MOST} are the most that can be compared."
            yield manuscript.fault((*path, "answers"), told, "Ask two questions instead.", of_key=True)
