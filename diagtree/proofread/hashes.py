"""Texts that lose their end because a `#` after a blank begins a comment."""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.proofread.manuscript import Manuscript

_LOST = re.compile(r"\s#(?=\S)")
_QUOTED = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'")


def hashes(manuscript: Manuscript) -> Iterator[tuple[int, str, int]]:
    """Yield line number, line, and the place of each `#` that cuts a text off.

    A comment proper has a blank after its `#`; what follows at once was meant as text.
    """
    if _LOST.search(manuscript.document.text) is None:
        return
    for number, row in enumerate(manuscript.rows, start=1):
        bare = _QUOTED.sub(lambda quoted: "_" * len(quoted.group()), row)
        match = _LOST.search(bare)
        if match is None or not bare[: match.start()].strip() or bare.lstrip().startswith("#"):
            continue
        at = match.start() + 1
        rest = row[at:].strip()
        if not any(rest in words.text for words in manuscript.words):
            yield number, row, at
