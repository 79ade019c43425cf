"""What the customer wants besides: entered and taken back on the page at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError
from diagtree.screens.bench.entry_pages import EntryPage
from diagtree.screens.bench.reading_pages import ChoicePage, Option
from diagtree.screens.words import alike, can_be_wished

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench

MOST = 12
"""So many are offered to choose from."""


class NothingLikeThatError(ExpectedError):
    """Nothing sounds like what was typed."""


def enter(bench: Bench) -> None:
    """Type a word of it, choose it, and have it planned."""
    library = bench.walker.library
    titles = can_be_wished(library)

    def take(text: str) -> None:
        names = alike({name: (title,) for name, title in titles.items()}, text)[:MOST]
        if not text or not names:
            raise NothingLikeThatError("Nothing sounds like that.", "Try another word, or press Esc.")

        def choose(number: int) -> None:
            bench.close()
            name = names[number]
            bench.walker.wish([*(each for each in bench.walker.case.wishes if each != name), name])
            bench.say(f"Wanted too: {titles[name]}. The plan and the price follow.")

        options = []
        for name in names:
            family = library.families.get(name.partition("/")[0])
            options.append(Option(titles[name], family.title if family else ""))
        bench.show(ChoicePage("Which of these?", options, choose, bench.close))

    prompt = ("What else does the customer want done? Type a word of it.",)
    bench.show(EntryPage("What else the customer wants", prompt, take, bench.close))


def take_back(bench: Bench, name: str) -> None:
    """Ask, then take a wish back."""
    walker = bench.walker
    title = can_be_wished(walker.library).get(name, name)

    def drop() -> None:
        walker.wish([each for each in walker.case.wishes if each != name])
        bench.say(f"Taken back: {title}.")

    bench.confirm("Take this wish back?", f"{title} is planned no more.", drop)
