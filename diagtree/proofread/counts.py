"""The counts of a tree, with where they stand."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from diagtree.library.fault import Path
from diagtree.library.references import mapping
from diagtree.library.structure import number
from diagtree.proofread.manuscript import Manuscript

WITHIN = Decimal(1)
"""Counts that add up to 100 within this are as good as 100."""


def counted(manuscript: Manuscript) -> Iterator[tuple[Path, Decimal]]:
    """Yield each count of a tree with its path."""
    for answer in manuscript.answers:
        for cause, count in mapping(answer.data.get("found")).items():
            value = number(count)
            if value is not None:
                yield (*answer.path, "found", cause), value


def scaled(counts: list[Decimal]) -> list[Decimal]:
    """Scale counts to 100 in steps of a tenth, by the largest remainder.

    Examples
    --------
    >>> [str(count) for count in scaled([Decimal(1), Decimal(1), Decimal(1)])]
    ['33.4', '33.3', '33.3']
    >>> [str(count) for count in scaled([Decimal(30), Decimal(30), Decimal(20)])]
    ['37.5', '37.5', '25']
    """
    total = sum(counts, Decimal())
    exact = [count * 1000 / total for count in counts]
    tenths = [int(one) for one in exact]
    by_remainder = sorted(range(len(exact)), key=lambda place: tenths[place] - exact[place])
    for place in by_remainder[: 1000 - sum(tenths)]:
        tenths[place] += 1
    return [(Decimal(one) / 10).normalize() if one % 10 else Decimal(one // 10) for one in tenths]
