"""A drawing on paper: cut into sheets whose letters can be read from where the reader stands."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

from diagtree.drawing.cut import Piece, TooLargeError, cut, halved
from diagtree.drawing.diagram import Drawing
from diagtree.drawing.laid import Arrow, Laid, lay_out
from diagtree.drawing.measured import (
    SIZE,
    WIDTHS,
    Sized,
    TextWidth,
    Widths,
    answer_rows,
    connector,
    sized_boxes,
    wrapped,
)
from diagtree.errors import UnknownNameError

MILLIMETRE = 72 / 25.4

PAPERS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)}
"""Width and height of a sheet upright, millimetres."""

LEAST = {"35cm": 10.0, "50cm": 12.0, "1m": 24.0}
"""Least size of letters for a distance, points: a sheet in the hand, on the bench, on the wall."""

LARGEST = 1.5
"""How many times larger than the least size letters may become on a sheet with little on it."""

MARGIN = 10.0
"""Around a sheet, millimetres."""

LEGEND_BELOW = 20.0
"""Letters from this size on leave no room for the legend on each sheet, points."""

LEGEND_GAP = 26.0
"""Around a word in the legend, for letters of 10 points."""

CONNECTOR_SAYS = "goes on elsewhere"
"""What the legend says of a connector; the circle itself says where."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: what it shows, laid out, and how much it is enlarged.

    Parameters
    ----------
    number
        From 1.
    entry
        The box by which it is entered.
    laid
        The boxes and connectors in their places.
    scale
        From the layout's points to the paper's.
    turned
        True if the paper lies on its long side.
    """

    number: int
    entry: str
    laid: Laid
    scale: float
    turned: bool

    @property
    def letters(self) -> float:
        """The size of the letters on paper, points."""
        return SIZE * self.scale


@dataclass(frozen=True)
class Printed:
    """A drawing cut into sheets."""

    drawing: Drawing
    paper: str
    least: float
    sheets: tuple[Sheet, ...]
    where: Mapping[str, int]
    """The sheet that each box is on."""
    connectors: Mapping[str, str]
    """For the entry of each sheet but the first: the label of its connector, ``C7``."""


def check_sheet(paper: str, distance: str) -> None:
    """Refuse a paper or a distance that nobody knows.

    Raises
    ------
    UnknownNameError
        If there is no such paper or distance.

    Examples
    --------
    >>> check_sheet("a4", "1m")
    """
    if paper not in PAPERS:
        raise UnknownNameError("paper", paper, list(PAPERS))
    if distance not in LEAST:
        raise UnknownNameError("distance", distance, list(LEAST))


class Press:
    """Brings drawings to a kind of paper for a distance.

    Parameters
    ----------
    drawing
        What to print.
    paper
        ``a4``, ``a3`` or ``letter``.
    distance
        ``35cm``, ``50cm`` or ``1m``.
    measure
        How wide texts are.

    Raises
    ------
    UnknownNameError
        If there is no such paper or distance.
    """

    def __init__(self, drawing: Drawing, paper: str, distance: str, measure: TextWidth) -> None:
        check_sheet(paper, distance)
        self.drawing = drawing
        self.paper = paper
        self.least = LEAST[distance]
        self.measure = measure
        self._known: dict[str, Mapping[str, object]] = {}
        self._use(WIDTHS[0])

    def _use(self, widths: Widths) -> None:
        self._widths = widths
        self._boxes = sized_boxes(self.drawing, self.measure, widths)
        self._answers = [answer_rows(line, self.measure, widths) for line in self.drawing.lines]
        self._laid: dict[frozenset[str], Laid] = {}

    def sheets(self, told: Callable[[int, int], None] | None = None) -> Printed:
        """Cut the drawing into sheets and lay each out.

        Parameters
        ----------
        told
            Called with how many boxes have been dealt with, of how many.

        Raises
        ------
        TooLargeError
            If a single check with its answers does not fit on a sheet.
        """
        pieces = self._cut(told)
        where = {name: place for place, piece in enumerate(pieces, 1) for name in piece.boxes}
        labels = {piece.entry: f"C{place}" for place, piece in enumerate(pieces[1:], 1)}
        made = []
        for place, piece in enumerate(pieces, 1):
            laid = self._lay(piece, where, labels)
            scale, turned = self._scale(laid)
            made.append(Sheet(place, piece.entry, laid, scale, turned))
        return Printed(self.drawing, self.paper, self.least, tuple(made), where, labels)

    def _cut(self, told: Callable[[int, int], None] | None) -> tuple[Piece, ...]:
        """Cut with the usual widths; where large letters leave no room for them, with narrower ones.

        Where even these do not do, the answers of a check are shared between two boxes.
        """
        for widths in WIDTHS[:-1]:
            self._use(widths)
            with contextlib.suppress(TooLargeError):
                return cut(self.drawing, self._fits, told)
        self._use(WIDTHS[-1])
        while True:
            try:
                return cut(self.drawing, self._fits, told)
            except TooLargeError as error:
                known = {names: laid for names, laid in self._laid.items() if error.box not in names}
                self.drawing = halved(self.drawing, error.box)
                self._use(WIDTHS[-1])
                self._laid = known

    def whole(self) -> Laid:
        """Lay the whole drawing out in one piece."""
        names = frozenset(box.name for box in self.drawing.boxes)
        here = dict.fromkeys(names, 1)
        return self._lay_one_way(Piece(self.drawing.boxes[0].name, names), here, {}, across=False)

    @cached_property
    def head(self) -> float:
        """Height of the title, points."""
        return 1.5 * self.least * len(self.title) + 6

    @cached_property
    def title(self) -> tuple[str, ...]:
        """The title, broken into lines that fit on upright paper."""
        room = (PAPERS[self.paper][0] - 2 * MARGIN) * MILLIMETRE
        return tuple(wrapped(self.drawing.title, room * SIZE / (1.2 * self.least), self.measure, True))

    @cached_property
    def foot(self) -> float:
        """Height of the legend, the tree's identity and the page's number, points."""
        if not self.legend_everywhere:
            return 1.3 * self.least * len(self.identity) + 12
        room = (PAPERS[self.paper][0] - 2 * MARGIN) * MILLIMETRE
        scale = self.least / SIZE
        words = sum(
            self.measure(word, self.least, False) + LEGEND_GAP * scale
            for word in (*(kind.word for kind in self.drawing.kinds), CONNECTOR_SAYS)
        )
        lines = math.ceil(words / room) + len(self.identity)
        return 1.75 * self.least * lines + 12

    @property
    def legend_everywhere(self) -> bool:
        """True if each sheet has the legend; in letters for the wall it stands on the last page alone."""
        return self.least < LEGEND_BELOW

    @cached_property
    def identity(self) -> tuple[str, ...]:
        """Which tree it is and the page's number, broken into lines that fit on upright paper."""
        drawing = self.drawing
        text = f"{drawing.family} · {drawing.symptom}, version {drawing.version} ({drawing.identity})"
        if drawing.note:
            text = f"{text} · {drawing.note}"
        room = (PAPERS[self.paper][0] - 2 * MARGIN) * MILLIMETRE
        page = self.measure(" Page 000 of 000", self.least, False)
        return tuple(wrapped(text, (room - page) * SIZE / self.least, self.measure))

    @cached_property
    def _areas(self) -> tuple[tuple[float, float], tuple[float, float]]:
        width, height = ((side - 2 * MARGIN) * MILLIMETRE for side in PAPERS[self.paper])
        taken = self.head + self.foot
        return (width, height - taken), (height, width - taken)

    def _scale(self, laid: Laid) -> tuple[float, bool]:
        """How much a layout can be enlarged to fill the paper, and whether the paper is turned for it."""
        upright, turned = (min(w / laid.width, h / laid.height) for w, h in self._areas)
        most = LARGEST * self.least / SIZE
        return min(max(upright, turned), most), turned > upright

    def _fits(self, entry: str, boxes: frozenset[str]) -> bool:
        needed = sum(self._boxes[name].width * self._boxes[name].height for name in boxes)
        least = self.least / SIZE
        # Boxes never fill a sheet to the last corner: what could not even then fit needs no layout.
        if needed * least * least > 0.75 * self._areas[0][0] * self._areas[0][1]:
            return False
        if boxes not in self._laid:
            # The numbers of sheets are not known yet, and change nothing: connectors have room for any.
            everywhere = {box.name: 1 if box.name in boxes else 2 for box in self.drawing.boxes}
            labels = {box.name: "C0" for box in self.drawing.boxes}
            self._laid[boxes] = self._lay(Piece(entry, boxes), everywhere, labels)
        return self._scale(self._laid[boxes])[0] >= least

    def _lay(self, piece: Piece, where: Mapping[str, int], labels: Mapping[str, str]) -> Laid:
        down = self._lay_one_way(piece, where, labels, across=False)
        if self._scale(down)[0] * SIZE >= self.least:
            return down
        # A check with many answers makes a drawing too wide; from left to right they stand in a column.
        across = self._lay_one_way(piece, where, labels, across=True)
        return across if self._scale(across)[0] > self._scale(down)[0] else down

    def _lay_one_way(
        self, piece: Piece, where: Mapping[str, int], labels: Mapping[str, str], *, across: bool
    ) -> Laid:
        boxes: list[Sized] = [self._boxes[box.name] for box in self.drawing.boxes if box.name in piece.boxes]
        arrows: list[Arrow] = []
        came_from: list[int] = []
        for place, line in enumerate(self.drawing.lines):
            head = line.head
            if line.tail not in piece.boxes:
                if head == piece.entry:
                    came_from.append(where[line.tail])
                continue
            if head not in piece.boxes:
                about = f"{self._heading(head)}, sheet {where[head]}"
                circle = connector(
                    f"to-{place}",
                    labels[head],
                    about,
                    self.measure,
                    widest=f"{self._heading(head)}, sheet 888",
                    leads_in=False,
                    across=across,
                )
                boxes.append(circle)
                head = circle.name
            arrows.append(Arrow(line.tail, head, self._answers[place], _weight(line.share), line.marked))
        if came_from:
            sheets = sorted(set(came_from))
            about = f"from sheet{'s' if len(sheets) > 1 else ''} {', '.join(map(str, sheets))}"
            circle = connector(
                "from",
                labels[piece.entry],
                about,
                self.measure,
                widest=f"from sheets {', '.join('888' for _ in came_from)}",
                leads_in=True,
                across=across,
            )
            boxes.insert(0, circle)
            arrows.insert(0, Arrow("from", piece.entry))
        return lay_out(boxes, arrows, self.measure, across=across, gap=self._widths.gap, known=self._known)

    def _heading(self, name: str) -> str:
        return self.drawing.box(name).heading


def _weight(share: float | None) -> float:
    return 0.9 if share is None else 0.5 + share / 25
