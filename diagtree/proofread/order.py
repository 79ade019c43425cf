"""The usual order of keys, and putting them in order where each stands on lines of its own."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.proofread.edits import Edit, place
from diagtree.proofread.manuscript import Entry, Manuscript

ORDER = (
    "ask",
    "how",
    "minutes",
    "trust",
    "anytime",
    "behind",
    "fact",
    "reading",
    "caution",
    "answers",
)
"""The keys of a check as they are usually written: what is asked first, where it leads last."""


def in_order(manuscript: Manuscript, check: Entry) -> Iterator[Edit]:
    """Yield the edit that puts a check's keys in order, if each begins a line of its own.

    Keys that have no place in the order stay behind the key that they follow; a comment stays with the key
    under it.
    """
    document = manuscript.document
    starts = [document.position((*check.path, key), of_key=True) for key in check.data]
    columns = {column for _, column in starts}
    if len(columns) != 1:
        return
    (column,) = columns
    rows = manuscript.rows
    if any(rows[line - 1][: column - 1].strip() for line, _ in starts):
        return
    lines = [_with_comments(rows, line, column) for line, _ in starts]
    end = next(
        (
            number
            for number in range(starts[-1][0] + 1, len(rows) + 1)
            if rows[number - 1].strip()
            and len(rows[number - 1]) - len(rows[number - 1].lstrip()) < column - 1
        ),
        len(rows) + 1,
    )
    while end - 1 > starts[-1][0] and (not rows[end - 2].strip() or rows[end - 2].lstrip().startswith("#")):
        end -= 1
    blocks = [rows[first - 1 : last - 1] for first, last in zip(lines, [*lines[1:], end], strict=True)]
    ranks: list[tuple[int, int]] = []
    for number, key in enumerate(check.data):
        rank = ORDER.index(key) if key in ORDER else (ranks[-1][0] if ranks else 0)
        ranks.append((rank, number))
    moved = [row for _, block in sorted(zip(ranks, blocks, strict=True)) for row in block]
    start, stop = place(document.text, lines[0], 1), place(document.text, end - 1, 1) + len(rows[end - 2])
    yield Edit(start, stop, "\n".join(moved))


def _with_comments(rows: list[str], line: int, column: int) -> int:
    while line > 1 and rows[line - 2].lstrip().startswith("#") and rows[line - 2].index("#") == column - 1:
        line -= 1
    return line
