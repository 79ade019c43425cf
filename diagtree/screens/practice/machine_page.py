"""The page of one machine: the checks that can be done, beside them the way so far and what is likely."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.practice.play import Choice
from diagtree.practice.telling import ended, figure
from diagtree.screens.bench import panes
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, Picture, apart, fill, line, shorten, wrap
from diagtree.screens.bench.page import Entry, Frame, ListPage, marked
from diagtree.screens.bench.state import Hint, Ranked

if TYPE_CHECKING:
    from diagtree.screens.practice.bench import PracticeBench

TWO_COLUMNS = (72, 18)
"""From this width and height on the way and the ranking stand beside the checks."""

NAME = "name the fault"

HINTS = (
    Hint("1-9", "do it"),
    Hint("Enter", "do it"),
    Hint("f", "name the fault"),
    Hint("i", "how"),
    Hint("w", "way"),
    Hint("l", "looks"),
    Hint("r", "likely"),
    Hint("g", "give up"),
    Hint("q", "leave"),
    Hint("?", "help"),
)


class MachinePage(ListPage):
    """What do you do? A check, or naming the fault."""

    def __init__(self, bench: PracticeBench) -> None:
        super().__init__()
        self._bench = bench

    def seen(self) -> object:
        """Each check that was done makes a new page of it."""
        return (type(self), len(self._bench.play.steps))

    # What is shown

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:  # noqa: ARG002 - words do here
        """List the checks with what they cost, and naming the fault last."""
        play = self._bench.play
        found = [Entry(rows) for rows in self._titles(width)]
        for place, choice in enumerate((*play.choices, None)):
            on = place == self.at
            if choice is None:
                found.append(Entry(marked("Name the fault", on, width, "key", "f  "), NAME))
                continue
            asked = f"{choice.ask} ({figure(choice.minutes)} min)"
            rows = list(marked(asked, on, width, indent=f"{choice.number:<2} "))
            under = _besides(choice)
            if under:
                rows += [line(f"     {row}", "quiet") for row in wrap(under, max(width - 5, 2))]
            found.append(Entry(tuple(rows), choice))
        return found

    def _titles(self, width: int) -> list[tuple[Line, ...]]:
        trees = self._bench.play.library.trees
        return [
            tuple(line(row, "complaint") for row in wrap(ended(trees[symptom].title), width))
            for symptom in self._bench.play.unnamed
        ]

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with the level and what was spent."""
        machine = self._bench.play.machine
        play = self._bench.play
        done = (
            f"{len(play.steps)} {'check' if len(play.steps) == 1 else 'checks'}, {figure(play.minutes)} min"
        )
        title = f"{machine.level.name.capitalize()}, seed {machine.seed}"
        return Frame(title, done, HINTS, self.message)

    def compose(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        """Draw the list, and beside it the way and the ranking where there is room."""
        if width < TWO_COLUMNS[0] or height < TWO_COLUMNS[1]:
            return super().compose(width, height, glyphs)
        around = self.around(width, glyphs)
        foot = panes.foot(around.hints, around.message, width - 2, 2 if height >= 20 else 1)
        tall = height - len(foot)
        left_wide = min(width * 3 // 5, width - 30)
        said, self.message = self.message, ""
        narrow = _Narrow(self)
        left = narrow.compose(left_wide, tall, glyphs)
        self.message = said
        side = self._side(width - left_wide - 3, tall - 3, glyphs)
        head = apart(line(f" {around.title}", "top.name"), line(f"{around.right} ", "top"), width, "top")
        rows: list[Line] = [fill(head, width, "top")]
        for number, row in enumerate(left.lines[1:-1]):
            wall = glyphs.crossing if number == 0 else glyphs.wall
            beside = (
                (("rule", glyphs.rule * (width - left_wide - 2)),)
                if number == 0
                else (("", " "), *side[number - 1])
            )
            rows.append(
                (*fill(row, left_wide, ""), ("rule", f"{glyphs.rule if number == 0 else ' '}{wall}"), *beside)
            )
        rows.append((*left.lines[-1], ("rule", glyphs.rule * (width - left_wide))))
        rows += [(("", " "), *row) for row in foot]
        return Picture(tuple(fill(row, width, "") for row in rows), left.cursor)

    def _side(self, width: int, room: int, glyphs: Glyphs) -> list[Line]:
        play = self._bench.play
        rows: list[Line] = []
        if play.machine.level.ranking and play.unnamed:
            rows.append(panes.heading("What it may be", width, glyphs))
            rows += panes.ranking(self.ranked(), width, min(room // 2 + 1, 10), glyphs)
            rows.append(())
        rows.append(panes.heading("Way so far", width, glyphs))
        way: list[Line] = []
        for number, step in enumerate(play.steps, 1):
            lead = f"{number} "
            asked = shorten(step.ask, width - len(lead), glyphs.more)
            way.append((("quiet", lead), *line(asked, "quiet")))
            way += [line(f"  {row}", "step") for row in wrap(step.says, width - 2)]
        left = room - len(rows)
        if len(way) > left:
            way = [line(f"{glyphs.above} more (w: all of it)", "more"), *way[len(way) - left + 1 :]]
        rows += way or [line("Nothing was checked yet.", "quiet")]
        return [*rows[:room], *[()] * (room - len(rows))]

    def ranked(self) -> list[Ranked]:
        """The likely causes of the complaints that are open."""
        play = self._bench.play
        causes = play.library.causes
        found: dict[str, float] = {}
        for symptom in play.unnamed:
            for cause, chance in play.belief.ranking(symptom):
                found[cause] = max(chance, found.get(cause, 0.0))
        return [Ranked(causes[cause].title, found[cause]) for cause in sorted(found, key=lambda c: -found[c])]

    # Keys

    def press(self, key: str) -> None:
        """Do a check, name the fault, or look something up."""
        bench = self._bench
        if self.move(key):
            return
        if key == "enter":
            self._enter(self.chosen)
        elif key.isdecimal():
            wanted = [choice for choice in bench.play.choices if str(choice.number) == key]
            if wanted:
                bench.do(wanted[0])
            else:
                self.message = f"There is no check {key} to be done now."
        elif key == "f":
            bench.name()
        elif key == "i":
            if isinstance(self.chosen, Choice):
                bench.how(self.chosen)
        elif key == "g":
            bench.give_up()
        elif key == "q":
            bench.leave_when_pressed_twice()
        elif key in {"l", "w", "r", "?", "h", "f1"}:
            {"l": bench.looks, "w": bench.way, "r": bench.likely}.get(key, bench.help)()

    def _enter(self, chosen: object) -> None:
        if isinstance(chosen, Choice):
            self._bench.do(chosen)
        elif chosen == NAME:
            self._bench.name()


class _Narrow(ListPage):
    """The list alone, for the left column: it shares the page's cursor."""

    def __init__(self, page: MachinePage) -> None:
        super().__init__()
        self._of = page
        self.at = page.at
        self._top = page._top

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:
        return self._of.entries(width, glyphs)

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - head and foot are set by the page
        return Frame("")

    def press(self, key: str) -> None:
        """Take no keys."""

    def compose(self, width: int, height: int, glyphs: Glyphs) -> Picture:
        picture = super().compose(width, height, glyphs)
        self._of.at, self._of._top = self.at, self._top
        self._of._page, self._of._stops = self._page, self._stops
        return picture


def _besides(choice: Choice) -> str:
    texts = ["Often misleads."] if choice.rough else []
    if choice.opening:
        texts.append(f"With: {'; '.join(choice.opening)}.")
    return " ".join(texts)
