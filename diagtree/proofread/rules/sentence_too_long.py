"""A sentence is longer than two lines on a small screen.

Whoever has to read a sentence twice with dirty hands reads it once.

Wrong::

    checks:
      lamp:
        how: Fill it half with cold water and put it on its base and switch it on and wait until the little lamp beside the handle, which may be red or green, comes on or has stayed dark for a minute.

Told::

    3:10: checks > lamp > how: This sentence has 187 letters; 156 fit on two lines. Make two of it.

Right::

    checks:
      lamp:
        how: Fill it half. Switch it on. Watch the lamp for a minute.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")
SENTENCE = re.compile(r"[^.?!]+(?:[.?!](?!\s|$)[^.?!]*)*[.?!]*\s*")
MOST = 156


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for words in manuscript.words:
        if len(words.text) <= MOST:
            continue
        for found in SENTENCE.finditer(words.text):
            if len(found.group().strip()) > MOST:
                told = f"This sentence has {len(found.group().strip())} letters; {MOST} fit on two lines."
                yield manuscript.fault_in(words, found.start(), told, "Make two of it.")
