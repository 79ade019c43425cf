"""Sections that several papers share."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from diagtree.clean import clean
from diagtree.model.family import Verdict
from diagtree.sheets.blocks import Block, Chance, Chances, Column, Items, Section, Table, Warn, Words
from diagtree.sheets.facts import Told
from diagtree.sheets.figures import first_up, hours, money, number, percent, percents
from diagtree.sheets.ground import Ground
from diagtree.work.result import AdviceKind

MARKS_FIRST = {
    "local rules": "The mark on the part and the maker's instructions come before any figure here; "
    "so do local rules.",
    "training": "A job beyond your training goes to a qualified mechanic.",
}
"""Printed with the cautions on every sheet that somebody works from, unless one of them says it already."""

RANKED = 6
"""So many causes are listed by name; the others share a line."""
WORTH_A_LINE = 0.015
"""The chance under which a cause gets no line of its own."""


def cautions(ground: Ground) -> list[Warn]:
    """Orders to stop, then the cautions: before all else on a paper that somebody works from.

    The usual ones share a paragraph, then come those of each complaint and each remedy. A job's and a fastener's
    own stand where they are done (see `cautions_at`). None is printed twice.
    """
    texts = []
    for head, group in _caution_groups(ground):
        texts.append(f"{head}: {' '.join(group)}" if head else " ".join(group))
    return [Warn("Stop", ground.work.stops), Warn("Caution", tuple(texts))]


def _caution_groups(ground: Ground) -> list[tuple[str, tuple[str, ...]]]:
    """Each head with its cautions; the usual ones have none."""
    work = ground.work
    said = work.cautions
    # The library's own cautions may say it already, in the words of its trade.
    usual = [text for text in map(clean, ground.library.cautions) if text in said]
    usual += [text for word, text in MARKS_FIRST.items() if not any(word in one.lower() for one in said)]
    elsewhere = {text for job in work.plan for text in job.caution}
    elsewhere |= {text for line in work.torque_round if line.touched_by for text in line.caution}
    groups = {"": usual}
    for symptom in ground.facts.complaints:
        groups[ground.complaint(symptom)] = [clean(text) for text in ground.library.tree(symptom).caution]
    for row in work.verdicts:
        if row.planned:
            groups.setdefault(row.remedy_title, []).extend(row.caution)
    grouped = {text for group in groups.values() for text in group}
    groups["Also"] = [text for text in said if text not in grouped]
    seen = set(elsewhere)
    kept = []
    for head, group in groups.items():
        fresh = tuple(dict.fromkeys(text for text in group if text not in seen))
        seen.update(fresh)
        if fresh:
            kept.append((head, fresh))
    return kept


def cautions_at(ground: Ground) -> Mapping[str, tuple[str, ...]]:
    """For each job of the plan the cautions that stand at it: at the first job that has them, once."""
    seen = {text for _, group in _caution_groups(ground) for text in group}
    at: dict[str, tuple[str, ...]] = {}
    for job in ground.work.plan:
        at[job.job] = tuple(text for text in job.caution if text not in seen)
        seen.update(at[job.job])
    return at


def likely(ground: Ground) -> Section:
    """For each complaint the causes with their chances."""
    blocks: list[Block] = []
    for symptom in ground.facts.complaints:
        ranked = sorted(ground.belief.behind(symptom).items(), key=lambda item: (-item[1], item[0]))
        named = max(1, sum(chance >= WORTH_A_LINE for _, chance in ranked[:RANKED]))
        first, rest = ranked[:named], ranked[named:]
        lines = [(ground.cause(name), chance) for name, chance in first]
        if rest:
            lines.append((f"Something else ({len(rest)} more)", sum(chance for _, chance in rest)))
        figures = percents([min(1.0, chance) for _, chance in lines])
        blocks.append(
            Chances(
                ground.complaint(symptom),
                tuple(
                    Chance(title, min(1.0, chance), figure)
                    for (title, chance), figure in zip(lines, figures, strict=True)
                ),
            )
        )
    seen = [_found_line(ground, found.cause, found.present, found.note) for found in ground.facts.found]
    if seen:
        blocks += [Words(f"Seen with the {ground.machine} open:", strong=True), Items(tuple(seen))]
    return Section("What is likely", tuple(blocks))


def _found_line(ground: Ground, cause: str, present: bool, note: str) -> str:
    said = f"{ground.cause(cause)}: {'it is there' if present else 'it is not there'}"
    return f"{said}. {note}" if note else f"{said}."


def picture(ground: Ground) -> Section:
    """How the machine has lived: each condition's likeliest state, beside what is usual."""
    rows = []
    for name, states in ground.belief.picture.items():
        condition = ground.library.conditions.get(name)
        if condition is None or not states:
            continue
        state = max(states, key=lambda one: (states[one], one))
        says = clean(condition.states[state].says)
        usual = percent(float(condition.states[state].out_of_100) / 100)
        rows.append(
            (
                clean(condition.title),
                says,
                percent(states[state]),
                f"{usual} {ground.sources.mark(condition.basis)}".strip(),
            )
        )
    table = Table(
        (
            Column("Side", share=2),
            Column("Most likely", share=3),
            Column("Chance", right=True),
            Column(f"Of all {clean(ground.library.machine.many)}", right=True, share=1.3),
        ),
        tuple(rows),
    )
    moved = []
    for name in ground.belief.picture:
        reasons = [reason for condition, reason in ground.facts.moved if condition == name]
        if reasons and name in ground.library.conditions:
            moved.append(f"{clean(ground.library.conditions[name].title)}: {' '.join(reasons)}")
    blocks: list[Block] = [table] if rows else []
    if rows and moved:
        blocks += [Words("What moved it most:"), Items(tuple(moved))]
    return Section(f"Picture of the {ground.machine}", tuple(blocks))


