"""Finding one thing among many by a word of its title: type it, then choose among what sounds like it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError
from diagtree.screens.bench.entry_pages import EntryPage
from diagtree.screens.bench.reading_pages import ChoicePage, Option
from diagtree.screens.likeness import alike

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench

MOST = 12
"""So many are offered to choose from."""


class NothingLikeThatError(ExpectedError):
    """Nothing sounds like what was typed."""


def find(
    bench: Bench, title: str, prompt: str, titles: Mapping[str, str], chosen: Callable[[str], None]
) -> None:
    """Ask for a word, then which of the things that sound like it is meant.

    Parameters
    ----------
    bench
        Shows the pages.
    title, prompt
        Of the page to type on.
    titles
        All there is, by full name; each is offered with its family's title.
    chosen
        Called with the name that was chosen, both pages closed.
    """
    library = bench.walker.library

    def take(text: str) -> None:
        names = alike({name: (each,) for name, each in titles.items()}, text)[:MOST]
        if not text or not names:
            raise NothingLikeThatError("Nothing sounds like that.", "Try another word, or press Esc.")

        def choose(number: int) -> None:
            bench.close()
            chosen(names[number])

        options = []
        for name in names:
            family = library.families.get(name.partition("/")[0])
            options.append(Option(titles[name], family.title if family else ""))
        bench.show(ChoicePage("Which of these?", options, choose, bench.close))

    bench.show(EntryPage(title, (prompt,), take, bench.close))
