"""The "find the fault" sheet: machines that are not there on paper, and their key."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagtree.clean import clean
from diagtree.library.library import Library
from diagtree.model.family import Hand
from diagtree.practice.levels import Level
from diagtree.practice.telling import ended, figure, minutes
from diagtree.practice.worksheet import Task, fasteners_of, fluids_of
from diagtree.reasoning.why import out_of_100
from diagtree.sheets.blocks import (
    Blanks,
    Block,
    Chance,
    Chances,
    Column,
    Facts,
    Items,
    Section,
    Table,
    Warn,
    Words,
    with_texts,
)
from diagtree.sheets.data import Plain
from diagtree.sheets.figures import percent
from diagtree.sheets.paper import Paper
from diagtree.sheets.sections import MARKS_FIRST
from diagtree.units import beside, plain

LIKELY = 4
MOST_FASTENERS = 5


def sheet_paper(
    library: Library, tasks: Sequence[Task], level: Level, seed: int, with_key: bool = True
) -> Paper:
    """Make the sheet.

    Parameters
    ----------
    library
        Where titles are.
    tasks
        The machines.
    level, seed
        What they were drawn with; printed, so that the sheet can be made again.
    with_key
        True to put the key at the end, on pages of its own.

    Returns
    -------
    Paper
        For the writers of `diagtree.sheets.writers`. It has no date: the same seed gives the same bytes.
    """
    sections = [_machine(library, task, number) for number, task in enumerate(tasks, 1)]
    if with_key:
        sections += _key(library, tasks, new_page=True)
    head = Facts((("Drawn with", f"level {level.name}, seed {seed}"),))
    instructions = Items(
        (
            f"None of these {library.machine.many} is there. Each has a hidden fault.",
            "Read the complaint, the looks and the checks in their order. "
            + ("Some answers mislead, as in life." if level.misleads else "No answer misleads."),
            "Say what is behind it, what you would check next, which fastener you would tighten and how tight.",
        )
    )
    return _paper(
        library,
        tasks,
        "Find the fault",
        level,
        seed,
        head,
        (Section("What to do", (Blanks((("Name", ""),)), instructions)), *sections),
        {"machines": [_plain(task, with_key) for task in tasks]},
    )


def key_paper(library: Library, tasks: Sequence[Task], level: Level, seed: int) -> Paper:
    """Make the key alone."""
    head = Facts((("Drawn with", f"level {level.name}, seed {seed}"),))
    data: dict[str, Plain] = {"machines": [_plain(task, True) for task in tasks]}
    sections = _key(library, tasks, new_page=False)
    return _paper(library, tasks, "Find the fault: key", level, seed, head, tuple(sections), data)


def _paper(
    library: Library,
    tasks: Sequence[Task],
    title: str,
    level: Level,
    seed: int,
    head: Facts,
    sections: tuple[Section, ...],
    data: dict[str, Plain],
) -> Paper:
    symptoms = dict.fromkeys(symptom for task in tasks for symptom in task.machine.complaints)
    trees = ", ".join(
        f"{symptom} version {library.tree(symptom).version} ({library.identity(symptom)})"
        for symptom in symptoms
    )
    count = f"1 {library.machine.one}" if len(tasks) == 1 else f"{len(tasks)} {library.machine.many}"
    paper = Paper(
        kind="worksheet",
        title=title,
        subtitle=f"{count} for practice, level {level.name}, seed {seed}",
        head=head,
        warnings=(),
        sections=sections,
        trees=f"Tree{'s' if len(symptoms) > 1 else ''}: {trees}",
        date="",
        data={"schema": 1, "kind": "worksheet", "level": level.name, "seed": seed, **data},
    )
    return with_texts(paper, lambda text: clean(text, keep_newlines=True))


def _titles(library: Library, task: Task) -> str:
    return " And: ".join(ended(library.trees[symptom].title) for symptom in task.machine.complaints)


def _machine(library: Library, task: Task, number: int) -> Section:
    machine = task.machine
    blocks: list[Block] = [Words(_titles(library, task), strong=True)]
    if machine.looks:
        looks = tuple(
            (library.looks[look].ask, library.looks[look].answers[answer].says)
            for look, answer in machine.looks.items()
        )
        blocks.append(Table((Column("Seen and told", share=3), Column("", share=2)), looks))
    if task.steps:
        rows = tuple(
            (str(place), step.ask, step.says, figure(step.minutes))
            for place, step in enumerate(task.steps, 1)
        )
        columns = (
            Column("", share=0.3),
            Column("Checked", share=2.7),
            Column("Answer", share=2),
            Column("Min", right=True, share=0.5),
        )
        blocks.append(Table(columns, rows))
    else:
        blocks.append(Words("Nothing was checked yet."))
    what = ["What is it, most likely?"]
    if len(machine.complaints) > 1:
        what = [f"What is behind {place}?" for place in ("the first complaint", "the second", "the third")][
            : len(machine.complaints)
        ]
    ask = [*what, "What next, and why?", "Which fastener, how tight?", "What goes in or on?"]
    blocks.append(Blanks(tuple((question, "") for question in ask)))
    return Section(f"{library.machine.one.capitalize()} {number}", tuple(blocks), whole=True)


def _key(library: Library, tasks: Sequence[Task], new_page: bool) -> list[Section]:
    sections = []
    for number, task in enumerate(tasks, 1):
        blocks = tuple(_key_blocks(library, task))
        if number == 1:
            blocks = (Warn("Caution", (MARKS_FIRST["local rules"],)), *blocks)
        title = f"Key: {library.machine.one} {number}"
        sections.append(Section(title, blocks, new_page=new_page and number == 1, whole=True))
    return sections


def _key_blocks(library: Library, task: Task) -> Iterator[Block]:
    machine = task.machine
    for symptom in machine.complaints:
        true = machine.causes[symptom]
        behind = task.belief.behind(symptom)
        several = f" ({library.trees[symptom].title})" if len(machine.complaints) > 1 else ""
        yield Words(f"It is: {ended(library.causes[true].title)}{several}", strong=True)
        lines = [
            Chance(library.causes[cause].title, chance, percent(chance))
            for cause, chance in task.belief.ranking(symptom)[:LIKELY]
        ]
        if true not in {cause for cause, _ in task.belief.ranking(symptom)[:LIKELY]}:
            lines.append(Chance(library.causes[true].title, behind[true], percent(behind[true])))
        yield Chances("Likely by what the sheet tells", tuple(lines))
    texts = [_next(library, task)]
    for place in task.misled:
        step = task.steps[place]
        texts.append(f"Check {place + 1} misled: {step.ask} {ended(step.says)}")
    yield Items(tuple(texts))
    for _, remedy in task.remedies:
        yield from _work(library, remedy)


def _next(library: Library, task: Task) -> str:
    if task.next is None:
        return "Next: nothing. The looks alone say it."
    symptom, check = task.next
    entry = library.trees[symptom].checks[check]
    answer = entry.answers[task.machine.answers[task.next]].says
    text = f"Next: {entry.ask} ({minutes(task.next_minutes)}, {task.next_bits:.2f} bits.) It answers: {ended(answer)}"
    if task.after is not None:
        true = task.machine.causes[symptom]
        title = library.causes[true].title
        text += f" Then {title}: {out_of_100(task.after.behind(symptom)[true])}."
    return text


def _work(library: Library, remedy: str) -> Iterator[Block]:
    entry = library.remedies[remedy]
    fluids = [library.fluids[name].title for name in fluids_of(library, remedy)]
    facts = [("Remedy", entry.title)]
    if fluids:
        facts.append(("Goes in or on", "; ".join(fluids)))
    fasteners = fasteners_of(library, remedy)[:MOST_FASTENERS]
    if not fasteners:
        facts.append(("How tight", "no torque goes with it"))
    yield Facts(tuple(facts))
    rows = []
    for name in fasteners:
        fastener = library.fasteners[name]
        torque = fastener.torque
        if torque is None:  # pragma: no cover - only those with one are named
            continue
        low, high = plain(torque.from_), plain(torque.to)
        span = low if low == high else f"{low} to {high}"
        hand = "anticlockwise" if fastener.hand is Hand.LEFT else "clockwise"
        rows.append(
            (
                fastener.title,
                fastener.thread,
                hand,
                f"{span} N·m ({beside(torque.from_, torque.to)})",
                fastener.preparation,
                fastener.basis or "",
            )
        )
    if rows:
        columns = (
            Column("Fastener", share=2.2),
            Column("Thread", share=1.3),
            Column("Tightens", share=1.3),
            Column("How tight", share=2),
            Column("On the thread", share=1.5),
            Column("Basis", share=1.5),
        )
        yield Table(columns, tuple(rows))


def _plain(task: Task, with_key: bool) -> dict[str, Plain]:
    machine = task.machine
    told: dict[str, Plain] = {
        "complaints": list(machine.complaints),
        "looks": dict(machine.looks),
        "checks": [
            {"complaint": step.symptom, "check": step.check, "answer": step.answer, "minutes": step.minutes}
            for step in task.steps
        ],
    }
    if with_key:
        told["causes"] = dict(machine.causes)
        told["next"] = None if task.next is None else {"complaint": task.next[0], "check": task.next[1]}
        told["misled"] = list(task.misled)
        told["remedies"] = dict(task.remedies)
    return told
