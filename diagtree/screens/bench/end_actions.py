"""What can be done on the page at the end: tick, tighten, overrule, agree, find, write, hand over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.case.change import out_of_100
from diagtree.case.events import DONE
from diagtree.errors import ExpectedError
from diagtree.model.workshop import Brief
from diagtree.screens import amounts
from diagtree.screens.bench import wishes
from diagtree.screens.bench.end_list import Item
from diagtree.screens.bench.entry_pages import EntryPage
from diagtree.screens.bench.finding import find
from diagtree.screens.bench.reading_pages import ChoicePage, Option
from diagtree.screens.worked import ceiling_passed, choices_behind, chosen_under, still_open
from diagtree.units import plain
from diagtree.work.repeated import done_jobs

if TYPE_CHECKING:
    from diagtree.screens.bench.bench import Bench
    from diagtree.screens.bench.end_page import EndPage


class NoNameError(ExpectedError):
    """Nobody hands the machine over."""


def press(bench: Bench, page: EndPage, key: str) -> None:
    """Take a key on the page at the end."""
    walker = bench.walker
    if key in {"enter", " "}:
        _open(bench, page)
    elif key in {"b", "backspace", "left"}:
        if not walker.back():
            page.message = "Nothing was answered. Press a to ask on."
    elif key == "a":
        walker.ask_on()
        if walker.finished:
            page.message = "All that can be asked was asked. Press b to go back to a question."
    elif key == "m":
        _find(bench)
    elif key == "h":
        _hand_over(bench, page)
    elif key == "g":
        _agree(bench, page)
    elif key == "s":
        _scope(bench)
    elif key == "w":
        wishes.enter(bench)
    elif key == "n":
        bench.note()
    elif key == "l":
        bench.label()
    elif key == "k":
        bench.back_to_start()
    elif key == "x":
        bench.what_next()
    elif key == "y":
        bench.why_cause()
    elif key in {"?", "f1"}:
        bench.help()
    elif key == "q":
        bench.leave_when_pressed_twice(key)


def _open(bench: Bench, page: EndPage) -> None:
    item = page.chosen
    if not isinstance(item, Item):
        return
    walker = bench.walker
    if item.kind == "job":
        done = page.work is None or item.name not in done_jobs(page.work.plan, walker.case.jobs_done)
        walker.tick(item.name, done)
        if done:
            page.at += 1
    elif item.kind == "torque":
        _tighten(bench, page, item.name)
    elif item.kind == "verdict":
        _overrule(bench, page, item)
    elif item.kind == "choice":
        _take_choice_back(bench, item.name)
    elif item.kind == "price":
        _agree(bench, page)
    elif item.kind == "find":
        _find(bench)
    elif item.kind == "found":
        _found(bench, item.name)
    elif item.kind == "wishes":
        wishes.enter(bench)
    elif item.kind == "wish":
        wishes.take_back(bench, item.name)
    elif item.kind == "paper":
        _write(bench, page, item.name)
    elif item.kind == "hand over":
        _hand_over(bench, page)


def _tighten(bench: Bench, end: EndPage, name: str) -> None:
    walker = bench.walker
    line = next((each for each in end.work.torque_round if each.fastener == name), None) if end.work else None
    if line is None:
        return
    if line.least is None or line.most is None:
        # No torque rules it: there is nothing to read off a wrench.
        walker.tighten_by_feel(name, name not in walker.case.torques)
        return
    prompt = [
        f"{line.title}: how tight was it done, in N·m?",
        f"The range is {plain(line.least)} to {plain(line.most)} N·m.",
    ]
    if line.until:
        prompt.append(f"Until: {line.until}.")
    prompt.append("Leave it empty to take an entry back.")
    before = walker.case.torques.get(name)

    def take(text: str) -> bool:
        value = amounts.torque(text) if text else None

        def keep() -> None:
            walker.tighten(name, value)
            bench.close(page)
            bench.say(
                f"{line.title}: {plain(round(value, 2))} N·m." if value else f"{line.title}: taken back."
            )

        odd = walker.outside_range(name, value, bench.workshop.torques.get(name)) if value else None
        if odd:
            bench.confirm(odd, "That is what the wrench said", keep)
            return False
        if value is not None or before is not None:
            keep()
        return True

    page = EntryPage(
        "Torque as done", prompt, take, bench.close, before.value if before and before.value != DONE else ""
    )
    bench.show(page)


def _overrule(bench: Bench, end: EndPage, item: Item) -> None:
    walker, work = bench.walker, end.work
    if work is None:
        return
    asked = (item.name, item.about)
    verdict = next((each for each in work.verdicts if (each.part, each.cause) == asked), None)
    if verdict is None:
        return
    key = chosen_under(work, verdict)
    currency = work.estimate.currency
    options = [
        Option(
            f"{option.verdict.value}: {option.title}",
            f"Holds {out_of_100(option.holds)}, {option.price} {currency} before tax, "
            f"{option.minutes:.0f} minutes.",
            option.remedy == verdict.remedy,
        )
        for option in verdict.options
    ]
    if verdict.overruled:
        options.append(Option("As the figures say", "Takes your choice back."))
    at = next((n for n, option in enumerate(verdict.options) if option.remedy == verdict.remedy), 0)

    def choose(number: int) -> None:
        bench.close()
        if number >= len(verdict.options):
            for choice in choices_behind(walker, verdict):
                walker.overrule(choice, "")
            return
        remedy = verdict.options[number].remedy
        if remedy == verdict.remedy:
            return

        def take(reason: str) -> None:
            walker.overrule(key, remedy, reason)

        bench.show(
            EntryPage("Why?", ["The reason is printed on the sheet. It may be empty."], take, bench.close)
        )

    bench.show(ChoicePage(verdict.part_title, options, choose, bench.close, at, verdict.reason))


def _take_choice_back(bench: Bench, part: str) -> None:
    """Ask, then take back the remedy that was chosen for a part."""
    library, event = bench.walker.library, bench.walker.case.overruled[part]
    title = library.remedies[event.remedy].title if event.remedy in library.remedies else event.remedy
    bench.confirm(
        "Take this choice back?", f"{title}: not chosen any more.", lambda: bench.walker.overrule(part, "")
    )


def _agree(bench: Bench, page: EndPage) -> None:
    work = page.work
    if work is None:
        page.message = "There is no price yet to agree to."
        return
    estimate = work.estimate

    def take(text: str) -> None:
        price = amounts.money(text, estimate.currency) if text else estimate.price
        bench.walker.agree(price, price)
        passed = ceiling_passed(bench.walker.case, work)
        page.message = passed or f"Agreed: at most {price} {estimate.currency}."

    prompt = (
        f"The price is {estimate.price} {estimate.currency}, all included.",
        "How much did the customer agree to at most? Empty takes this price.",
        "If the price passes it later, the screen says: stop and ask.",
    )
    bench.show(EntryPage("Agreed with the customer", prompt, take, bench.close))


def _scope(bench: Bench) -> None:
    walker = bench.walker
    briefs = list(Brief)
    now = Brief(walker.case.brief) if walker.case.brief else bench.workshop.brief
    says = {
        Brief.ROADWORTHY: "Only what must be done. The rest is advice; safety is always in.",
        Brief.SERVICE: "The complaints, and what the service would do anyway.",
        Brief.FULL: "Everything that was found.",
    }
    options = [Option(brief.value.capitalize(), says[brief], brief is now) for brief in briefs]

    def choose(number: int) -> None:
        bench.close()
        walker.label(walker.case.label, briefs[number].value)

    bench.show(ChoicePage("How much is to be done?", options, choose, bench.close, at=briefs.index(now)))


def _find(bench: Bench) -> None:
    library = bench.walker.library
    find(
        bench,
        "Found on the way",
        f"What was found with the {library.machine.one} open? Type a word of it.",
        {name: cause.title for name, cause in library.causes.items()},
        lambda cause: _found(bench, cause),
    )


def _found(bench: Bench, cause: str) -> None:
    walker = bench.walker
    if cause not in walker.library.causes:
        # Found while the library still had it: all that can be done about it is to take it back.
        bench.confirm(
            "Take this finding back?",
            f"'{cause}' is not known here any more.",
            lambda: walker.found_out(cause, None),
        )
        return
    title = walker.library.causes[cause].title
    options = [
        Option("It is there", "Seen with the parts open: the plan and the price follow."),
        Option("It is not there", "Looked at, and sound."),
        Option("Take this back"),
    ]

    def choose(number: int) -> None:
        bench.close()
        walker.found_out(cause, (True, False, None)[number])
        said = (f"{title}: it is there.", f"{title}: it is not there.", f"{title}: taken back.")[number]
        bench.say(said)

    bench.show(ChoicePage(title, options, choose, bench.close))


def _write(bench: Bench, page: EndPage, kind: str) -> None:
    if bench.papers is None:
        return
    page.message = f"Written: {bench.papers.write(kind)}"


def _hand_over(bench: Bench, page: EndPage) -> None:
    walker = bench.walker
    left = still_open(walker.case, page.work) if page.work is not None else ()
    prompt = (*(f"! {text}" for text in left), f"Who hands the {walker.library.machine.one} over?")

    def take(name: str) -> None:
        if not name:
            raise NoNameError("A hand-over needs a name.", "Type yours, or press Esc.")
        _confirm_causes(bench, name, list(walker.standing.walks), {})

    bench.show(EntryPage("Hand over", prompt, take, bench.close))


def _confirm_causes(bench: Bench, name: str, symptoms: list[str], confirmed: dict[str, str]) -> None:
    """Ask for each complaint what it turned out to be, then hand over."""
    walker = bench.walker
    if not symptoms:
        walker.hand_over(name, confirmed)
        bench.say(f"Handed over by {name}. Press q twice to leave.")
        return
    symptom, *rest = symptoms
    causes = [cause for cause, _ in walker.view.ranking(symptom)[:8]]
    options = [Option(walker.library.causes[cause].title) for cause in causes]
    options.append(Option("Something else, or nobody knows"))

    def choose(number: int) -> None:
        bench.close()
        known = {symptom: causes[number]} if number < len(causes) else {}
        _confirm_causes(bench, name, rest, {**confirmed, **known})

    title = walker.library.trees[symptom].title
    bench.show(
        ChoicePage("What was it?", options, choose, bench.close, intro=f"{title}: it turned out to be")
    )
