"""Texts that lose their end because a `#` after a blank begins a comment."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from diagtree.proofread.manuscript import Manuscript

_LOST = re.compile(r"\s#(?=\S)")
_COMMENT = re.compile(r"\s+#(?=\s|$)")
_QUOTED = re.compile(r"(?<![^\s\[{,])(?:\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*')")
"""What begins with a quote: the one in "it's" begins nothing."""


class Lost(NamedTuple):
    """A text that a `#` cuts off."""

    number: int
    """Of its line, from 1."""
    row: str
    """The line."""
    at: int
    """Where the `#` stands in the line, from 0."""
    end: int
    """Where the text would end: a comment proper may follow."""

    @property
    def rest(self) -> str:
        """What is lost."""
        return self.row[self.at : self.end]


def hashes(manuscript: Manuscript) -> Iterator[Lost]:
    """Yield the texts that are cut off.

    A comment proper has a blank after its `#`; what follows at once was meant as text.
    """
    if _LOST.search(manuscript.document.text) is None:
        return
    for number, row in enumerate(manuscript.rows, start=1):
        bare = _QUOTED.sub(lambda quoted: "_" * len(quoted.group()), row)
        match = _LOST.search(bare)
        if match is None or not bare[: match.start()].strip() or bare.lstrip().startswith("#"):
            continue
        comment = _COMMENT.search(bare)
        if comment is not None and comment.start() < match.start():
            continue  # it stands in a comment
        end = comment.start() if comment is not None else len(row.rstrip())
        lost = Lost(number, row, match.start() + 1, end)
        if not any(lost.rest in words.text for words in manuscript.words):
            yield lost
