"""The job sheet: what the mechanic at the bench works from."""

from __future__ import annotations

from diagtree.clean import clean
from diagtree.model.family import Risk
from diagtree.sheets import agreed, sections, tightening
from diagtree.sheets.blocks import Blanks, Block, Column, Items, Section, Step, Steps, Table, Warn, Words
from diagtree.sheets.figures import first_low, moment, money, number, percent
from diagtree.sheets.ground import Ground
from diagtree.work.repeated import again_after, to_be_repeated
from diagtree.work.result import AdviceKind, PartVerdict, PlannedJob, Stage, TorqueLine

NOT_THAT = 5
"""So many other findings are named, the likeliest first."""
STAGES = {Stage.OPEN: "open up", Stage.WORK: "do", Stage.CLOSE: "close"}


def job_paper(ground: Ground) -> tuple[str, list[Warn], list[Section]]:
    """Make title, warnings and sections of the job sheet."""
    stop, caution = sections.cautions(ground)
    return (
        "Job sheet",
        [stop, *_ask_first(ground), caution],
        [
            sections.likely(ground),
            sections.picture(ground),
            verdicts(ground),
            plan(ground),
            materials(ground),
            torque_round(ground),
            final_checks(ground),
            # Signed where the last check ends, not on a page of its own behind the reference.
            _done(ground),
            _price(ground),
            look_at(ground),
            sections.answered(ground),
            sections.not_known(ground),
            sections.notes(ground),
            sections.bases(ground),
        ],
    )


def _done(ground: Ground) -> Section:
    """Who did it and when: by hand, or from the hand-over once there was one."""
    handed = ground.facts.handed_over
    by, when = (handed.by, moment(handed.when)) if handed else ("", "")
    return Section("Done", (Blanks((("Worked by", by), ("Date", when), ("Time taken", "")), beside=True),))


def _ask_first(ground: Ground) -> list[Warn]:
    """The price has passed what was agreed: told before anything is taken apart."""
    over = agreed.passed(ground)
    return [Warn("Ask first", (over,))] if over else []


def _price(ground: Ground) -> Section:
    blocks: list[Block] = [sections.bill(ground), *sections.allowance(ground)] if ground.work.plan else []
    said = ground.facts.agreed
    if said is not None:
        limit = money(said.limit, ground.currency)
        blocks.append(Words(f"{agreed.agreement(ground)} {agreed.passed(ground)}".rstrip(), strong=True))
        blocks.append(Words(f"If it comes to more than {limit}, stop and ask before you go on."))
    return Section("Price", tuple(blocks))


def verdicts(ground: Ground) -> Section:
    """What is done with each part, and why."""
    blocks: list[Block] = []
    planned = [one for one in ground.work.verdicts if one.planned]
    columns = (Column("Part", share=1.5), Column("Verdict", share=2.2), Column("Why", share=4))
    if planned:
        rows = tuple(
            (
                one.part_title,
                f"{_word(ground, one)}\n{one.remedy_title} {ground.sources.mark(one.basis)}".rstrip(),
                " ".join(
                    (
                        f"{one.cause_title}, {percent(one.chance)}.",
                        sections.reason(one.part_title, one.verdict, one.reason),
                        _overruled(ground, one),
                    )
                ).strip(),
            )
            for one in planned
        )
        blocks.append(Table(columns, rows))
    refer = [
        f"{one.part_title}: {one.refer}"
        for one in ground.work.verdicts
        if one.refer and one.planned and not _is_stop(ground, one)
    ]
    if refer:
        blocks.append(Warn("Refer", tuple(dict.fromkeys(refer))))
    rest = [one for one in ground.work.verdicts if not one.planned and one.remedy]
    if rest:
        blocks.append(Words("If that is not it:", strong=True))
        blocks.append(Items(tuple(_if_not(ground, one) for one in rest[:NOT_THAT])))
    left = sections.left_alone(ground)
    if left:
        blocks += [Words("Left as it is, because of an answer:", strong=True), Items(left)]
    return Section("What is done with each part", tuple(blocks))


