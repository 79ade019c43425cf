"""Outlines of the kinds of box, as points; each kind keeps its shape and line weight without any colour."""

from __future__ import annotations

import math
from dataclasses import dataclass

from diagtree.drawing.laid import Placed, Point
from diagtree.drawing.measured import CONNECTOR, LEADING, PADDING, Sized


@dataclass(frozen=True, slots=True)
class Outline:
    """One closed line around a box.

    Parameters
    ----------
    points
        From the upper left corner of the box, points.
    weight
        Of the line, points.
    fill
        A colour in hexadecimal; colours only help.
    dashed
        True for a dashed line.
    """

    points: tuple[tuple[float, float], ...]
    weight: float
    fill: str = "#ffffff"
    dashed: bool = False


def outlines(box: Sized) -> tuple[Outline, ...]:
    """Return the lines around a box, the outer one first.

    Examples
    --------
    >>> [len(line.points) for line in outlines(Sized("a", "question", (), 90.0, 30.0))]
    [6]
    >>> [len(line.points) for line in outlines(Sized("a", "stop", (), 90.0, 30.0))]
    [8, 8]
    """
    width, height = box.width, box.height
    if box.kind == "start":
        return (Outline(_rounded(width, height, min(12.0, height / 2)), 1.0),)
    if box.kind == "question":
        middle = height / 2
        return (
            Outline(
                ((0, middle), (11, 0), (width - 11, 0), (width, middle), (width - 11, height), (11, height)),
                1.2,
            ),
        )
    if box.kind == "measurement":
        return (
            Outline(((12, 0), (width, 0), (width - 12, height), (0, height)), 1.2, "#eaf1f8", dashed=True),
        )
    if box.kind == "finding":
        return (Outline(((0, 0), (width, 0), (width, height), (0, height)), 2.6, "#eff5ec"),)
    if box.kind == "stop":
        return (
            Outline(cut_corners(width, height, 0.0, 9.0), 1.8, "#fbeae7"),
            Outline(cut_corners(width, height, 4.0, 7.5), 1.2, "#fbeae7"),
        )
    x, y = _circle_at(box)
    radius = CONNECTOR / 2
    circle = tuple(
        (x + radius * math.cos(turn * math.pi / 18), y + radius * math.sin(turn * math.pi / 18))
        for turn in range(36)
    )
    return (Outline(circle, 1.2),)


def _circle_at(box: Sized) -> tuple[float, float]:
    """The middle of a connector's circle: on the side where its line is."""
    radius = CONNECTOR / 2
    if box.kind.endswith("across"):
        return (box.width - radius if box.kind.startswith("from") else radius), box.height / 2
    return box.width / 2, (box.height - radius if box.kind.startswith("from") else radius)


def meeting(box: Sized, at: tuple[float, float]) -> tuple[float, float]:
    """Return where a line from the edge of a box towards its middle meets its outline.

    Parameters
    ----------
    box
        The box.
    at
        A point on its edge, from its upper left corner: the layout program takes all boxes for rectangles.

    Returns
    -------
    tuple of float
        The point on the outline; ``at`` itself where it lies on it.

    Examples
    --------
    >>> meeting(Sized("a", "question", (), 90.0, 30.0), (0.0, 15.0)), meeting(
    ...     Sized("a", "finding", (), 90.0, 30.0), (45.0, 0.0))
    ((0.0, 15.0), (45.0, 0.0))
    """
    points = outlines(box)[0].points
    middle = _circle_at(box) if box.kind.startswith(("from", "to")) else (box.width / 2, box.height / 2)
    best = 1.0
    for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
        # at + t (middle - at) = a + u (b - a)
        dx, dy, ex, ey = middle[0] - at[0], middle[1] - at[1], bx - ax, by - ay
        cross = dx * ey - dy * ex
        if abs(cross) < 1e-9:
            continue
        t = ((ax - at[0]) * ey - (ay - at[1]) * ex) / cross
        u = ((ax - at[0]) * dy - (ay - at[1]) * dx) / cross
        if -1e-6 <= t < best and -1e-6 <= u <= 1 + 1e-6:
            best = t
    if best >= 1.0:
        return at
    return at[0] + best * (middle[0] - at[0]), at[1] + best * (middle[1] - at[1])


