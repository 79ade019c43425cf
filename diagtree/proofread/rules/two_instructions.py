"""One sentence gives two instructions.

The second one is forgotten. Write one instruction a sentence.

Wrong::

    checks:
      fuse:
        how: Take the fuse out, then test it with the meter.

Told::

    3:27: checks > fuse > how: This sentence gives two instructions. Make two sentences.

Right::

    checks:
      fuse:
        how: Take the fuse out. Test it with the meter.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
NEEDS = frozenset({"then"})
KINDS = ("tree", "catalogue", "conditions")
TWO = re.compile(r",? (?:and then|then) (?=[a-z])|; (?=[a-z])")
TELLS = re.compile(r"(?:an?|the|it|they|if|when|where|what|this|that|there|one|some|no)\b", re.IGNORECASE)
HOW = frozenset({"how", "verify"})


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    needs = () if ";" in manuscript.document.text else NEEDS
    for words, match in manuscript.matching(TWO, HOW, needs):
        sentence = re.split(r"[.?!]\s+", words.text[: match.start()])[-1]
        if not TELLS.match(sentence):
            told = "This sentence gives two instructions."
            yield manuscript.fault_in(words, match.start(), told, "Make two sentences.")
