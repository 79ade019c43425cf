"""A question is asked in the negative.

To 'Does it not turn?' both yes and no can mean either.

Wrong::

    checks:
      lamp:
        ask: Does the lamp not come on?

Told::

    3:10: checks > lamp > ask: The question is asked in the negative: yes and no can both mean either. Ask for what is there.

Right::

    checks:
      lamp:
        ask: Does the lamp come on?
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
ASK = frozenset({"ask"})
NEEDS = frozenset({"not", "t"})
KINDS = ("tree", "conditions")
NEGATIVE = re.compile(
    r"\b(?:Is|Are|Does|Do|Can|Has|Have|Will)(?:n't| (?:it|they|the \w+|there|you) not)\b[^.]*\?"
)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words, match in manuscript.matching(NEGATIVE, ASK, NEEDS):
        told = "The question is asked in the negative: yes and no can both mean either."
        yield manuscript.fault_in(words, match.start(), told, "Ask for what is there.")