def _word(ground: Ground, one: PartVerdict) -> str:
    return "STOP" if _is_stop(ground, one) else one.verdict.value.upper()


def _is_stop(ground: Ground, one: PartVerdict) -> bool:
    remedy = ground.library.remedies.get(one.remedy)
    return remedy is not None and remedy.stop_work


def _if_not(ground: Ground, one: PartVerdict) -> str:
    text = f"{one.cause_title} ({percent(one.chance)}): {first_low(one.remedy_title)}."
    if one.risk is Risk.UNSAFE:
        text += f" It can hurt people: rule it out before the {ground.machine} is handed over."
    return f"{text} {one.refer}" if one.refer else text


def _overruled(ground: Ground, one: PartVerdict) -> str:
    if not one.overruled:
        return ""
    said = dict(ground.facts.overruled)
    reason = said.get(one.part) or said.get(one.cause)
    return f"The mechanic chose this: {reason}" if reason else "The mechanic chose this."


def named_once(tools: tuple[str, ...]) -> list[str]:
    """Leave out a tool that another one names more closely.

    Examples
    --------
    >>> named_once(("clean tray", "torque wrench", "torque wrench 4-20 N·m", "tray"))
    ['clean tray', 'torque wrench 4-20 N·m']
    """
    words = {tool: frozenset(tool.split()) for tool in tools}
    return [tool for tool in tools if not any(words[tool] < words[other] for other in tools)]


def plan(ground: Ground) -> Section:
    """The jobs in the order of work."""
    if not ground.work.plan:
        return Section("Order of work", ())
    blocks: list[Block] = []
    if ground.work.tools:
        blocks.append(Words(f"Lay ready: {', '.join(named_once(ground.work.tools))}."))
    bases = {job.basis for job in ground.work.plan}
    common = ground.sources.mark(bases.pop()) if len(bases) == 1 else ""
    if common:
        blocks.append(Words(f"Minutes {common}: likely (at least to at most).", small=True))
    warnings = sections.cautions_at(ground)
    steps, served = [], ""
    ticked = dict(ground.facts.jobs_done)
    again = to_be_repeated(ground.work.plan, ticked)
    for job in ground.work.plan:
        serves = "; ".join(job.serves_titles)
        mark = "" if common else ground.sources.mark(job.basis)
        late = again.get(job.job, ())
        warned = (*warnings[job.job], again_after(late)) if late else warnings[job.job]
        done = "" if late else moment(ticked.get(job.job, ""))
        steps.append(_step(job, serves if serves != served else "", mark, warned, done))
        served = serves
    blocks.append(Steps(tuple(steps)))
    return Section("Order of work", tuple(blocks))


def _step(job: PlannedJob, serves: str, mark: str, warnings: tuple[str, ...], done: str) -> Step:
    low, likely, high = (number(minutes) for minutes in job.minutes)
    for_what = f" · for: {serves}" if serves else ""
    aside = f"{STAGES[job.stage]} · {likely} min ({low} to {high}) {mark}".rstrip()
    return Step(job.number, job.title, aside + for_what, job.how, warnings, done)


def materials(ground: Ground) -> Section:
    """Parts to fit, and what goes in and on."""
    blocks: list[Block] = []
    rows = tuple(
        (title, amount, price, ground.sources.mark(basis))
        for title, amount, price, basis in sections.goods(ground)
    )
    if rows:
        columns = (
            Column("Part", share=4),
            Column("How many", right=True),
            Column(ground.currency, right=True),
            Column("Basis"),
        )
        blocks.append(Table(columns, rows))
    if ground.work.fluids:
        blocks.append(fluids(ground))
    return Section("Parts and fluids", tuple(blocks))


