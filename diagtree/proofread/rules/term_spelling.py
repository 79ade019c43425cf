"""A term of the glossary is spelt in another way.

One name for one thing. Who learns a word from the glossary must find it again in the texts.

Wrong::

    causes:
      scale:
        why: The on/off switch shakes itself loose.
        tell: The pull out tray is full.

Told::

    4:15: causes > scale > tell: 'pull out' is 'pull-out' in the glossary. Write 'pull-out'.

Right::

    causes:
      scale:
        why: The on/off switch shakes itself loose.
        tell: The pull-out tray is full.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for term in manuscript.shelf.terms:
        parts = re.split(r"[\s-]", term.lower())
        others = {separator.join(parts) for separator in (" ", "-", "")} - {term.lower()}
        if not any(other in manuscript.lowered for other in others):
            continue
        for words, match in manuscript.matching(spelt_otherwise(term)):
            if match.group().lower() != term.lower():
                told = f"'{match.group()}' is '{term}' in the glossary."
                yield manuscript.fault_in(words, match.start(), told, f"Write '{term}'.")


@lru_cache(maxsize=512)
def spelt_otherwise(term: str) -> re.Pattern[str]:
    """Find a term with its parts joined by a blank, by a hyphen or by nothing.

    Examples
    --------
    >>> bool(spelt_otherwise("cold-wet").search("a cold wet day"))
    True
    """
    return re.compile(r"\b" + r"[\s-]?".join(map(re.escape, re.split(r"[\s-]", term))) + r"\b", re.IGNORECASE)