def met(placed: Placed, point: Point) -> Point:
    """Bring the end of a line from a placed box's rectangle to its outline."""
    x, y = placed.at[0] - placed.box.width / 2, placed.at[1] - placed.box.height / 2
    at = meeting(placed.box, (point[0] - x, point[1] - y))
    return at[0] + x, at[1] + y


def arrow_head(end: Point, tip: Point, wide: float) -> tuple[Point, tuple[Point, Point, Point]]:
    """Return where a line stops under its head, and the head's corners, the tip first.

    Parameters
    ----------
    end, tip
        Where the curve ends, and where the head is to point.
    wide
        Half the width of the head, points.

    Examples
    --------
    >>> arrow_head((0.0, 0.0), (0.0, 10.0), 3.0)
    ((0.0, 3.0), ((0.0, 10.0), (-3.0, 2.0), (3.0, 2.0)))
    """
    long = math.hypot(tip[0] - end[0], tip[1] - end[1]) or 1.0
    x, y = (tip[0] - end[0]) / long, (tip[1] - end[1]) / long
    corners = (
        tip,
        (tip[0] - x * 8 - y * wide, tip[1] - y * 8 + x * wide),
        (tip[0] - x * 8 + y * wide, tip[1] - y * 8 - x * wide),
    )
    return (tip[0] - x * 7, tip[1] - y * 7), corners


def rows_at(box: Sized) -> tuple[tuple[float, float], ...]:
    """Return the upper left corner of each row of a box, from the upper left corner of the box."""
    if box.kind.startswith(("from", "to")):
        return _connector_rows(box)
    reach = {"start": 3.0, "question": 11.0, "measurement": 12.0, "finding": 1.0, "stop": 13.0}[box.kind]
    top = (box.height - LEADING * len(box.rows)) / 2
    return tuple((PADDING + reach + row.indent, top + LEADING * place) for place, row in enumerate(box.rows))


def _connector_rows(box: Sized) -> tuple[tuple[float, float], ...]:
    x, y = _circle_at(box)
    before, across = box.kind.startswith("from"), box.kind.endswith("across")
    # The number stands in the middle of the circle: nearly so, for figures are all of one width.
    number = (x - 3.0 * len(box.rows[0].text), y - LEADING / 2)
    left = (0.0 if before else CONNECTOR + 4) if across else 0.0
    top = (box.height - LEADING * (len(box.rows) - 1)) / 2 if across else (0.0 if before else CONNECTOR + 2)
    return (number, *((left, top + LEADING * place) for place in range(len(box.rows) - 1)))


def cut_corners(width: float, height: float, inset: float, corner: float) -> tuple[tuple[float, float], ...]:
    """Return an octagon inside a box: its distance from the edges, and how much is cut from each corner.

    Examples
    --------
    >>> cut_corners(10, 6, 0, 1)[:3]
    ((1, 0), (9, 0), (10, 1))
    """
    left, top, right, low = inset, inset, width - inset, height - inset
    return (
        (left + corner, top),
        (right - corner, top),
        (right, top + corner),
        (right, low - corner),
        (right - corner, low),
        (left + corner, low),
        (left, low - corner),
        (left, top + corner),
    )


def _rounded(width: float, height: float, radius: float) -> tuple[tuple[float, float], ...]:
    points = []
    for middle_x, middle_y, first in (
        (width - radius, radius, -90),
        (width - radius, height - radius, 0),
        (radius, height - radius, 90),
        (radius, radius, 180),
    ):
        for turn in range(0, 91, 10):
            angle = math.radians(first + turn)
            points.append((middle_x + radius * math.cos(angle), middle_y + radius * math.sin(angle)))
    return tuple(points)
