"""The customer's estimate: what is likely, what is proposed, what it costs and what the allowance is for."""

from __future__ import annotations

from diagtree.sheets import agreed, sections
from diagtree.sheets.blocks import Blanks, Block, Column, Items, Section, Table, Warn, Words
from diagtree.sheets.figures import first_low, first_up, money
from diagtree.sheets.ground import Ground
from diagtree.work.result import AdviceKind, PartVerdict
from diagtree.work.weighing import times
from diagtree.work.words import odds, what_with_part


def estimate_paper(ground: Ground) -> tuple[str, list[Warn], list[Section]]:
    """Make title, warnings and sections of the customer's estimate."""
    return (
        "Estimate",
        [Warn("Until it is mended", ground.work.stops)],
        [
            _likely(ground),
            _proposed(ground),
            Section(
                "Price",
                (
                    sections.bill(ground),
                    *_you_pay(ground),
                    *_over(ground),
                    *_parts(ground),
                    *sections.allowance(ground),
                ),
            ),
            _besides(ground),
            sections.not_known(ground),
            _agreement(ground),
            sections.bases(ground),
        ],
    )


def _likely(ground: Ground) -> Section:
    texts = []
    for symptom in ground.facts.complaints:
        ranked = sorted(ground.belief.behind(symptom).items(), key=lambda item: (-item[1], item[0]))
        name, chance = ranked[0]
        why = ground.library.causes[name].why if name in ground.library.causes else ""
        text = f"{ground.complaint(symptom)}. Most likely: {first_low(ground.cause(name))} ({odds(chance)}). {why}"
        others = [f"{first_low(ground.cause(other))} ({odds(p)})" for other, p in ranked[1:3] if p >= 0.05]
        if others:
            text += f" But it may also be: {', or '.join(others)}."
        texts.append(text.rstrip())
    seen = [f"Seen: {first_low(ground.cause(one.cause))}." for one in ground.facts.found if one.present]
    return Section("What we think is wrong", (Items((*texts, *seen)),))


def _proposed(ground: Ground) -> Section:
    planned = [one for one in ground.work.verdicts if one.planned]
    blocks: list[Block] = []
    if planned:
        rows = tuple((one.part_title, one.remedy_title, _how_sure(one)) for one in planned)
        columns = (
            Column("Part", share=1.6),
            Column("What we do", share=2.4),
            Column("How sure it is", share=3),
        )
        blocks.append(Table(columns, rows))
    else:
        blocks.append(
            Words("Nothing is planned: the questions have not led to anything that has to be done.")
        )
    refer = tuple(dict.fromkeys(f"{one.part_title}: {one.refer}" for one in planned if one.refer))
    if refer:
        blocks += [Words("This goes to somebody qualified for it:", strong=True), Items(refer)]
    if ground.work.final_checks:
        blocks.append(
            Words(
                f"At the end of every job we check: {', '.join(first_low(c.title) for c in ground.work.final_checks)}."
            )
        )
    return Section("What we propose", tuple(blocks))


def _how_sure(one: PartVerdict) -> str:
    """How often it holds, and what would follow: what a customer wants to know of the figures behind it."""
    names = [option.remedy for option in one.options]
    if one.overruled or one.remedy not in names:
        return sections.reason(one.part_title, one.verdict, one.reason)
    place = names.index(one.remedy)
    text = f"It holds {times(one.options[place].holds)}."
    if place + 1 < len(one.options):
        text += f" If it does not: {first_low(one.options[place + 1].title)}."
    return text


def _parts(ground: Ground) -> list[Block]:
    rows = tuple((title, amount, price) for title, amount, price, _ in sections.goods(ground))
    if not rows:
        return []
    columns = (
        Column("Parts and fluids, before tax", share=4),
        Column("How many", right=True),
        Column(ground.currency, right=True),
    )
    return [Table(columns, rows)]


def _you_pay(ground: Ground) -> list[Block]:
    estimate = ground.work.estimate
    planned, limit = (
        money(amount, ground.currency) for amount in (estimate.planned.total, agreed.ceiling(ground))
    )
    if estimate.price == estimate.planned.total:
        return []
    text = f"You pay for what is done: {planned} if all goes as planned. Above {limit} we stop and ask first."
    if estimate.allowance * 2 > estimate.planned.total:
        first = max(estimate.items, key=lambda item: item.amount, default=None)
        if first is not None and first.odds and first.amount * 2 > estimate.allowance:
            text += f" Most of the allowance is for one thing: {first_low(first.what)} ({first.odds})."
        if ground.facts.agreed is None:
            text += " You may agree to the planned work alone; we then ask before anything else."
    return [Words(text, strong=True)]


def _over(ground: Ground) -> list[Block]:
    over = agreed.passed(ground)
    return [Words(over, strong=True)] if over else []


def _besides(ground: Ground) -> Section:
    texts = list(sections.advice(ground, (AdviceKind.OFFER,)))
    seen = {one.cause for one in ground.facts.found if one.present}
    for one in ground.work.advice:
        what = what_with_part(one.title, one.part_title)
        if one.kind is AdviceKind.SAFETY:
            texts.append(
                one.text
                if one.cause in seen
                else f"{what} ({one.odds}): we rule it out before you get the {ground.machine} back."
            )
        elif one.kind is AdviceKind.LOOK:
            texts.append(f"{what} ({one.odds}): we would look at it.")
    return Section("What else we would look at", (Items(tuple(texts)),) if texts else ())


def _agreement(ground: Ground) -> Section:
    said, currency = ground.facts.agreed, ground.currency
    if said is None:
        stop = "If we find more than the allowance covers, we stop and ask before we go on."
        blanks = Blanks((("I agree to the work, up to", f"{currency} "), ("Date", ""), ("Signature", "")))
        return Section("Agreement", (Words(stop), blanks))
    stop = f"If it comes to more than {money(said.limit, currency)}, we stop and ask before we go on."
    note = [Words(first_up(said.note))] if said.note else []
    return Section("Agreement", (Words(agreed.agreement(ground), strong=True), *note, Words(stop)))
