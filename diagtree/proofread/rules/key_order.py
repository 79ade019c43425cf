"""The keys of a check are not in the usual order.

Question, how-to, minutes, answers: whoever reads many trees looks for things in their place. `--fix` puts
them in order.

Wrong::

    checks:
      lamp:
        minutes: 1
        ask: Does the lamp come on?
        answers:
          no: {found: {fuse-blown: 30}}

Told::

    3:5: checks > lamp > minutes: 'minutes:' is out of order. The order is: ask, minutes, answers.

Right::

    checks:
      lamp:
        ask: Does the lamp come on?
        minutes: 1
        answers:
          no: {found: {fuse-blown: 30}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.edits import Edit
from diagtree.proofread.manuscript import Manuscript
from diagtree.proofread.order import ORDER, in_order

GROUP = "form"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, check, path in manuscript.checks:
        keys = [key for key in check if key in ORDER]
        wanted = sorted(keys, key=ORDER.index)
        if keys != wanted:
            wrong = next(key for key, right in zip(keys, wanted, strict=True) if key != right)
            told = f"'{wrong}:' is out of order."
            yield manuscript.fault((*path, wrong), told, f"The order is: {', '.join(wanted)}.", of_key=True)


def mends(manuscript: Manuscript) -> Iterator[Edit]:
    """Put the keys in order where each stands on lines of its own."""
    wrong = {fault.at[:2] for fault in finds(manuscript)}
    for check in manuscript.checks:
        if check.path in wrong:
            yield from in_order(manuscript, check)
