"""What the customer wants besides: entered and taken back on the page at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.screens.bench.finding import find
from diagtree.screens.words import can_be_wished

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench


def enter(bench: Bench) -> None:
    """Type a word of it, choose it, and have it planned."""
    walker = bench.walker
    titles = can_be_wished(walker.library)

    def wish(name: str) -> None:
        walker.wish([*(each for each in walker.case.wishes if each != name), name])
        bench.say(f"Wanted too: {titles[name]}. The plan and the price follow.")

    find(
        bench,
        "What else the customer wants",
        "What else does the customer want done? Type a word of it.",
        titles,
        wish,
    )


def take_back(bench: Bench, name: str) -> None:
    """Ask, then take a wish back."""
    walker = bench.walker
    title = can_be_wished(walker.library).get(name, name)

    def drop() -> None:
        walker.wish([each for each in walker.case.wishes if each != name])
        bench.say(f"Taken back: {title}.")

    bench.confirm("Take this wish back?", f"{title} is planned no more.", drop)