def bill(ground: Ground) -> Table:
    """The planned price, the allowance and the quoted price."""
    estimate, planned = ground.work.estimate, ground.work.estimate.planned
    rate = f"{money(ground.workshop.rate, estimate.currency)} an hour"
    rows = [
        (f"Labour, {hours(estimate.expected_minutes)} at {rate}", money(planned.labour)),
        ("Parts and fluids" if _fluids_cost(ground) else "Parts", money(planned.parts)),
        ("Consumables", money(planned.consumables)),
        (f"Tax, {number(ground.workshop.tax)} %", money(planned.tax)),
        ("Rounding", money(planned.rounding)),
        ("If all goes as planned", money(planned.total)),
        ("Allowance for the unexpected", money(estimate.allowance)),
        ("Price", money(estimate.price)),
    ]
    sums = 3
    shown = tuple(row for row in rows if row[0] != "Rounding" or planned.rounding)
    return Table((Column("", share=5), Column(estimate.currency, right=True)), shown, sums=sums)


def goods(ground: Ground) -> tuple[tuple[str, str, str, str], ...]:
    """Title, amount, price and basis of all that the bill's line for parts adds up, before tax.

    Fluids share a line: a customer sees what they cost together, and which they are.
    """
    parts = ground.work.parts
    rows = [
        (part.title, number(part.amount), "no price" if part.total is None else money(part.total), part.basis)
        for part in parts
    ]
    rest = _fluids_cost(ground)
    if rest:
        titles = dict.fromkeys(line.title for line in ground.work.fluids if line.amount is not None)
        rows.append((", ".join(titles) or "Rounding of the prices before tax", "", money(rest), ""))
    return tuple(rows)


def _fluids_cost(ground: Ground) -> Decimal:
    """What the bill's line for parts holds besides the parts."""
    named = sum((part.total or Decimal(0) for part in ground.work.parts), Decimal(0))
    return ground.work.estimate.planned.parts - named


