"""The handover: what was found, done and checked, by whom; what was left and why; what is due next.

It never says that a machine is safe: it says what was checked.
"""

from __future__ import annotations

from decimal import Decimal

from diagtree.sheets import sections, tightening
from diagtree.sheets.blocks import Blanks, Block, Items, Section, Warn, Words
from diagtree.sheets.figures import moment, money, number, percent
from diagtree.sheets.ground import Ground
from diagtree.work.repeated import again_after, done_jobs, to_be_repeated
from diagtree.work.result import AdviceKind
from diagtree.work.words import what_with_part


def handover_paper(ground: Ground) -> tuple[str, list[Warn], list[Section]]:
    """Make title, warnings and sections of the handover."""
    seen = {one.cause for one in ground.facts.found if one.present}
    safety = tuple(
        one.text for one in ground.work.advice if one.kind is AdviceKind.SAFETY and one.cause in seen
    )
    open_stops = () if _all_done(ground) else ground.work.stops
    return (
        "Handover",
        [Warn("Stop", open_stops), Warn("Mind", safety)],
        [
            _found(ground),
            _what_was_done(ground),
            _checked(ground),
            _left(ground),
            _due(ground),
            sections.notes(ground),
            sections.bases(ground),
            _signed(ground),
        ],
    )


def _all_done(ground: Ground) -> bool:
    """True if there was something to do and all of it has been ticked off."""
    ticked = dict(ground.facts.jobs_done)
    return bool(ground.work.plan) and len(done_jobs(ground.work.plan, ticked)) == len(ground.work.plan)


def _found(ground: Ground) -> Section:
    handed = ground.facts.handed_over
    confirmed = dict(handed.confirmed) if handed else {}
    texts = []
    for symptom in ground.facts.complaints:
        title = ground.complaint(symptom)
        if symptom in confirmed:
            texts.append(f"{title}. It was: {ground.cause(confirmed[symptom])}.")
            continue
        name, chance = max(ground.belief.behind(symptom).items(), key=lambda item: (item[1], item[0]))
        texts.append(f"{title}. Judged from the answers: {ground.cause(name)} ({percent(chance)}).")
    texts += [
        f"Seen: {ground.cause(one.cause)}. {one.note}".rstrip() for one in ground.facts.found if one.present
    ]
    return Section("What was found", (Items(tuple(texts)),))


def _what_was_done(ground: Ground) -> Section:
    ticked = dict(ground.facts.jobs_done)
    finished = done_jobs(ground.work.plan, ticked)
    again = to_be_repeated(ground.work.plan, ticked)
    done = [job for job in ground.work.plan if job.job in finished]
    extra = [name for name in ticked if name not in {job.job for job in ground.work.plan}]
    undone = [job for job in ground.work.plan if job.job not in finished]
    blocks: list[Block] = []
    lines = [f"{job.title} ({moment(ticked[job.job])})" for job in done]
    for name in extra:
        known = ground.library.jobs.get(name)
        lines.append(f"{known.title if known else name} ({moment(ticked[name])})")
    if lines:
        blocks.append(Items(tuple(lines)))
        fitted = _fitted(ground)
        if fitted:
            blocks.append(Words(f"Parts fitted: {', '.join(fitted)}."))
    else:
        blocks.append(Words("No job has been ticked off as done.", strong=True))
    if undone and lines:
        blocks += [
            Words("Planned, and not ticked off:", strong=True),
            Items(
                tuple(
                    f"{job.title}. {again_after(again[job.job])}" if job.job in again else job.title
                    for job in undone
                )
            ),
        ]
    return Section("What was done", tuple(blocks))


def _fitted(ground: Ground) -> list[str]:
    """The parts of each remedy whose own jobs are all ticked off, each part once.

    A job that only makes ready is done for many remedies and fits nothing; no more does a trial.
    """
    ticked = dict(ground.facts.jobs_done)
    work = {job.job for job in ground.work.plan if not job.tries}
    amounts: dict[str, Decimal] = {}
    for name in sorted({remedy for job in ground.work.plan for remedy in job.serves}):
        remedy = ground.library.remedies.get(name)
        own = work.intersection(remedy.jobs) if remedy is not None else set()
        if remedy is None or not own or not own <= ticked.keys():
            continue
        for part, amount in remedy.parts.items():
            # As in the price: what two remedies fit is fitted once.
            amounts[part] = max(amount, amounts.get(part, amount))
    parts = ground.library.parts
    return [f"{number(amount)} × {parts[part].title}" for part, amount in amounts.items() if part in parts]


def _checked(ground: Ground) -> Section:
    blocks: list[Block] = []
    seen = {one.cause for one in ground.facts.found if one.present}
    recorded = dict(ground.facts.torques)
    lines = [line for line in ground.work.torque_round if line.fastener in recorded]
    if lines:
        blocks.append(tightening.torque_table(ground, lines))
    open_lines = [line for line in ground.work.torque_round if line.fastener not in recorded]
    touched = [line.title for line in open_lines if line.touched_by]
    if touched:
        blocks.append(Words(f"Touched, and no torque recorded: {', '.join(touched)}."))
    others = sum(not line.touched_by and not line.if_fitted for line in open_lines)
    if others:
        blocks.append(
            Words(f"Of the fasteners that the work did not touch, {others} have no torque recorded.")
        )
    checks = [
        *ground.work.verify,
        *(f"{line.title}. {' '.join(line.how)}" for line in ground.work.final_checks),
        *(
            f"Ruled out: {what_with_part(one.title, one.part_title)} ({one.odds})."
            for one in ground.work.advice
            if one.kind is AdviceKind.SAFETY and one.cause not in seen
        ),
    ]
    if checks:
        blocks += [Words("Ticked by whoever checked it:", strong=True), Items(tuple(checks), boxes=True)]
    blocks.append(
        Words(
            f"This paper tells what was checked, and by whom. It is no promise that the {ground.machine} is safe.",
            strong=True,
        )
    )
    return Section("What was checked", tuple(blocks))


def _left(ground: Ground) -> Section:
    blocks: list[Block] = []
    texts = list(sections.left_alone(ground))
    texts += sections.advice(ground, (AdviceKind.OFFER, AdviceKind.LOOK))
    texts += [f"{one.part_title}: {one.refer}" for one in ground.work.verdicts if one.refer]
    if texts:
        blocks.append(Items(tuple(dict.fromkeys(texts))))
    unknown = sections.not_known(ground).blocks
    if unknown:
        blocks += [Words("Not known:", strong=True), *unknown]
    return Section("What was left, and why", tuple(blocks))


def _due(ground: Ground) -> Section:
    rows = tuple(f"{title}: {when}" for title, when in ground.work.next_due)
    return Section("Next due", (Items(rows),) if rows else ())


def _signed(ground: Ground) -> Section:
    handed = ground.facts.handed_over
    agreed = ground.facts.agreed
    blocks: list[Block] = []
    if agreed is not None:
        blocks.append(Words(f"Agreed price: {money(agreed.price, ground.currency)}."))
    if handed is not None and handed.note:
        blocks.append(Words(handed.note))
    blocks.append(
        Blanks(
            (
                ("Checked and handed over by", handed.by if handed else ""),
                ("On", moment(handed.when) if handed else ""),
                ("Signature", ""),
                ("Received by", ""),
            )
        )
    )
    # Nobody signs a page that says nothing of what is signed.
    return Section("Handed over", tuple(blocks), whole=True)
