"""Drawings with blanks to write in: the same boxes in the same places, a rule where words were."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from diagtree.drawing.cut import OTHER
from diagtree.drawing.diagram import Box, Drawing, Kind
from diagtree.drawing.laid import Placed, Routed
from diagtree.drawing.measured import SIZE, Row, Sized, TextWidth, size_of
from diagtree.drawing.printed import Printed, Sheet
from diagtree.errors import UnknownNameError

BLANKS: Mapping[str, frozenset[Kind]] = {
    "answers": frozenset(),
    "findings": frozenset({Kind.FINDING, Kind.STOP}),
    "questions": frozenset({Kind.QUESTION, Kind.MEASUREMENT}),
}
"""What can be left blank, with the kinds of box that it empties; answers stand beside the lines."""

ROOM = 66.0
"""Least width of an answer that is to be written, in letters of 10 points: enough for two short words."""


LONG, SHORT = 24, 16
"""Letters of a rule in a box and beside a line, where the layout program measures."""


def check_blank(what: str) -> None:
    """Refuse what cannot be left blank.

    Raises
    ------
    UnknownNameError
        If it is not in `BLANKS`; it names those that are.
    """
    if what not in BLANKS:
        raise UnknownNameError("blank", what, list(BLANKS))


def with_room(drawing: Drawing, what: str) -> Drawing:
    """Keep room to write short answers in; the sheet and its key are both laid out from this.

    Examples
    --------
    >>> from diagtree.drawing.diagram import Line
    >>> line = Line("a", "b", "No")
    >>> with_room(Drawing("s", "S", "", "", "", "", "", (), (line,)), "answers").lines[0].room
    66.0
    """
    if what != "answers":
        return drawing
    return replace(
        drawing, lines=tuple(replace(line, room=ROOM) if line.says else line for line in drawing.lines)
    )


def blanked(drawing: Drawing, what: str) -> Drawing:
    """Put rules in place of words, for a drawing in one piece.

    Parameters
    ----------
    drawing
        The drawing with all its words: the key.
    what
        ``answers``, ``findings`` or ``questions``.

    Returns
    -------
    Drawing
        Kinds, numbers, minutes and counts stay, and the shape of the tree.

    Raises
    ------
    UnknownNameError
        If nothing of that name can be left blank.

    Examples
    --------
    >>> box = Box("check-a", Kind.QUESTION, 1, "Is the lamp on?")
    >>> blanked(Drawing("s", "S", "", "", "", "", "", (box,), ()), "questions").boxes[0].title
    '________________________'
    """
    check_blank(what)
    empty = BLANKS[what]
    lines = drawing.lines
    if what == "answers":
        lines = tuple(
            replace(line, says=_rule(line.says, SHORT), caution=())
            if line.says and line.says != OTHER
            else line
            for line in lines
        )
    return replace(
        drawing,
        boxes=tuple(_blank_box(box) if box.kind in empty else box for box in drawing.boxes),
        lines=lines,
    )


def _blank_box(box: Box) -> Box:
    return replace(
        box,
        title=_rule(box.title) if box.title else "",
        cautions=(),
        likely=tuple(
            replace(likely, title=_rule(likely.title), remedies=tuple(map(_rule, likely.remedies)))
            for likely in box.likely
        ),
    )


def _rule(text: str, long: int = LONG) -> str:
    return " ".join(["_" * long] * math.ceil(len(text) / long))


def blank_sheets(printed: Printed, what: str, measure: TextWidth) -> Printed:
    """Put rules in place of words on sheets that are laid out: nothing else moves, so the key matches.

    Parameters
    ----------
    printed
        The sheets with all their words: the key.
    what
        ``answers``, ``findings`` or ``questions``.
    measure
        How wide texts are.

    Raises
    ------
    UnknownNameError
        If nothing of that name can be left blank.
    """
    check_blank(what)
    return replace(
        printed,
        drawing=blanked(printed.drawing, what),
        sheets=tuple(blank_sheet(sheet, printed.drawing, what, measure) for sheet in printed.sheets),
    )


def blank_sheet(sheet: Sheet, drawing: Drawing, what: str, measure: TextWidth) -> Sheet:
    """Put rules in place of words on one sheet."""
    empty = BLANKS[what]
    kinds = {box.name: box.kind for box in drawing.boxes}
    boxes = tuple(
        Placed(_ruled_box(placed.box, measure), placed.at) if kinds.get(placed.box.name) in empty else placed
        for placed in sheet.laid.boxes
    )
    arrows = sheet.laid.arrows
    if what == "answers":
        arrows = tuple(_ruled_answer(routed, measure) for routed in arrows)
    return replace(sheet, laid=replace(sheet.laid, boxes=boxes, arrows=arrows))


def _ruled_box(box: Sized, measure: TextWidth) -> Sized:
    """Keep a box's heading, its counts and its size."""
    wide = size_of(box.rows, measure)[0]
    findings = BLANKS["findings"]
    rows = [box.rows[0]]
    for row in box.rows[1:]:
        first = row.text.partition(" ")[0] + " "
        # A cause begins at the left edge with its count, a remedy with a dash; what goes on stands further in.
        counted = Kind(box.kind) in findings and not row.bold and not row.indent
        rows.append(_ruled(row, first if counted or first == "– " else "", wide, measure))
    return replace(box, rows=tuple(rows))


def _ruled_answer(routed: Routed, measure: TextWidth) -> Routed:
    rows = routed.arrow.rows
    if not rows or " ".join(row.text for row in rows) == OTHER:
        return routed
    wide = size_of(rows, measure)[0]
    return replace(
        routed,
        arrow=replace(
            routed.arrow, rows=tuple(row if row.figure else _ruled(row, "", wide, measure) for row in rows)
        ),
    )


def _ruled(row: Row, head: str, wide: float, measure: TextWidth) -> Row:
    long = wide - row.indent - measure(head, SIZE, False)
    return replace(row, text=head + "_" * max(1, int(long / measure("_", SIZE, False))), bold=False)
