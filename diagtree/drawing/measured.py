"""Boxes with their sizes: texts broken into lines by the widths of a font, shapes built around them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from diagtree.drawing.diagram import Box, Drawing, Kind, Line
from diagtree.units import plain

TextWidth = Callable[[str, float, bool], float]
"""Tells how wide a line of text is, in points: text, size, bold."""

SIZE = 10.0
"""Letters of a drawing before it is brought to the paper's size, points; all letters have this size."""

LEADING = 12.0
"""From one line to the next, points."""

PADDING = 5.0

POINT = {Kind.START: 3.0, Kind.QUESTION: 11.0, Kind.MEASUREMENT: 12.0, Kind.FINDING: 1.0, Kind.STOP: 9.0}
"""How far a kind's shape reaches over its text at each side, points."""

CONNECTOR = 30.0
"""Height of a connector's circle, points."""


@dataclass(frozen=True, slots=True)
class Widths:
    """Widest lines, in points, and how far boxes stand apart, in inches.

    Parameters
    ----------
    box, answer
        In a box, and beside a line.
    complaint
        In the complaint's box: low and wide, for what it says is long and stands above all else.
    gap
        Between boxes.
    """

    box: float
    answer: float
    complaint: float
    gap: float


WIDTHS = (Widths(150, 92, 290, 0.2), Widths(114, 74, 200, 0.14), Widths(92, 60, 150, 0.1))
"""The usual ones, and narrower ones for large letters on small paper."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of text.

    Parameters
    ----------
    text, bold
        What it says, and how.
    indent
        From the left, points.
    room
        Its least width, points.
    figure
        True for a figure of the drawing, which no blank takes away.
    """

    text: str
    bold: bool = False
    indent: float = 0.0
    room: float = 0.0
    figure: bool = False


@dataclass(frozen=True, slots=True)
class Sized:
    """Something to be placed: a box or a connector, with its rows, in points."""

    name: str
    kind: str
    rows: tuple[Row, ...]
    width: float
    height: float


def wrapped(text: str, room: float, measure: TextWidth, bold: bool = False) -> list[str]:
    """Break a text into lines that are no wider than a room; a word wider than it is broken too.

    Examples
    --------
    >>> wrapped("one two three", 7.0, lambda text, size, bold: len(text) * 1.0)
    ['one two', 'three']
    >>> wrapped("abcdefgh", 3.0, lambda text, size, bold: len(text) * 1.0)
    ['abc', 'def', 'gh']
    """
    lines: list[str] = []
    for part in text.split("\n"):
        line = ""
        for whole in part.split():
            word = whole
            if line and measure(f"{line} {word}", SIZE, bold) <= room:
                line = f"{line} {word}"
                continue
            if line:
                lines.append(line)
            while len(word) > 1 and measure(word, SIZE, bold) > room:
                cut = max(1, sum(1 for end in range(1, len(word)) if measure(word[:end], SIZE, bold) <= room))
                lines.append(word[:cut])
                word = word[cut:]
            line = word
        lines.append(line)
    return [line for line in lines if line] or [""]


def box_rows(box: Box, measure: TextWidth, widths: Widths = WIDTHS[0]) -> tuple[Row, ...]:
    """Break all that a box says into rows."""
    head = box.heading if box.minutes is None else f"{box.heading} · {plain(box.minutes)} min"
    loud = box.kind in {Kind.START, Kind.STOP}
    room = widths.complaint if box.kind is Kind.START else widths.box
    rows = [Row(head.upper() if box.kind is Kind.STOP else head, True)]
    rows += [Row(line, loud) for line in wrapped(box.title, room, measure, loud) if line]
    for also in box.also:
        rows += [Row(line) for line in wrapped(also, room, measure)]
    for caution in box.cautions:
        rows += [Row(line, True) for line in wrapped(f"Caution: {caution}", room, measure, True)]
    for likely in box.likely:
        rows += _hanging(f"{plain(likely.count)} ", likely.title, 0.0, measure, widths.box)
        for remedy in likely.remedies:
            rows += _hanging("– ", remedy, 12.0, measure, widths.box)
    return tuple(rows)


def _hanging(head: str, text: str, indent: float, measure: TextWidth, room: float) -> list[Row]:
    under = measure(head, SIZE, False)
    first, *rest = wrapped(text, room - indent - under, measure)
    return [Row(head + first, indent=indent), *(Row(line, indent=indent + under) for line in rest)]


def size_of(rows: tuple[Row, ...], measure: TextWidth) -> tuple[float, float]:
    """Tell the width and height of rows set one under another."""
    width = max(max(row.room, row.indent + measure(row.text, SIZE, row.bold)) for row in rows)
    return width, LEADING * len(rows)


def sized_box(box: Box, measure: TextWidth, widths: Widths = WIDTHS[0]) -> Sized:
    """Build a box around its text."""
    rows = box_rows(box, measure, widths)
    width, height = size_of(rows, measure)
    around = 2 * (PADDING + POINT[box.kind])
    border = 8.0 if box.kind is Kind.STOP else 0.0
    return Sized(box.name, box.kind.value, rows, width + around + border, height + 2 * PADDING + border)


def answer_rows(line: Line, measure: TextWidth, widths: Widths = WIDTHS[0]) -> tuple[Row, ...]:
    """Break an answer into rows."""
    if not line.says:
        return ()
    room = min(line.room, widths.answer)
    rows = [Row(text, room=room) for text in wrapped(line.says, widths.answer, measure)]
    for caution in line.caution:
        rows += [Row(text, True) for text in wrapped(f"Caution: {caution}", widths.answer, measure, True)]
    if line.share is not None:
        rows.append(Row(line.figure, figure=True))
    return tuple(rows)


def connector(
    name: str, label: str, about: str, measure: TextWidth, *, widest: str, leads_in: bool, across: bool
) -> Sized:
    """Make a connector: a circle with its number, and beyond it where it goes on or comes from.

    Parameters
    ----------
    name, label, about
        Its own name, its number, and what is said of it.
    measure
        How wide texts are.
    widest
        The widest that could be said of it: its room, so that the numbers of sheets change no layout.
    leads_in
        True for the circle at which a sheet is entered: its words stand before it, else behind it.
    across
        True if the drawing goes from left to right.
    """
    room = WIDTHS[0].box
    rows = (Row(label, True), *(Row(text) for text in wrapped(about, room, measure)))
    width, height = size_of(tuple(Row(text) for text in wrapped(widest, room, measure)), measure)
    kind = f"{'from' if leads_in else 'to'}-{'across' if across else 'down'}"
    if across:
        return Sized(name, kind, rows, CONNECTOR + 4 + width, max(CONNECTOR, height))
    return Sized(name, kind, rows, max(CONNECTOR, width), CONNECTOR + 2 + height)


def sized_boxes(drawing: Drawing, measure: TextWidth, widths: Widths = WIDTHS[0]) -> dict[str, Sized]:
    """Build all boxes of a drawing, by name."""
    return {box.name: sized_box(box, measure, widths) for box in drawing.boxes}
