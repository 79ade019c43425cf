"""The rows of the page at the end: from a case and its work to entries that can be opened and ticked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from diagtree.case.change import out_of_100
from diagtree.case.walker import Walker
from diagtree.clean import clean
from diagtree.model.family import Risk
from diagtree.screens.bench.glyphs import Glyphs
from diagtree.screens.bench.lines import Line, apart, cells, line, wrap
from diagtree.screens.bench.page import Entry, marked
from diagtree.screens.bench.papers import Papers
from diagtree.screens.words import as_done, sentence
from diagtree.screens.worked import ceiling_passed
from diagtree.work.repeated import again_after, done_jobs, to_be_repeated

if TYPE_CHECKING:
    from diagtree.work.result import PartVerdict, PlannedJob, TorqueLine, Work


@dataclass(frozen=True, slots=True)
class Item:
    """What an entry stands for: its kind and its name; for a verdict on a part also the cause that it is about."""

    kind: str
    name: str
    about: str = ""


def _alone(reason: str, part: str, verdict: str) -> str:
    """Take off a reason what stands before it already: the part and what is done with it."""
    return reason.removeprefix(f"{part}: {verdict}. ")


class _Rows:
    """Rows under one another, and those that need no work: what was entered and can be taken back.

    Parameters
    ----------
    walker
        What was entered.
    at
        Which of the entries that the cursor stops at it is on.
    width
        Cells in a row.
    """

    def __init__(self, walker: Walker, at: int, width: int) -> None:
        self._walker = walker
        self._at = at
        self._width = width
        self._found: list[Entry] = []
        self._stops = 0

    def _text(self, text: str, style: str = "", indent: int = 0) -> None:
        rows = tuple(line(" " * indent + row, style) for row in wrap(text, max(self._width - indent, 10)))
        self._found.append(Entry(rows))

    def _head(self, text: str) -> None:
        space: tuple[Line, ...] = ((),) if self._found else ()
        self._found.append(Entry((*space, line(text, "heading"))))

    def _stop(
        self,
        item: Item,
        text: str,
        under: Iterable[str] = (),
        right: str = "",
        style: str = "",
        lead: str = "",
        below: str = "",
    ) -> None:
        """Add an entry that the cursor stops at; what is under it shows while the cursor is on it.

        What is ``below`` it shows always.
        """
        right = clean(right)
        on = self._stops == self._at
        self._stops += 1
        room = self._width - (cells(right) + 2 if right else 0)
        rows = list(marked(text, on, room, style, lead))
        if right:
            look = "selected" if on else "figure"
            rows = [(*row, (look, "  " + (right if number == 0 else " " * cells(right))))
                    for number, row in enumerate(rows)]  # fmt: skip
        if below:
            rows += [line("    " + row) for row in wrap(below, self._width - 4)]
        if on:
            rows += [line("    " + row, "how") for each in under for row in wrap(each, self._width - 4)]
        self._found.append(Entry(tuple(rows), item))

    def _found_on_the_way(self) -> None:
        self._head("Found on the way")
        for cause, event in self._walker.case.found.items():
            title = (
                self._walker.library.causes[cause].title if cause in self._walker.library.causes else cause
            )
            there = "it is there" if event.present else "it is not there"
            note = f" {event.note}" if event.note else ""
            self._stop(Item("found", cause), f"{title}: {there}.{note}", ["Enter: change it."])
        self._stop(Item("find", ""), "Enter something that was found (m)", style="key")

    def _wishes(self) -> None:
        self._head("What else the customer wants")
        library = self._walker.library
        for name in self._walker.case.wishes:
            wished = library.remedies.get(name) or library.jobs.get(name)
            self._stop(Item("wish", name), wished.title if wished else name, ["Enter: take it back."])
        self._stop(Item("wishes", ""), "Enter something else to be done (w)", style="key")

    def _choices(self) -> None:
        library, chosen = self._walker.library, self._walker.case.overruled
        if chosen:
            self._head("Chosen by the mechanic")
        for part, event in chosen.items():
            remedy = library.remedies.get(event.remedy)
            title = remedy.title if remedy else event.remedy
            self._stop(Item("choice", part), title, ["Enter: take it back."])


class RefusedList(_Rows):
    """Makes the entries where no work can be worked out: why, and all that may have to be taken back."""

    def entries(self, fault: str) -> list[Entry]:
        """Make all of them."""
        self._text(f"! {fault}", "caution")
        self._text("Take back here what it speaks of, or press b to look at an answer again.", "how")
        self._choices()
        self._found_on_the_way()
        self._wishes()
        return self._found


class EndList(_Rows):
    """Makes the entries of the work.

    Parameters
    ----------
    walker, at, width
        As for all rows.
    work
        What is shown.
    glyphs
        The signs.
    """

    def __init__(self, walker: Walker, work: Work, at: int, width: int, glyphs: Glyphs) -> None:
        super().__init__(walker, at, width)
        self._work = work
        self._glyphs = glyphs

    def entries(self, papers: Papers | None) -> list[Entry]:
        """Make all of them, in the order of a job sheet."""
        self._stop_work()
        self._verdicts()
        self._price()
        self._jobs()
        self._torques()
        self._fluids()
        self._checks()
        self._found_on_the_way()
        self._wishes()
        self._otherwise()
        self._advice()
        self._papers(papers)
        return self._found

    def _stop_work(self) -> None:
        passed = ceiling_passed(self._walker.case, self._work)
        for text in (*([passed] if passed else []), *self._work.stops):
            self._text(f"! {text}", "caution")
        handed = self._walker.case.handed_over
        if handed is not None:
            self._text(f"Handed over by {handed.by}." if handed.by else "Handed over.", "message")

    def _verdicts(self) -> None:
        planned = [each for each in self._work.verdicts if each.planned]
        self._head("What is to be done")
        if not planned:
            self._text("Nothing is to be done with what is known.", "quiet")
        for verdict in planned:
            self._verdict(verdict)

    def _otherwise(self) -> None:
        rest = [each for each in self._work.verdicts if not each.planned]
        if rest:
            self._head("If it is not that")
        for verdict in rest:
            self._verdict(verdict)
        if self._work.left_alone:
            self._head("Left alone")
        for part in self._work.left_alone:
            self._text(f"{part.title}: {_alone(part.reason, part.title, 'leave')}", "quiet", 2)

    def _verdict(self, verdict: PartVerdict) -> None:
        text = f"{verdict.part_title}: {verdict.verdict.value}. {verdict.cause_title}."
        reason = _alone(verdict.reason, verdict.part_title, verdict.verdict.value)
        under = [reason, *(f"! {text}" for text in verdict.caution)]
        if verdict.refer:
            under.append(f"! {verdict.refer}")
        if len(verdict.options) > 1:
            under.append("Enter: choose another remedy.")
        if verdict.risk is Risk.UNSAFE:
            text += " Unsafe."
        if not verdict.in_scope:
            text += " Not in the scope."
        chance = out_of_100(verdict.chance) if verdict.cause else ""
        below = f"To do: {sentence(verdict.remedy_title)}" if verdict.remedy else ""
        self._stop(Item("verdict", verdict.part, verdict.cause), text, under, chance, below=below)

    def _price(self) -> None:
        estimate = self._work.estimate
        self._head(f"Price, {estimate.currency}")
        rows = [
            (f"Labour, {estimate.expected_minutes:.0f} minutes", estimate.planned.labour),
            ("Parts", estimate.planned.parts),
            ("Consumables", estimate.planned.consumables),
            ("Tax", estimate.planned.tax),
            ("If all goes as planned", estimate.planned.total),
            ("Allowance for the unexpected", estimate.allowance),
        ]
        for what, amount in rows:
            self._money(what, amount, "")
        for item in estimate.items[:4]:
            odds = f", {item.odds}" if item.odds else ""
            self._money(f"  {item.what}{odds}", item.amount, "quiet")
        agreed = self._walker.case.agreed
        says = f"Price, enough {estimate.confidence:g} times in 100"
        under = ["Enter: what the customer agreed to."]
        if agreed is not None:
            most = f", at most {agreed.ceiling}" if agreed.ceiling else ""
            under.insert(0, f"Agreed: {agreed.price}{most}.")
        self._stop(Item("price", ""), says, under, f"{estimate.price}", "step")
        if estimate.unpriced:
            self._text("Not in the price: " + ", ".join(estimate.unpriced) + ".", "quiet", 2)

    def _money(self, what: str, amount: Decimal, style: str) -> None:
        indent = " " * (2 + len(what) - len(what.lstrip()))
        first, *rest = wrap(what, self._width - 14)
        right = line(f"{amount}", style or "figure")
        rows = [apart(line(indent + first, style), right, self._width)]
        rows += [line(f"{indent}  {row}", style) for row in rest]
        self._found.append(Entry(tuple(rows)))

    def _jobs(self) -> None:
        if not self._work.plan:
            return
        ticked = self._walker.case.jobs_done
        again = to_be_repeated(self._work.plan, ticked)
        done = done_jobs(self._work.plan, ticked)
        count = len(done)
        self._head(f"Jobs ({count} of {len(self._work.plan)} done)")
        if self._work.tools:
            self._text("Tools: " + ", ".join(self._work.tools) + ".", "quiet", 2)
        for job in self._work.plan:
            self._job(job, job.job in done, again.get(job.job, ()))

    def _job(self, job: PlannedJob, done: bool, late: tuple[str, ...]) -> None:
        low, _, high = job.minutes
        box = f"[{self._glyphs.ticked if done else self._glyphs.open}]"
        under = [*(f"! {text}" for text in job.caution), *job.how]
        if job.tools:
            under.append("Tools: " + ", ".join(job.tools) + ".")
        style = "done" if done else ""
        right = f"{low:g}-{high:g} min"
        below = f"! {again_after(late)}" if late else ""
        self._stop(Item("job", job.job), job.title, under, right, style, f"{box} {job.number} ", below=below)

    def _torques(self) -> None:
        if not self._work.torque_round:
            return
        self._head("Torques")
        for fastener in self._work.torque_round:
            self._torque(fastener)

    def _torque(self, fastener: TorqueLine) -> None:
        done = self._walker.case.torques.get(fastener.fastener)
        box = f"[{self._glyphs.ticked if done else self._glyphs.open}]"
        count = f" x{fastener.count}" if fastener.count > 1 else ""
        if fastener.least is not None:
            tight = f"{fastener.least:g}-{fastener.most:g} N·m"
        else:
            tight = fastener.until or ""
        right = as_done(done) if done else (tight if cells(tight) <= self._width // 2 else "")
        under = [f"{fastener.size}, tightens {fastener.turns}."]
        if done or not right:
            under.append(f"Range {tight}." if fastener.least is not None else f"Until: {tight}.")
        if fastener.target is not None:
            under.append(f"Set {fastener.target:g} N·m ({fastener.imperial}).")
        under.append(f"Thread: {fastener.preparation}.")
        if fastener.order:
            under.append(f"Tighten {fastener.order}.")
        under += [f"! {text}" for text in (*fastener.warnings, *fastener.caution)]
        under.append(f"Basis: {fastener.basis}. The mark on the part comes first.")
        text = f"{fastener.title}{count}"
        if fastener.if_fitted and not fastener.title.endswith("fitted"):
            text += " (if fitted)"
        self._stop(Item("torque", fastener.fastener), text, under, right, "done" if done else "", f"{box} ")

    def _fluids(self) -> None:
        if not self._work.fluids:
            return
        self._head("Fluids, greases, compounds")
        for fluid in self._work.fluids:
            amount = f", {fluid.amount:g} {fluid.unit}" if fluid.amount is not None else ""
            into = f" into {fluid.system_title}" if fluid.system_title else ""
            self._text(f"{fluid.title}{amount}{into}", "", 2)
            if fluid.read:
                self._text(fluid.read, "quiet", 4)
            if fluid.never_with:
                self._text("! Never with " + ", ".join(fluid.never_with) + ".", "caution", 4)
            if fluid.never_on:
                self._text("! Never on " + ", ".join(fluid.never_on) + ".", "caution", 4)

    def _checks(self) -> None:
        checks = [*self._work.verify]
        if not checks and not self._work.final_checks:
            return
        self._head("Before it is handed over")
        for text in checks:
            self._text(text, "", 2)
        for check in self._work.final_checks:
            self._text(check.title, "step", 2)
            for text in (*(f"! {each}" for each in check.caution), *check.how):
                self._text(text, "quiet", 4)

    def _advice(self) -> None:
        if not self._work.advice and not self._work.next_due:
            return
        self._head("Also")
        for advice in self._work.advice:
            self._text(advice.text, "", 2)
        for part, when in self._work.next_due:
            self._text(f"Next due. {part}: {when}.", "quiet", 2)

    def _papers(self, papers: Papers | None) -> None:
        if papers is not None:
            self._head("Papers")
            for kind, title in papers.kinds.items():
                self._stop(Item("paper", kind), f"Write: {title}", style="key")
        self._head("The end")
        self._stop(Item("hand over", ""), "Hand over (h)", style="key")
