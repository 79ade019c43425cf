"""A wall poster: the whole drawing in one piece, across sheets that are trimmed and joined."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from diagtree.drawing.paged import legend_of, sheet_of
from diagtree.drawing.printed import MARGIN, MILLIMETRE, PAPERS, Press, Printed, Sheet

TEMPLATE = "poster.typ"

OVERLAP = 8.0
"""How much two sheets that are joined show of the same, millimetres: room for glue."""


def poster_pages(press: Press, changed: Callable[[Sheet], Sheet] | None = None) -> dict[str, Any]:
    """Put a poster into plain values.

    Parameters
    ----------
    press
        Brings the drawing to paper; its letters have exactly the least size for the distance.
    changed
        Changes what is laid out, for example by putting rules in place of words.

    Returns
    -------
    dict
        What the template ``poster.typ`` prints: one tile a sheet, row by row; lengths in points.
    """
    drawing = press.drawing
    laid = press.whole()
    scale = press.least / 10.0
    wide, high = PAPERS[press.paper]
    # The side on which fewer sheets are needed.
    turned = _tiles(laid.width * scale, laid.height * scale, high, wide) < _tiles(
        laid.width * scale, laid.height * scale, wide, high
    )
    if turned:
        wide, high = high, wide
    head = 3.2 * press.least * 2
    sheet = Sheet(1, drawing.boxes[0].name, laid, scale, turned)
    if changed is not None:
        sheet = changed(sheet)
    printed = Printed(drawing, press.paper, press.least, (sheet,), {}, {})
    whole = sheet_of(press, printed, sheet, left=0.0)
    inner = ((wide - 2 * MARGIN) * MILLIMETRE, (high - 2 * MARGIN) * MILLIMETRE)
    step = (inner[0] - OVERLAP * MILLIMETRE, inner[1] - OVERLAP * MILLIMETRE)
    legend = [legend_of(kind, press) for kind in drawing.kinds]
    width = max(laid.width * scale, 1.0)
    height = laid.height * scale + head + 40 * scale
    columns = max(1, math.ceil((width - OVERLAP * MILLIMETRE) / step[0]))
    rows = max(1, math.ceil((height - OVERLAP * MILLIMETRE) / step[1]))
    tiles = []
    for row in range(rows):
        for column in range(columns):
            corner = (column * step[0], row * step[1] - head)
            part = _part(whole, corner, inner)
            tiles.append({"row": row + 1, "column": column + 1, "corner": list(corner), **part})
    return {
        "title": drawing.title,
        "about": " ".join(press.identity),
        "least": press.least,
        "margin": MARGIN * MILLIMETRE,
        "inner": list(inner),
        "paper": [wide * MILLIMETRE, high * MILLIMETRE],
        "overlap": OVERLAP * MILLIMETRE,
        "letters": whole["letters"],
        "leading": whole["leading"],
        "head": head,
        "legend_at": laid.height * scale + 14 * scale,
        "legend": legend,
        "rows": rows,
        "columns": columns,
        "tiles": tiles,
    }


def _tiles(width: float, height: float, wide: float, high: float) -> int:
    step_x = (wide - 2 * MARGIN - OVERLAP) * MILLIMETRE
    step_y = (high - 2 * MARGIN - OVERLAP) * MILLIMETRE
    return math.ceil(width / step_x) * math.ceil(height / step_y)


def _part(
    whole: Mapping[str, Any], corner: tuple[float, float], inner: tuple[float, float]
) -> dict[str, Any]:
    """What of a drawing touches one sheet: the rest need not be in its file."""
    slack = 60 * whole["letters"] / 10

    def touches(points: Iterable[Iterable[float]]) -> bool:
        xs, ys = zip(*points, strict=True)
        return bool(
            max(xs) + slack >= corner[0]
            and min(xs) - slack <= corner[0] + inner[0]
            and max(ys) + slack >= corner[1]
            and min(ys) - slack <= corner[1] + inner[1]
        )

    def row_touches(row: Mapping[str, Any]) -> bool:
        reach = len(row["text"]) * whole["letters"]
        return touches([(row["x"], row["y"]), (row["x"] + reach, row["y"] + whole["leading"])])

    texts = [{"rows": [row for row in text["rows"] if row_touches(row)]} for text in whole["texts"]]
    return {
        "lines": [line for line in whole["lines"] if touches([*line["curve"], *line["head"], line["start"]])],
        "shapes": [shape for shape in whole["shapes"] if touches(shape["points"])],
        "texts": [text for text in texts if text["rows"]],
    }
