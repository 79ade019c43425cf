"""The drawing of a tree for the site: its boxes lead to the questions, its answers know where they stand."""

from __future__ import annotations

from dataclasses import dataclass

from diagtree.drawing.diagram import Drawing, Kind, check_box, finding_box
from diagtree.drawing.laid import Placed, Routed
from diagtree.drawing.measured import LEADING, SIZE, Row, size_of
from diagtree.drawing.printed import Press
from diagtree.drawing.shapes import arrow_head, met, outlines, rows_at
from diagtree.model.tree import Tree
from diagtree.publishing.site.places import answer_anchor, check_anchor, finding_anchor
from diagtree.sheets.letters import printable, text_width

ROOM = 6.0
"""Room around the drawing, points."""


@dataclass(frozen=True, slots=True)
class TextAt:
    """A line of letters: its left end on the base line, points; ``length`` is empty where letters are unknown."""

    x: str
    y: str
    text: str
    bold: bool
    length: str


@dataclass(frozen=True, slots=True)
class BoxAt:
    """A box at its place."""

    kind: str
    anchor: str
    """Where it leads on the page; empty for the complaint."""
    outlines: tuple[tuple[str, float, bool], ...]
    """Points, weight of the line, dashed or not."""
    texts: tuple[TextAt, ...]


@dataclass(frozen=True, slots=True)
class ArrowAt:
    """An answer at its place."""

    anchor: str
    curve: str
    head: str
    texts: tuple[TextAt, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A whole drawing, in points."""

    width: str
    height: str
    boxes: tuple[BoxAt, ...]
    arrows: tuple[ArrowAt, ...]


def picture_of(tree: Tree, drawing: Drawing) -> Picture:
    """Lay a drawing out in one piece and tie it to its page.

    Parameters
    ----------
    tree
        What is drawn.
    drawing
        Of it, plain.

    Returns
    -------
    Picture
        The same for the same tree.
    """
    laid = Press(drawing, "a4", "35cm", text_width).whole()
    anchors = {"start": ""}
    answers = [""]
    known = {check_box(name): name for name in tree.checks}
    for box in drawing.boxes:
        if box.name not in known:
            continue
        name = known[box.name]
        anchors[box.name] = check_anchor(name)
        for answer_name, answer in tree.checks[name].answers.items():
            answers.append(answer_anchor(name, answer_name))
            if answer.found is not None:
                anchors[finding_box(name, answer_name)] = finding_anchor(name, answer_name)
    placed = {one.box.name: one for one in laid.boxes}
    return Picture(
        _figure(laid.width + 2 * ROOM),
        _figure(laid.height + 2 * ROOM),
        tuple(_box(one, anchors[one.box.name]) for one in laid.boxes),
        tuple(_arrow(one, placed, anchor) for one, anchor in zip(laid.arrows, answers, strict=True)),
    )


def _figure(value: float) -> str:
    # A tenth of a point is finer than any screen; the same text comes out whatever the last digits are.
    return f"{value:.1f}".removesuffix(".0")


def _points(points: tuple[tuple[float, float], ...], x: float = ROOM, y: float = ROOM) -> str:
    return " ".join(f"{_figure(px + x)},{_figure(py + y)}" for px, py in points)


def _box(placed: Placed, anchor: str) -> BoxAt:
    x = placed.at[0] - placed.box.width / 2 + ROOM
    y = placed.at[1] - placed.box.height / 2 + ROOM
    return BoxAt(
        placed.box.kind if placed.box.kind in {kind.value for kind in Kind} else "",
        anchor,
        tuple((_points(line.points, x, y), line.weight, line.dashed) for line in outlines(placed.box)),
        tuple(
            _text(row, x + px, y + py)
            for row, (px, py) in zip(placed.box.rows, rows_at(placed.box), strict=True)
        ),
    )


def _text(row: Row, x: float, y: float) -> TextAt:
    # The letters' middle lies at the middle of the line.
    sure = printable(row.text) == row.text
    return TextAt(
        _figure(x),
        _figure(y + LEADING / 2 + 0.35 * SIZE),
        row.text,
        row.bold,
        _figure(text_width(row.text, SIZE, row.bold)) if sure and row.text else "",
    )


def _arrow(routed: Routed, placed: dict[str, Placed], anchor: str) -> ArrowAt:
    start = met(placed[routed.arrow.tail], routed.curve[0])
    neck, head = arrow_head(routed.curve[-1], met(placed[routed.arrow.head], routed.tip), 3.2)
    texts: tuple[TextAt, ...] = ()
    if routed.words_at is not None and routed.arrow.rows:
        width, height = size_of(routed.arrow.rows, text_width)
        left, top = routed.words_at[0] - width / 2 + ROOM, routed.words_at[1] - height / 2 + ROOM
        texts = tuple(_text(row, left, top + LEADING * place) for place, row in enumerate(routed.arrow.rows))
    curve = (
        f"M{_points((start,))} L{_points(routed.curve[:1])} C{_points(routed.curve[1:])} L{_points((neck,))}"
    )
    return ArrowAt(anchor, curve, _points(head), texts)
