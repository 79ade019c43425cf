"""Two questions are asked at once.

There is one answer for two questions. Make two checks of it, or put the first part under `how:`.

Wrong::

    checks:
      lamp:
        ask: Does the lamp come on? Does it hum?

Told::

    3:32: checks > lamp > ask: Two questions are asked at once, and only one can be answered. Make two checks of it.

Right::

    checks:
      lamp:
        ask: Does the lamp come on?
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.words:
        if words.key == "ask" and words.text.count("?") > 1:
            at = words.text.index("?") + 1
            told = "Two questions are asked at once, and only one can be answered."
            yield manuscript.fault_in(words, at, told, "Make two checks of it.")
