"""An answer to a quick look says nothing about one of the states.

What is left out counts as never seen in that state, which is seldom what was meant.

Wrong::

    looks:
      lime:
        speaks-of: water
        answers:
          clean: {says: Clean, shows: {soft: 100}}
          limed: {says: Limed, shows: {hard: 100}}

Told::

    5:7: looks > lime > answers > clean: This answer says nothing about the state 'hard'. Write how many of 100 in that state give it, 0 if none.
    6:7: looks > lime > answers > limed: This answer says nothing about the state 'soft'. Write how many of 100 in that state give it, 0 if none.

Right::

    looks:
      lime:
        speaks-of: water
        answers:
          clean: {says: Clean, shows: {soft: 90, hard: 20}}
          limed: {says: Limed, shows: {soft: 10, hard: 80}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import mapping
from diagtree.proofread.manuscript import Manuscript

GROUP = "counts"
KINDS = ("conditions",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, look, path in manuscript.entries("looks"):
        condition = manuscript.library.conditions.get(str(look.get("speaks-of")))
        for name, answer in mapping(look.get("answers")).items():
            left_out = [
                state
                for state in (condition.states if condition else ())
                if state not in mapping(mapping(answer).get("shows"))
            ]
            if left_out:
                told = f"This answer says nothing about the state '{left_out[0]}'."
                at = (*path, "answers", name)
                yield manuscript.fault(
                    at, told, "Write how many of 100 in that state give it, 0 if none.", of_key=True
                )
