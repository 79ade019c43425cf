"""The blocks that every paper is made of: plain frozen data, so that each writer sets them in its own way."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from typing import Any, TypeVar, cast


@dataclass(frozen=True, slots=True)
class Warn:
    """Cautions, or an order to stop: in a frame, before all else, never split.

    Parameters
    ----------
    word
        ``Stop``, ``Ask first``, ``Caution``, ``Mind`` or ``Until it is mended``.
    texts
        One sentence or two each.
    """

    word: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; ``small`` for what only explains, ``strong`` for what must not be missed."""

    text: str
    small: bool = False
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Pairs of a word and what is so: ``Label: blue one``."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Items:
    """A list; with ``boxes`` each item has a box to tick, ticked where ``ticked`` says so."""

    texts: tuple[str, ...]
    boxes: bool = False
    ticked: tuple[bool, ...] = ()


@dataclass(frozen=True, slots=True)
class Chance:
    """One line of a ranking."""

    title: str
    chance: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Chances:
    """A ranking: each line with its chance as a figure and as a bar.

    Parameters
    ----------
    title
        What is ranked.
    lines
        Likeliest first.
    """

    title: str
    lines: tuple[Chance, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Parameters
    ----------
    title
        Its head.
    right
        True for figures: set to the right-hand side.
    share
        How much of the width it takes where a writer has to divide it.
    blank
        True if people write into it: it is wide and stays empty where nothing was recorded.
    """

    title: str
    right: bool = False
    share: float = 1.0
    blank: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table; its head is repeated on each page.

    Parameters
    ----------
    columns
        At least one.
    rows
        Each with as many texts as there are columns.
    sums
        How many rows at the end are sums: set off by a line, in bold letters.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    sums: int = 0


@dataclass(frozen=True, slots=True)
class Step:
    """One job to do, with a box to tick.

    Parameters
    ----------
    number
        In the order of work.
    title
        The job.
    aside
        Minutes and stage.
    lines
        How it is done, one instruction each.
    warnings
        What can hurt.
    done
        What the case says about it: when it was ticked off; empty if it was not.
    """

    number: int
    title: str
    aside: str
    lines: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    done: str = ""


@dataclass(frozen=True, slots=True)
class Steps:
    """Jobs in the order of work; none is split."""

    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to sign or fill in by hand, with what is known already; ``beside`` one another where each is short."""

    pairs: tuple[tuple[str, str], ...]
    beside: bool = False


Block = Warn | Words | Facts | Items | Chances | Table | Steps | Blanks


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the paper under a heading; the heading stays with what follows."""

    title: str
    blocks: tuple[Block, ...]
    new_page: bool = field(default=False, repr=False)
    """True if it begins on a page of its own."""
    whole: bool = field(default=False, repr=False)
    """True if it is not split between pages, unless it is taller than one."""


_Data = TypeVar("_Data")


def with_texts(value: _Data, change: Callable[[str], str]) -> _Data:
    """Return a copy of nested frozen data in which every text has been changed by a function.

    Examples
    --------
    >>> with_texts(Section("a", (Items(("b", "c")),)), str.upper)
    Section(title='A', blocks=(Items(texts=('B', 'C'), boxes=False, ticked=()),))
    """
    if isinstance(value, str):
        return cast("_Data", change(value))
    if isinstance(value, (tuple, list)):
        return cast("_Data", type(value)(with_texts(item, change) for item in value))
    if isinstance(value, Mapping):
        return cast(
            "_Data", {with_texts(key, change): with_texts(item, change) for key, item in value.items()}
        )
    if is_dataclass(value) and not isinstance(value, type):
        changed: dict[str, Any] = {
            field.name: with_texts(getattr(value, field.name), change) for field in fields(value)
        }
        return replace(value, **changed)
    return value
