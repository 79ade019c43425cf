"""What site and binder tell of how a machine has lived: its sides, and the quick looks that speak of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from diagtree.library.library import Library
from diagtree.model.conditions import Look
from diagtree.model.family import Cause
from diagtree.sheets.figures import Sources, number


@dataclass(frozen=True, slots=True)
class LookEntry:
    """A quick look: what is asked, and for each answer on how many of 100 machines in each state it is seen."""

    name: str
    ask: str
    minutes: str
    mark: str
    how: tuple[str, ...]
    answers: tuple[tuple[str, tuple[Decimal, ...]], ...]


@dataclass(frozen=True, slots=True)
class SideEntry:
    """One side of how a machine has lived, with the looks that speak of it."""

    name: str
    title: str
    mark: str
    states: tuple[tuple[str, Decimal], ...]
    """What each says, and how many of 100 machines that come in are in it."""
    looks: tuple[LookEntry, ...]


def sides(library: Library, sources: Sources) -> tuple[SideEntry, ...]:
    """Gather what is told of each side, in the library's order.

    Parameters
    ----------
    library
        Everything that is known.
    sources
        Numbers the bases of the figures.
    """
    return tuple(
        SideEntry(
            name=name,
            title=condition.title,
            mark=sources.mark(condition.basis),
            states=tuple((state.says, state.out_of_100) for state in condition.states.values()),
            looks=tuple(
                _entry(look_name, look, tuple(condition.states), sources)
                for look_name, look in library.looks.items()
                if look.speaks_of == name
            ),
        )
        for name, condition in library.conditions.items()
    )


def _entry(name: str, look: Look, states: tuple[str, ...], sources: Sources) -> LookEntry:
    return LookEntry(
        name=name,
        ask=look.ask,
        minutes=f"{number(look.minutes)} min",
        mark=sources.mark(look.basis),
        how=look.how,
        answers=tuple(
            (answer.says, tuple(answer.shows.get(state, Decimal(0)) for state in states))
            for answer in look.answers.values()
        ),
    )


def likelier(library: Library, cause: Cause) -> Iterator[tuple[str, str]]:
    """For each state that makes a cause more or less likely, the side's name and what it does, in words."""
    for name, factors in cause.more_likely.items():
        condition = library.conditions.get(name)
        for state, times in factors.items():
            if condition is not None and state in condition.states and times != 1:
                yield name, f"{condition.states[state].says}: {number(times)} times as likely"
