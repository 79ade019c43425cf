"""A wall poster: the whole drawing in one piece, across sheets that are trimmed and joined."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from diagtree.drawing.laid import Laid
from diagtree.drawing.measured import SIZE, WIDTHS, wrapped
from diagtree.drawing.paged import legend_of, sheet_of
from diagtree.drawing.printed import LARGEST, MARGIN, MILLIMETRE, PAPERS, Press, Printed, Sheet

TEMPLATES = ("strokes.typ", "poster.typ")

OVERLAP = 8.0
"""How much two sheets that are joined show of the same, millimetres: room for glue."""


def poster_pages(press: Press, changed: Callable[[Sheet], Sheet] | None = None) -> dict[str, Any]:
    """Put a poster into plain values.

    Parameters
    ----------
    press
        Brings the drawing to paper; its letters have at least the least size for the distance, and grow
        as far as the same number of sheets holds them.
    changed
        Changes what is laid out, for example by putting rules in place of words.

    Returns
    -------
    dict
        What the template ``poster.typ`` prints: one tile a sheet, row by row, empty ones left out;
        lengths in points.
    """
    drawing = press.drawing
    laid = press.whole()
    wide, high = PAPERS[press.paper]
    upright, across = _grid(press, laid, wide, high), _grid(press, laid, high, wide)
    # The side on which fewer sheets are needed.
    turned = across.rows * across.columns < upright.rows * upright.columns
    grid = across if turned else upright
    if turned:
        wide, high = high, wide
    scale, head = grid.scale, grid.head
    sheet = Sheet(1, drawing.boxes[0].name, laid, scale, turned)
    if changed is not None:
        sheet = changed(sheet)
    printed = Printed(drawing, press.paper, press.least, (sheet,), {}, {})
    whole = sheet_of(press, printed, sheet, left=0.0)
    inner = ((wide - 2 * MARGIN) * MILLIMETRE, (high - 2 * MARGIN) * MILLIMETRE)
    step = _step(wide, high)
    legend = [legend_of(kind, press) for kind in drawing.kinds]
    tiles = []
    for row in range(grid.rows):
        for column in range(grid.columns):
            corner = (column * step[0], row * step[1] - head)
            # The first sheet has the title and the legend.
            if row == column == 0 or _is_touched(sheet, scale, corner, inner):
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
        "legend": legend,
        "rows": grid.rows,
        "columns": grid.columns,
        "tiles": tiles,
    }


@dataclass(frozen=True, slots=True)
class _Grid:
    """How many sheets, and how much the drawing is enlarged on them."""

    rows: int
    columns: int
    scale: float
    head: float
    """Height of the title and the legend, points."""


def _step(wide: float, high: float) -> tuple[float, float]:
    """From one sheet to the next, points."""
    return (wide - 2 * MARGIN - OVERLAP) * MILLIMETRE, (high - 2 * MARGIN - OVERLAP) * MILLIMETRE


def _head(press: Press, room: float) -> float:
    """Tell how high title, identity and legend stand on the first sheet."""
    least = press.least
    titles = wrapped(press.drawing.title, room * SIZE / (2 * least), press.measure, True)
    about = wrapped(" ".join(press.identity), room * SIZE / least, press.measure)
    lines, left = 1, room
    for kind in press.drawing.kinds:
        width = legend_of(kind, press)["width"] + 0.6 * least
        if width > left:
            lines, left = lines + 1, room
        left -= width
    return least * (2 * len(titles) + len(about) + 2 * lines + 1.6)


def _grid(press: Press, laid: Laid, wide: float, high: float) -> _Grid:
    """Count the sheets for the least letters, then let the letters grow to fill them."""
    least = press.least / SIZE
    step_x, step_y = _step(wide, high)
    glue = OVERLAP * MILLIMETRE
    head = _head(press, (wide - 2 * MARGIN) * MILLIMETRE)
    columns = max(1, math.ceil((laid.width * least - glue) / step_x))
    rows = max(1, math.ceil((laid.height * least + head - glue) / step_y))
    fills = min((columns * step_x + glue) / laid.width, (rows * step_y + glue - head) / laid.height)
    return _Grid(rows, columns, max(least, min(fills, LARGEST * least)), head)


def _is_touched(sheet: Sheet, scale: float, corner: tuple[float, float], inner: tuple[float, float]) -> bool:
    """True if a box, an answer or a line is on a part of the drawing, not only beside it."""
    left, top = corner[0] / scale, corner[1] / scale
    right, low = left + inner[0] / scale, top + inner[1] / scale

    def inside(x: float, y: float, half_wide: float = 0.0, half_high: float = 0.0) -> bool:
        return left - half_wide < x < right + half_wide and top - half_high < y < low + half_high

    if any(inside(*placed.at, placed.box.width / 2, placed.box.height / 2) for placed in sheet.laid.boxes):
        return True
    for routed in sheet.laid.arrows:
        # An answer's words are never wider or higher than this.
        if routed.words_at is not None and inside(*routed.words_at, WIDTHS[0].answer, 60):
            return True
        if any(inside(*point) for point in (*along(routed.curve), routed.tip)):
            return True
    return False


def along(curve: Sequence[tuple[float, float]], steps: int = 32) -> Iterator[tuple[float, float]]:
    """Give points along a Bezier spline: one point, then three for each piece.

    Examples
    --------
    >>> list(along(((0, 0), (0, 0), (8, 8), (8, 8)), steps=2))
    [(0.0, 0.0), (4.0, 4.0), (8.0, 8.0)]
    """
    for first in range(0, len(curve) - 1, 3):
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = curve[first : first + 4]
        for step in range(steps + 1):
            t = step / steps
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            yield a * ax + b * bx + c * cx + d * dx, a * ay + b * by + c * cy + d * dy


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