def allowance(ground: Ground) -> list[Block]:
    """What the allowance is for, and what it promises."""
    estimate = ground.work.estimate
    blocks: list[Block] = [
        Words(
            f"{number(estimate.confidence)} of 100 {clean(ground.library.machine.many)} like this one come in at or "
            f"under {money(estimate.price, estimate.currency)}. {ground.sources.mark(estimate.basis)}".strip()
        )
    ]
    if estimate.items:
        rows = tuple((item.what, item.odds, money(item.amount)) for item in estimate.items)
        columns = (
            Column("What the allowance is for", share=4),
            Column("Chance", share=1.5),
            Column(estimate.currency, right=True),
        )
        blocks.append(Table(columns, rows))
    if estimate.unpriced:
        blocks.append(
            Words(f"Without a price, so not in the sum: {', '.join(estimate.unpriced)}.", strong=True)
        )
    return blocks


def advice(ground: Ground, kinds: Iterable[AdviceKind]) -> tuple[str, ...]:
    """The advice of some kinds, in the order of the work: safety first."""
    wanted = set(kinds)
    return tuple(
        f"{one.text} (about {money(one.price, ground.currency)} before tax)"
        if one.price is not None
        else one.text
        for one in ground.work.advice
        if one.kind in wanted
    )


def answered(ground: Ground) -> Section:
    """What was asked and answered, and what was known without asking: a paragraph for each complaint."""
    blocks: list[Block] = []
    for about in dict.fromkeys(one.about for one in ground.facts.asked):
        here = [one for one in ground.facts.asked if one.about == about]
        told = [f"{one.ask} {one.says}" for one in here if one.told is Told.ANSWERED]
        told += [f"Not asked: {one.ask} {one.says}".rstrip() for one in here if one.told is Told.SKIPPED]
        if told:
            blocks.append(Words(about or f"How the {ground.machine} was kept and used", strong=True))
            blocks.append(Words(" · ".join(told), small=True))
    return Section("What was answered", tuple(blocks))


def not_known(ground: Ground) -> Section:
    """What nobody could tell, and what the sums leave out."""
    texts = [f"{one.ask} Nobody could tell." for one in ground.facts.asked if one.told is Told.CANNOT_TELL]
    texts += [
        f"{ground.complaint(symptom)}. The tree has changed since its questions were asked: look at the answers again."
        for symptom in ground.changed
    ]
    if not ground.facts.finished:
        texts.insert(0, "The questions were not asked to the end.")
    if ground.work.estimate.unpriced:
        texts.append(f"Prices of: {', '.join(ground.work.estimate.unpriced)}.")
    return Section("What is not known", (Items(tuple(texts)),) if texts else ())


def reason(title: str, verdict: Verdict, text: str) -> str:
    """The reason for a verdict without the part and the verdict, where these stand beside it already.

    Examples
    --------
    >>> reason("Lid", Verdict.LEAVE, "Lid: leave. Nothing points at it.")
    'Nothing points at it.'
    """
    rest = text.removeprefix(f"{title}: {verdict.value}.").strip()
    return first_up(rest) if rest else text


def left_alone(ground: Ground) -> tuple[str, ...]:
    """The parts that are left as they are, with what speaks for them; parts with one reason share a line."""
    reasons: dict[str, list[str]] = {}
    for one in ground.work.left_alone:
        reasons.setdefault(reason(one.title, Verdict.LEAVE, one.reason), []).append(one.title)
    return tuple(f"{'; '.join(titles)}. {why}" for why, titles in reasons.items())


def notes(ground: Ground) -> Section:
    """The mechanic's notes."""
    return Section("Notes", (Items(ground.facts.notes),) if ground.facts.notes else ())


def bases(ground: Ground) -> Section:
    """Where the figures come from: the last section, because the marks are given as the others are made."""
    lines = ground.sources.lines()
    return Section("Where the figures come from", (Words(" · ".join(lines), small=True),) if lines else ())
