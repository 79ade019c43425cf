"""A plot of progress: points over machines, for a terminal and as SVG."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

MEAN_OF = 5
"""The line is the mean of the last so many machines."""

MOST_COLUMNS = 60


def running_mean(points: Sequence[int], last: int = MEAN_OF) -> list[float]:
    """Return for each machine the mean points of the last few up to it.

    Examples
    --------
    >>> running_mean([40, 60, 80], last=2)
    [40.0, 50.0, 70.0]
    """
    return [
        sum(points[max(0, place - last + 1) : place + 1]) / min(place + 1, last)
        for place in range(len(points))
    ]


def plot_text(points: Sequence[int], width: int = 60, height: int = 10, fine: bool = True) -> list[str]:
    """Plot points in letters: a bar for each machine, a mark for the mean of the last five.

    Parameters
    ----------
    points
        Out of 100, the oldest first; where there is no room for all, the latest are shown.
    width, height
        Cells; at least 12 by 6. A row is 10, 20 or 25 points, as there is room.
    fine
        True where the terminal can write block letters.

    Returns
    -------
    list of str
        Rows, top first. Nothing is told by colour.

    Examples
    --------
    >>> for row in plot_text([25, 55, 100], width=16, height=6, fine=False): print(row)
    100 |    #
     75 |    #
     50 |  = =
     25 |# # #
      0 +-----
    points for each of 3 machines; = is the mean of the last 5
    """
    step = 10 if height >= 12 else 20 if height >= 7 else 25
    room = min(max(1, (width - 5) // 2), MOST_COLUMNS)
    shown = list(points)[-room:]
    means = running_mean(points)[-room:]
    block, mark = ("█", "◆") if fine else ("#", "=")
    lines = []
    for level in range(100, 0, -step):
        cells = []
        for value, mean in zip(shown, means, strict=True):
            marked = _row_of(mean, step) == level and mean != value
            cells.append(mark if marked else block if _row_of(value, step) >= level else " ")
        lines.append(f"{level:3d} |{' '.join(cells)}".rstrip())
    lines.append(f"  0 +{'-' * max(1, 2 * len(shown) - 1)}")
    count = f"{len(shown)} machine{'' if len(shown) == 1 else 's'}"
    which = f"each of {count}" if len(shown) == len(points) else f"the last {count} of {len(points)}"
    lines.append(f"points for {which}; {mark} is the mean of the last {MEAN_OF}")
    return lines


def _row_of(value: float, step: int) -> int:
    """Tell up to which row a value reaches: the nearest one, but any points at all show."""
    return max(int(value / step + 0.5) * step, step if value > 0 else 0)


_WIDTH, _HEIGHT = 720, 320
_LEFT, _RIGHT, _TOP, _BOTTOM = 52, 16, 44, 48


_HEAD = (
    f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {_HEIGHT}" width="{_WIDTH}" '
    f'height="{_HEIGHT}" role="img" font-family="Liberation Sans, Arial, sans-serif" font-size="12">'
)


def plot_svg(points: Sequence[int], title: str, marks: Sequence[str] = ()) -> str:
    """Plot points as SVG: a dot for each machine, a line for the mean of the last five.

    Parameters
    ----------
    points
        Out of 100, the oldest first.
    title
        Its heading, for example the learner's name.
    marks
        For each machine what to show when a dot is pointed at.

    Returns
    -------
    str
        The same for the same points. It needs no style or font from elsewhere, and prints in grey.
    """
    wide, tall = _WIDTH - _LEFT - _RIGHT, _HEIGHT - _TOP - _BOTTOM

    def x_of(place: int) -> str:
        return f"{_LEFT + wide * (place + 0.5) / max(1, len(points)):.1f}"

    def y_of(value: float) -> str:
        return f"{_TOP + tall * (1 - value / 100):.1f}"

    named = escape(title)
    parts = [
        _HEAD,
        f"<title>{named}</title>",
        f"<desc>{escape(_in_words(points))}</desc>",
        f'<rect width="{_WIDTH}" height="{_HEIGHT}" fill="#fff"/>',
        f'<text x="{_LEFT}" y="24" font-size="16" font-weight="bold">{named}</text>',
    ]
    for value in (0, 25, 50, 75, 100):
        y = y_of(value)
        parts.append(f'<line x1="{_LEFT}" y1="{y}" x2="{_WIDTH - _RIGHT}" y2="{y}" stroke="#bbb"/>')
        parts.append(f'<text x="{_LEFT - 8}" y="{y}" dy="4" text-anchor="end">{value}</text>')
    every = max(1, -(-len(points) // 12))
    for place in range(0, len(points), every):
        under = _HEIGHT - _BOTTOM + 18
        parts.append(f'<text x="{x_of(place)}" y="{under}" text-anchor="middle">{place + 1}</text>')
    if len(points) > 1:
        line = " ".join(f"{x_of(place)},{y_of(mean)}" for place, mean in enumerate(running_mean(points)))
        parts.append(f'<polyline points="{line}" fill="none" stroke="#000" stroke-width="2.5"/>')
    for place, value in enumerate(points):
        said = escape(marks[place]) if place < len(marks) else str(value)
        parts.append(
            f'<circle cx="{x_of(place)}" cy="{y_of(value)}" r="4" fill="#fff" stroke="#000" stroke-width="1.5">'
            f"<title>{said}</title></circle>"
        )
    foot = f"Machines practised on, the first at the left. Dots: points of 100. Line: mean of the last {MEAN_OF}."
    parts.append(f'<text x="{_LEFT}" y="{_HEIGHT - 10}">{foot}</text>')
    parts.append("</svg>")
    return "\n".join(parts) + "\n"


def _in_words(points: Sequence[int]) -> str:
    if not points:
        return "Nothing is finished yet."
    mean = running_mean(points)[-1]
    count = f"{len(points)} machine{'' if len(points) == 1 else 's'}"
    return f"{count}; points from {min(points)} to {max(points)}; mean of the last five {mean:.0f}."