def fluids(ground: Ground) -> Items:
    """Per fluid: where it goes, what must never meet it, and how to clean it up."""
    texts = []
    for fluid in ground.work.fluids:
        amount = "" if fluid.amount is None else f", {number(fluid.amount)} {fluid.unit}"
        told = [f"{fluid.title}{amount} {ground.sources.mark(fluid.basis)}".rstrip()]
        if fluid.system_title:
            told.append(f"Into: {first_low(fluid.system_title)}")
        told += [f"Only: {', '.join(fluid.takes)}"] if fluid.takes else []
        told += [fluid.read] if fluid.read else []
        told += [f"For: {', '.join(fluid.used_for)}"] if fluid.used_for else []
        if fluid.boils_dry is not None:
            wet = f", {number(fluid.boils_wet)} °C wet" if fluid.boils_wet is not None else ""
            told.append(f"Boils at {number(fluid.boils_dry)} °C or more{wet}")
        if fluid.viscosity_cold is not None:
            told.append(f"At most {number(fluid.viscosity_cold)} mm²/s at -40 °C")
        told += [f"Colour: {fluid.colour}"] if fluid.colour else []
        told += [f"Never with {', '.join(fluid.never_with)}"] if fluid.never_with else []
        told += [f"Never on {', '.join(fluid.never_on)}"] if fluid.never_on else []
        told += [f"Attacks {', '.join(fluid.attacks)}"] if fluid.attacks else []
        told += [f"Clean with {fluid.clean_with}"] if fluid.clean_with else []
        told += list(fluid.caution)
        texts.append(" ".join(f"{text.rstrip('.')}." for text in told))
    return Items(tuple(texts))


def torque_round(ground: Ground, *, in_full: bool = False) -> Section:
    """What the plan touches, then what is checked at the end of every job.

    Parameters
    ----------
    ground
        What the paper is made from.
    in_full
        True if what is only checked is told at length too: on the torque round itself.
    """
    touched = [line for line in ground.work.torque_round if line.touched_by]
    others = [line for line in ground.work.torque_round if not line.touched_by]
    blocks: list[Block] = []
    if touched:
        blocks.append(Words("Touched by the work:", strong=True))
        blocks.append((tightening.torque_table if in_full else tightening.torque_list)(ground, touched))
        blocks += _remarks(touched)
    # What was tightened is on the machine.
    there = {line.fastener for line in others if not line.if_fitted} | dict(ground.facts.torques).keys()
    sure = [line for line in others if line.fastener in there]
    unsure = [line for line in others if line.fastener not in there]
    if sure:
        blocks.append(Words(f"Checked on every {ground.machine}, last of all:", strong=True))
        blocks.append((tightening.torque_table if in_full else tightening.torque_list)(ground, sure))
    if unsure:
        blocks.append(Words(f"If the {ground.machine} has one:", strong=True))
        blocks.append((tightening.torque_table if in_full else tightening.torque_by_family)(ground, unsure))
    if in_full:
        blocks += _remarks(others)
    return Section("Torque round", tuple(blocks))


def _remarks(lines: list[TorqueLine]) -> list[Block]:
    remarks = tightening.torque_notes(lines)
    return [Items(remarks)] if remarks else []


def final_checks(ground: Ground) -> Section:
    """Function checks after the work, then what is checked on every machine."""
    texts = list(ground.work.verify)
    for line in ground.work.final_checks:
        how = " ".join((*line.how, *line.caution))
        texts.append(f"{line.title} ({number(line.minutes)} min). {how}".rstrip())
    return Section("Checks before it is handed over", (Items(tuple(texts), boxes=True),) if texts else ())


def look_at(ground: Ground) -> Section:
    """What to look at and what to offer."""
    texts = sections.advice(ground, AdviceKind)
    due = tuple(f"{clean(title)}: {when}" for title, when in ground.work.next_due)
    blocks: list[Block] = [Items(texts)] if texts else []
    if due:
        blocks += [Words("Next due:", strong=True), Items(due)]
    return Section("Advice", tuple(blocks))
