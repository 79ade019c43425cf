"""Makes the captures of the bench screen: `python docs/captures/make.py` writes them, `--check` compares.

The bench is walked through a terminal in memory; what it shows is drawn as SVG. The same library gives the
same bytes, so a test can tell when a capture has grown old.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html import escape
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "tests" / "screens" / "bench"))

from bench_terminal import Hand, Terminal  # noqa: E402
from prompt_toolkit.output import ColorDepth  # noqa: E402

from diagtree.case.log import MemoryLog  # noqa: E402
from diagtree.case.walker import Walker  # noqa: E402
from diagtree.library.library import Library  # noqa: E402

if TYPE_CHECKING:
    from pyte.screens import Char

CELL_WIDTH, CELL_HEIGHT, EDGE = 9.0, 20.0, 14.0
FONT = "'DejaVu Sans Mono','Cascadia Mono',Menlo,Consolas,monospace"
NAMED = {
    "black": "#000000",
    "red": "#cd3131",
    "green": "#0dbc79",
    "brown": "#e5e510",
    "blue": "#2472c8",
    "magenta": "#bc3fbc",
    "cyan": "#11a8cd",
    "white": "#e5e5e5",
}
PAPER, INK = "#101010", "#e5e5e5"


@dataclass(frozen=True)
class Look:
    """How a cell is drawn."""

    ink: str
    paper: str
    bold: bool
    underline: bool


def _colour(name: str, default: str) -> str:
    if name == "default":
        return default
    return NAMED.get(name, f"#{name}")


def look_of(cell: Char) -> Look:
    """Tell how a cell of pyte's screen is drawn."""
    ink, paper = _colour(cell.fg, INK), _colour(cell.bg, PAPER)
    if cell.reverse:
        ink, paper = paper, ink
    return Look(ink, paper, cell.bold, cell.underscore)


def svg_of(terminal: Terminal, title: str) -> str:
    """Draw what is on the screen."""
    screen = terminal.screen
    columns, rows = screen.columns, screen.lines
    width, height = columns * CELL_WIDTH + 2 * EDGE, rows * CELL_HEIGHT + 2 * EDGE
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img">',
        f"<title>{escape(title)}</title>",
        f'<rect width="{width:g}" height="{height:g}" rx="8" fill="#1c1c1c"/>',
        f'<g font-family="{escape(FONT)}" font-size="15" xml:space="preserve">',
    ]
    for y in range(rows):
        parts += _row([screen.buffer[y][x] for x in range(columns)], y)
    x, y = terminal.cursor
    if not screen.cursor.hidden:
        parts.append(
            f'<rect x="{EDGE + x * CELL_WIDTH:g}" y="{EDGE + y * CELL_HEIGHT:g}" width="{CELL_WIDTH:g}" '
            f'height="{CELL_HEIGHT:g}" fill="none" stroke="#ffffff" stroke-width="1.5"/>'
        )
    return "\n".join([*parts, "</g>", "</svg>", ""])


def _row(cells: list[Char], y: int) -> Iterator[str]:
    top = EDGE + y * CELL_HEIGHT
    x = 0
    for look, run in groupby(cells, look_of):
        text = "".join(cell.data for cell in run)
        left, wide = EDGE + x * CELL_WIDTH, len(text) * CELL_WIDTH
        x += len(text)
        if look.paper != "#1c1c1c":
            yield (
                f'<rect x="{left:g}" y="{top:g}" width="{wide:g}" height="{CELL_HEIGHT:g}" '
                f'fill="{look.paper}"/>'
            )
        extra = ' font-weight="bold"' if look.bold else ""
        extra += ' text-decoration="underline"' if look.underline else ""
        # Words with more than one space between them are set apart: not every viewer keeps the spaces.
        for words in re.finditer(r"[^ ]+(?: [^ ]+)*", text):
            bare = words.group()
            yield (
                f'<text x="{left + words.start() * CELL_WIDTH:g}" y="{top + 15:g}" fill="{look.ink}" '
                f'textLength="{len(bare) * CELL_WIDTH:g}"{extra}>{escape(bare)}</text>'
            )


@dataclass(frozen=True)
class Capture:
    """One capture: its file, its title, its size, and the keys that lead to it."""

    name: str
    title: str
    size: tuple[int, int]
    play: Callable[[Hand], object]
    complaints: tuple[str, ...] = ()
    label: str = ""
    options: tuple[tuple[str, object], ...] = ()


def draw(capture: Capture, library: Library) -> str:
    """Play one capture and draw its last screen."""
    walker = Walker(
        library,
        MemoryLog(),
        complaints=capture.complaints,
        label=capture.label,
        clock=lambda: "2026-01-02T03:04:05+00:00",
    )
    drawn: list[str] = []
    options = dict(capture.options)
    terminal = Terminal(walker, *capture.size, **options)

    async def script(hand: Hand) -> None:
        await capture.play(hand)
        drawn.append(svg_of(terminal, capture.title))

    terminal.play(script)
    return drawn[0]


async def _past_the_looks(hand: Hand) -> None:
    for key in "212321321":
        await hand.press(key)
    await hand.see("answered")


async def _say(hand: Hand) -> None:
    await hand.type("brakes gone")


async def _look(hand: Hand) -> None:
    await hand.press("2", "1")


async def _ask(hand: Hand) -> None:
    await _past_the_looks(hand)
    await hand.press("1", "1")


async def _work(hand: Hand) -> None:
    await _ask(hand)
    await hand.press("f", "2")
    await hand.see("What is to be done")


BOTH = ("no-brakes", "tight-steering")
LABEL = "green tourer, Hill"
CAPTURES = (
    Capture("start", "The complaint is found by what the customer says", (80, 24), _say),
    Capture("looks", "The quick looks on one page", (80, 24), _look, BOTH, LABEL),
    Capture("question", "A question with ranking, picture and way so far", (100, 30), _ask, BOTH, LABEL),
    Capture("small", "The same question in a window of 44 by 13", (44, 13), _ask, BOTH, LABEL),
    Capture(
        "plain",
        "The same question in two colours and ASCII",
        (80, 24),
        _ask,
        BOTH,
        LABEL,
        (("ascii_only", True), ("depth", ColorDepth.DEPTH_1_BIT)),
    ),
    Capture("work", "Verdicts, price, jobs and torques at the end", (80, 30), _work, BOTH, LABEL),
)
"""What is captured."""


def main(words: list[str]) -> int:
    """Write the captures, or with ``--check`` tell which have grown old."""
    from diagtree.library.loading import load_library

    library = load_library()
    old = []
    for capture in CAPTURES:
        path = HERE / f"{capture.name}.svg"
        drawn = draw(capture, library).encode()
        if "--check" not in words:
            path.write_bytes(drawn)
        elif not path.exists() or path.read_bytes() != drawn:
            old.append(path.name)
    if old:
        print(  # noqa: T201 - a script talks
            f"These captures have grown old: {', '.join(old)}. Make them again: python docs/captures/make.py"
        )
    return 1 if old else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
