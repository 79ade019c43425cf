"""Boxes and answers brought to their places. No author's text goes to the layout program: only sizes do."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from diagtree.drawing.measured import Row, Sized, TextWidth, size_of
from diagtree.drawing.render import render

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Arrow:
    """An answer to be drawn: from one box to another.

    Parameters
    ----------
    tail, head
        Names of boxes.
    rows
        What it says; empty for nothing.
    weight
        Of the line, points.
    marked
        True if a case went this way.
    """

    tail: str
    head: str
    rows: tuple[Row, ...] = ()
    weight: float = 0.9
    marked: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A box with its middle, in points from the upper left corner."""

    box: Sized
    at: Point


@dataclass(frozen=True, slots=True)
class Routed:
    """An answer with its curve (a Bezier spline: one point, then three for each piece), its tip and its words."""

    arrow: Arrow
    curve: tuple[Point, ...]
    tip: Point
    words_at: Point | None
    """The middle of its words."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A drawing with everything in its place, in points from the upper left corner."""

    width: float
    height: float
    boxes: tuple[Placed, ...]
    arrows: tuple[Routed, ...]


def lay_out(
    boxes: Sequence[Sized],
    arrows: Sequence[Arrow],
    measure: TextWidth,
    *,
    across: bool = False,
    gap: float = 0.2,
    known: dict[str, Mapping[str, object]] | None = None,
) -> Laid:
    """Bring boxes and answers to their places, top down.

    Parameters
    ----------
    boxes
        Each with a name of its own.
    arrows
        Between them.
    measure
        How wide texts are.
    across
        True to go from left to right instead.
    gap
        Between boxes side by side, inches.
    known
        What the layout program answered to the same sizes before; it is added to.

    Returns
    -------
    Laid
        The same for the same input.

    Raises
    ------
    LayoutError
        If the layout program fails.
    """
    number = {box.name: place for place, box in enumerate(boxes)}
    direction = "LR" if across else "TB"
    lines = [f'digraph {{ graph [ranksep="0.34" nodesep="{gap}" rankdir={direction}];']
    lines += ['node [shape=box fixedsize=true label=""];']
    lines += [
        f"n{place} [width={box.width / 72:.4f} height={box.height / 72:.4f}];"
        for place, box in enumerate(boxes)
    ]
    for place, arrow in enumerate(arrows):
        label = ""
        if arrow.rows:
            width, height = size_of(arrow.rows, measure)
            label = (
                f' label=<<TABLE BORDER="0" FIXEDSIZE="TRUE" WIDTH="{width + 8:.0f}" HEIGHT="{height + 2:.0f}">'
                "<TR><TD></TD></TR></TABLE>>"
            )
        lines.append(f"n{number[arrow.tail]} -> n{number[arrow.head]} [id=e{place}{label}];")
    source = "\n".join([*lines, "}"])
    known = {} if known is None else known
    if source not in known:
        known[source] = json.loads(render(source, "json0"))
    return _read(known[source], boxes, arrows)


def _read(answer: Mapping[str, object], boxes: Sequence[Sized], arrows: Sequence[Arrow]) -> Laid:
    left, low, right, high = _numbers(answer["bb"])

    def down(x: float, y: float) -> Point:
        return x - left, high - y

    # The layout program gives nodes and edges in an order of its own.
    nodes = {str(found["name"]): found for found in _table(answer.get("objects", ()))}
    edges = {str(found["id"]): found for found in _table(answer.get("edges", ()))}
    placed = tuple(Placed(box, down(*_numbers(nodes[f"n{place}"]["pos"]))) for place, box in enumerate(boxes))
    routed = []
    for place, arrow in enumerate(arrows):
        found = edges[f"e{place}"]
        end, *points = str(found["pos"]).split()
        where = [down(*_numbers(point)) for point in points]
        words = down(*_numbers(found["lp"])) if "lp" in found else None
        routed.append(Routed(arrow, tuple(where), down(*_numbers(end.removeprefix("e,"))), words))
    return Laid(right - left, high - low, placed, tuple(routed))


def _numbers(text: object) -> list[float]:
    return [float(part) for part in str(text).split(",")]


def _table(found: object) -> list[Mapping[str, object]]:
    if not isinstance(found, Iterable):
        raise TypeError("the layout program gave no list")
    return [item for item in found if isinstance(item, dict)]
