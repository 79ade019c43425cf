"""The sheets of a drawing in plain values: everything at its place on paper, for the typesetter."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from diagtree.drawing.diagram import Kind
from diagtree.drawing.laid import Placed, Point, Routed
from diagtree.drawing.measured import CONNECTOR, LEADING, SIZE, Row, Sized, size_of
from diagtree.drawing.printed import CONNECTOR_SAYS, MARGIN, MILLIMETRE, PAPERS, Press, Printed, Sheet
from diagtree.drawing.shapes import arrow_head, cut_corners, met, outlines, rows_at
from diagtree.units import plain

TEMPLATES = ("strokes.typ", "drawing.typ")


def pages(press: Press, printed: Printed) -> dict[str, Any]:
    """Put the sheets of a drawing into plain values.

    Parameters
    ----------
    press
        What brought the drawing to paper.
    printed
        Its sheets.

    Returns
    -------
    dict
        What the template ``drawing.typ`` prints; lengths in points.
    """
    drawing = printed.drawing
    return {
        "title": drawing.title,
        "heading": list(press.title),
        "identity": list(press.identity),
        "least": printed.least,
        "margin": MARGIN * MILLIMETRE,
        "head": press.head,
        "foot": press.foot,
        "legend_everywhere": press.legend_everywhere,
        "legend": [
            *(legend_of(kind, press) for kind in drawing.kinds),
            *([legend_of_connector(press)] if printed.connectors else []),
        ],
        "sheets": [sheet_of(press, printed, sheet) for sheet in printed.sheets],
        "index": [
            [
                box.heading,
                "; ".join(f"{plain(likely.count)} {likely.title}" for likely in box.likely),
                str(printed.where[box.name]),
            ]
            for box in drawing.boxes
            if box.kind in {Kind.FINDING, Kind.STOP}
        ],
        "index_note": f"The figures: how many of 100 {drawing.machines} {drawing.out_of}. Basis: {drawing.basis}.",
        "paper": [side * MILLIMETRE for side in PAPERS[printed.paper]],
    }


def sheet_of(press: Press, printed: Printed, sheet: Sheet, left: float | None = None) -> dict[str, Any]:
    """Put one sheet into plain values; ``left`` is where the drawing begins, by default so that it is centred."""
    width, height = (side * MILLIMETRE for side in PAPERS[printed.paper])
    if sheet.turned:
        width, height = height, width
    room_wide = width - 2 * MARGIN * MILLIMETRE
    scale = sheet.scale
    # In the middle of the sheet's width; high up, where one begins to read.
    if left is None:
        left = (room_wide - sheet.laid.width * scale) / 2
    shapes: list[dict[str, Any]] = []
    texts: list[dict[str, Any]] = []
    answers: dict[str, list[Routed]] = {}
    boxes = {placed.box.name: placed for placed in sheet.laid.boxes}
    for routed in sheet.laid.arrows:
        answers.setdefault(routed.arrow.tail, []).append(routed)
    for placed in sheet.laid.boxes:
        shapes += _shapes(placed, scale, left)
        texts.append(_box_text(placed, scale, left))
        texts += [
            _answer_text(press, routed, routed.words_at, scale, left)
            for routed in answers.get(placed.box.name, ())
            if routed.words_at is not None and routed.arrow.rows
        ]
    return {
        "width": width,
        "height": height,
        "letters": SIZE * scale,
        "leading": LEADING * scale,
        "lines": [_line(routed, boxes, scale, left) for routed in sheet.laid.arrows],
        "shapes": shapes,
        "texts": texts,
    }


def _shapes(placed: Placed, scale: float, left: float) -> list[dict[str, Any]]:
    x, y = placed.at[0] - placed.box.width / 2, placed.at[1] - placed.box.height / 2
    return [
        {
            "points": [[left + (x + px) * scale, (y + py) * scale] for px, py in outline.points],
            "weight": outline.weight * scale,
            "fill": outline.fill,
            "dashed": outline.dashed,
        }
        for outline in outlines(placed.box)
    ]


def _box_text(placed: Placed, scale: float, left: float) -> dict[str, Any]:
    x, y = placed.at[0] - placed.box.width / 2, placed.at[1] - placed.box.height / 2
    return {
        "rows": [
            _row(row, left + (x + px) * scale, (y + py) * scale)
            for row, (px, py) in zip(placed.box.rows, rows_at(placed.box), strict=True)
        ]
    }


def _row(row: Row, x: float, y: float) -> dict[str, Any]:
    return {"text": row.text, "bold": row.bold, "x": x, "y": y}


def _answer_text(
    press: Press, routed: Routed, at: tuple[float, float], scale: float, left: float
) -> dict[str, Any]:
    width, height = size_of(routed.arrow.rows, press.measure)
    return {
        "rows": [
            _row(row, left + (at[0] - width / 2) * scale, (at[1] - height / 2 + LEADING * place) * scale)
            for place, row in enumerate(routed.arrow.rows)
        ]
    }


def _line(routed: Routed, boxes: Mapping[str, Placed], scale: float, left: float) -> dict[str, Any]:
    start = met(boxes[routed.arrow.tail], routed.curve[0])
    tip = met(boxes[routed.arrow.head], routed.tip)
    wide = 2.6 + routed.arrow.weight / 2 + (1.5 if routed.arrow.marked else 0.0)
    neck, corners = arrow_head(routed.curve[-1], tip, wide)

    def on_paper(point: Point) -> list[float]:
        return [left + point[0] * scale, point[1] * scale]

    return {
        "start": on_paper(start),
        "neck": on_paper(neck),
        "curve": [on_paper(point) for point in routed.curve],
        "head": [on_paper(point) for point in corners],
        "weight": max(routed.arrow.weight, 3.2 if routed.arrow.marked else 0.0) * scale,
    }


def legend_of(kind: Kind, press: Press) -> dict[str, Any]:
    """Make a kind's sample for the legend: its shape around its word."""
    scale = press.least / SIZE
    width = press.measure(kind.word, SIZE, False) + 22
    sample = Sized(kind.value, kind.value, (), width, 15.0)
    return {
        "word": kind.word,
        "after": "",
        "width": width * scale,
        "height": 15.0 * scale,
        "shapes": [
            {
                "points": [[x * scale, y * scale] for x, y in _small(outline.points, kind, inner)],
                "weight": outline.weight * scale * 0.7,
                "fill": outline.fill,
                "dashed": outline.dashed,
            }
            for inner, outline in enumerate(outlines(sample))
        ],
    }


def legend_of_connector(press: Press) -> dict[str, Any]:
    """Make the sample of a circle at which a drawing goes on on another sheet."""
    scale = press.least / SIZE
    (circle,) = outlines(Sized("to", "to-down", (), CONNECTOR, CONNECTOR))
    high = 18.0 / CONNECTOR
    return {
        "word": "C1",
        "after": CONNECTOR_SAYS,
        "width": 18.0 * scale,
        "height": 18.0 * scale,
        "shapes": [
            {
                "points": [[x * high * scale, y * high * scale] for x, y in circle.points],
                "weight": circle.weight * scale * 0.7,
                "fill": circle.fill,
                "dashed": circle.dashed,
            }
        ],
    }


def _small(
    points: tuple[tuple[float, float], ...], kind: Kind, inner: int
) -> tuple[tuple[float, float], ...]:
    if kind is not Kind.STOP:
        return points
    # Corners of nine points, and four from line to line, would be all there is of so low a box.
    wide, high = (min(side) + max(side) for side in zip(*points, strict=True))
    return cut_corners(wide, high, 2.2 * inner, 5.0 - inner)
