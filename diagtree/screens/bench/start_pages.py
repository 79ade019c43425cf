"""The pages at the start: what the customer says, what the machine is called, the quick looks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagtree.case.question import Question
from diagtree.clean import clean
from diagtree.screens.bench import explain
from diagtree.screens.bench.entry_pages import EntryPage, Field
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, apart, cells, line, shorten, wrap
from diagtree.screens.bench.page import Entry, Frame, ListPage, marked
from diagtree.screens.bench.state import Hint
from diagtree.screens.words import sounding_like

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench


class StartPage(ListPage):
    """What does the customer say? Several complaints can be taken."""

    takes_text = True
    GO_ON = "go on"

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.field = Field()
        walker = bench.walker
        self.taken = [symptom for symptom in walker.case.complaints if symptom in walker.library.trees]

    def _listed(self) -> list[str]:
        found = sounding_like(self._bench.walker.library, self.field.text)
        if self.field.text.strip():
            return found
        return [*self.taken, *(name for name in found if name not in self.taken)]

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:
        """List the complaints that sound like it; what was taken stands first."""
        library = self._bench.walker.library
        found: list[Entry] = []
        if self.taken and not self.field.text.strip():
            count = f"{len(self.taken)} complaint{'s' if len(self.taken) > 1 else ''}"
            found.append(Entry(marked(f"Go on with {count}", self.at == 0, width, "key"), (self.GO_ON,)))
        listed = self._listed()
        if not listed:
            found.append(Entry((line("  Nothing sounds like that. Try other words.", "quiet"),)))
        for symptom in listed:
            tree = library.trees[symptom]
            on = self.at == len(found)
            box = f"[{glyphs.ticked}]" if symptom in self.taken else "[ ]"
            rows = list(marked(f"{box} {tree.title}", on, width))
            if tree.also_called:
                also = shorten(", ".join(tree.also_called), width - 6, glyphs.more)
                rows.append(line(f"      {also}", "quiet"))
            found.append(Entry(tuple(rows), (symptom,)))
        return found

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - words do here
        """Put the field above the list."""
        row, column = self.field.row(width, "> ")
        head = (*(line(text, "question") for text in wrap("What does the customer say?", width)), row)
        enter = "take it" if self.field.text.strip() else "take it, or go on"
        hints = (
            Hint("type", "to find"),
            Hint("Enter", enter),
            Hint("up down", "move"),
            Hint("Ctrl-C", "save and leave"),
            Hint("F1", "help"),
        )
        at = None if self._walks_list() else (column, len(head) - 1)
        title = f"A {self._bench.walker.library.machine.one} comes in"
        right = f"{len(self.taken)} taken" if self.taken else ""
        return Frame(title, right, hints, self.message, head, at)

    def _walks_list(self) -> bool:
        return not self.field.text.strip()

    def press(self, key: str) -> None:
        """Type to find, move, take with Enter."""
        stops = self.stops()
        self._stops = len(stops)
        if key in {"left", "right"} and not self.field.text:
            return
        if key in {"up", "down", "pageup", "pagedown"} or (key in {"home", "end"} and not self.field.text):
            self.move(key)
        elif key == "enter" or (key == " " and not self.field.text.strip()):
            if not stops:
                return
            chosen = stops[min(self.at, len(stops) - 1)]
            if chosen == (self.GO_ON,):
                self._go_on()
            else:
                self._take(str(chosen[0]))  # type: ignore[index]
        elif key == "f1":
            self._bench.help()
        elif key == "escape":
            if not self.field.text:
                self._bench.close()
            self.field.clear()
            self.at = 0
        elif self.field.press(key):
            self.at = 0

    def paste(self, text: str) -> None:
        """Put what was pasted into the field; nothing is taken by it."""
        self.field.insert(text)
        self.at = 0

    def keep(self) -> None:
        """Take the complaints that stand here: leaving at once must not lose them."""
        walker = self._bench.walker
        if self.taken and tuple(self.taken) != walker.view.complaints:
            walker.choose(self.taken)

    def _take(self, symptom: str) -> None:
        if symptom in self.taken:
            self.taken.remove(symptom)
        else:
            self.taken.append(symptom)
            title = self._bench.walker.library.trees[symptom].title
            self.message = f"Taken: {title}. Type the next complaint, or press Enter to go on."
        self.field.clear()
        self.at = 0

    def _go_on(self) -> None:
        bench = self._bench
        machine = bench.walker.library.machine.one
        chosen = tuple(self.taken)

        def name(text: str) -> None:
            if text:
                bench.walker.label(text)
            bench.started(chosen)

        if bench.walker.case.label:
            bench.started(chosen)
            return
        prompt = (
            f"What is this {machine} called? A colour, a customer, a ticket: so that you find it again.",
            "You may leave it empty.",
        )
        bench.show(EntryPage(f"Which {machine} is it?", prompt, name, bench.close))


class LooksPage(ListPage):
    """The quick looks on one page: the one under the cursor shows its answers."""

    GO_ON = "go on"

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self._choice: dict[str, int] = {}
        looks = bench.walker.looks
        wanted = bench.walker.case.cursor
        self.at = next(
            (
                number
                for number, look in enumerate(looks)
                if (look.place == wanted if wanted else not (look.previous or look.could_not_tell))
            ),
            0,
        )

    def seen(self) -> object:
        """The look under the cursor is what is asked."""
        return (type(self), self.at)

    def entries(self, width: int, glyphs: Glyphs) -> list[Entry]:
        """List the looks with their answers, and a row to go on."""
        looks = self._bench.walker.looks
        found = []
        for number, look in enumerate(looks):
            if number == self.at:
                rows, cursor = self._open_look(look, width)
                found.append(Entry(rows, (look.name,), cursor))
            else:
                found.append(Entry(self._closed_look(look, width, glyphs), (look.name,)))
        left = sum(1 for look in looks if not (look.previous or look.could_not_tell))
        text = "Go on"
        if left:
            text += f" ({left} not looked at)"
        found.append(Entry(((), *marked(text, self.at == len(looks), width, "key")), (self.GO_ON,), 1))
        return found

    def _closed_look(self, look: Question, width: int, glyphs: Glyphs) -> tuple[Line, ...]:
        """Show a look that the cursor is not on: what is asked, and what was answered."""
        says = {choice.name: choice.says for choice in look.answers}
        told = clean(says.get(look.previous or "", "can't tell" if look.could_not_tell else ""))
        answer: Line = (("step", told),) if told else (("quiet", "-"),)
        if cells(look.ask) + cells(told or "-") + 4 <= width:
            return (apart(line("  " + look.ask), answer, width),)
        rows = [line("  " + row) for row in wrap(look.ask, width - 2)]
        told = shorten(told, width - 6, glyphs.more)
        return (*rows, (("step", "      " + told),)) if told else tuple(rows)

    def _open_look(self, look: Question, width: int) -> tuple[tuple[Line, ...], int]:
        """Show the look that the cursor is on with its answers; the second value is the cursor's row."""
        asked: list[Line] = [line("  " + row, "question") for row in wrap(look.ask, width - 2)]
        how: list[Line] = [line("  " + row, "how") for text in look.how for row in wrap(text, width - 2)]
        rows: list[Line] = []
        options = [*((choice.name, choice.says) for choice in look.answers), ("", "I can't tell")]
        at = self._at_choice(look)
        cursor = 0
        for number, (name, text) in enumerate(options):
            given = (name == look.previous) if name else look.could_not_tell
            key = (str(number + 1) if number < 9 else " ") if name else "0"
            if number == at:
                cursor = len(rows)
            sign = "(*)" if given else "( )"
            rows += marked(text, number == at, width, "answer", f"{key} {sign} ")
        room = max(self._page - len(asked) - len(rows), 0)
        if len(how) > room:
            # The answers come first; i shows the rest.
            how = [*how[: max(room - 1, 0)], line("  (more: i)", "more")]
        above = (*asked, *how)
        return (*above, *rows, ()), cursor + len(above)

    def _at_choice(self, look: Question) -> int:
        if look.name in self._choice:
            return self._choice[look.name]
        if look.could_not_tell:
            return len(look.answers)
        names = [choice.name for choice in look.answers]
        return names.index(look.previous) if look.previous in names else 0

    def around(self, width: int, glyphs: Glyphs) -> Frame:  # noqa: ARG002 - the same at any width
        """Head it with what the looks are about."""
        walker = self._bench.walker
        looks = walker.looks
        done = sum(1 for look in looks if look.previous or look.could_not_tell)
        hints = (
            Hint("1-9", "answer"),
            Hint("0", "can't tell"),
            Hint("up down", "which look"),
            Hint("left right", "which answer"),
            Hint("Enter", "answer"),
            Hint("g", "go on"),
            Hint("i", "how"),
            Hint("b", "complaints"),
            Hint("n", "note"),
            Hint("q", "leave"),
            Hint("?", "help"),
        )
        title = f"How was the {walker.library.machine.one} kept and used?"
        return Frame(title, f"{done} of {len(looks)}", hints, self.message)

    def press(self, key: str) -> None:
        """Answer the look under the cursor, or move."""
        bench, looks = self._bench, self._bench.walker.looks
        self._stops = len(looks) + 1
        if self.move(key):
            return
        if key in {"?", "h", "f1"}:
            bench.help()
        elif key == "i" and self.at < len(looks):
            bench.read("The question in full", explain.instructions(bench.walker, looks[self.at]))
        elif key == "l":
            bench.label()
        elif key == "n":
            bench.note()
        elif key == "q":
            bench.leave_when_pressed_twice(key)
        elif key == "g" or (key == "enter" and self.at >= len(looks)):
            self._go_on(looks)
        elif key in {"b", "k", "backspace"}:
            bench.back_to_start()
        elif self.at < len(looks):
            self._press_look(key, looks[self.at])

    def _press_look(self, key: str, look: Question) -> None:
        at = self._at_choice(look)
        if key in {"left", "right"}:
            at += 1 if key == "right" else -1
            self._choice[look.name] = max(0, min(at, len(look.answers)))
        elif key == "enter":
            self._give(look, at)
        elif key in {"0", "c"}:
            self._give(look, len(look.answers))
        elif key.isdecimal():
            if int(key) <= len(look.answers):
                self._give(look, int(key) - 1)
            else:
                self.message = f"There is no answer {key} here."

    def _give(self, look: Question, number: int) -> None:
        walker = self._bench.walker
        if number < len(look.answers):
            walker.answer(look.answers[number].name, look.place)
        else:
            walker.cannot_tell(look.place)
        self._choice.pop(look.name, None)
        self.at += 1

    def _go_on(self, looks: Sequence[Question]) -> None:
        walker = self._bench.walker
        for look in looks:
            if not (look.previous or look.could_not_tell):
                walker.cannot_tell(look.place)
        walker.forward()
        self._bench.looked_around()
