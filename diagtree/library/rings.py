"""Finds the ways that lead round in a ring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Protocol, TypeVar


class Way(Protocol):
    """Anything that leads somewhere."""

    @property
    def to(self) -> str:
        """Where it leads."""


_Way = TypeVar("_Way", bound=Way)


def rings(on: Mapping[str, Iterable[_Way]]) -> Iterator[tuple[_Way, list[str]]]:
    """Yield each way that leads back to where the walk came from, with the ring that it closes.

    Without these ways nothing leads round any more. Nothing recurses, so no depth can hurt.

    Parameters
    ----------
    on
        The ways on from each place. A way to a place that is not among them leads out, and closes no ring.

    Examples
    --------
    >>> from typing import NamedTuple
    >>> Lane = NamedTuple("Lane", [("to", str)])
    >>> [ring for _, ring in rings({"a": [Lane("b")], "b": [Lane("c"), Lane("a")], "c": []})]
    [['a', 'b', 'a']]
    """
    done: set[str] = set()
    for start in on:
        if start in done:
            continue
        open_ = {start: iter(on[start])}
        while open_:
            here = next(reversed(open_))
            way = next(open_[here], None)
            if way is None:
                done.add(here)
                del open_[here]
            elif way.to in open_:
                walked = list(open_)
                yield way, [*walked[walked.index(way.to) :], way.to]
            elif way.to in on and way.to not in done:
                open_[way.to] = iter(on[way.to])
