"""Texts that explain: why this question, why this cause, what next, how to do it, what the keys do."""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.case.change import out_of_100
from diagtree.case.question import Question
from diagtree.case.walker import Walker
from diagtree.model.workshop import Workshop
from diagtree.screens.bench.reading_pages import Paragraph

LINE = Paragraph("")


def instructions(walker: Walker, question: Question) -> list[Paragraph]:
    """Show the question with all its how-to, cautions and answers."""
    text = [Paragraph(question.title, "complaint"), LINE, Paragraph(question.ask, "question"), LINE]
    text += [Paragraph(f"! {caution}", "caution") for caution in question.caution]
    text += [Paragraph(how, "how") for how in question.how]
    if not question.how:
        text.append(Paragraph("Nothing more is said about how to do it.", "quiet"))
    text += [LINE, Paragraph("The answers", "heading")]
    for number, choice in enumerate(question.answers, 1):
        text.append(Paragraph(choice.says, "", f"{number}  "))
        text += [Paragraph(f"! {caution}", "caution") for caution in choice.caution]
    if not question.place.is_look:
        check = walker.library.trees[question.symptom].checks[question.name]
        if check.behind:
            jobs = [walker.library.jobs[job].title for job in check.behind if job in walker.library.jobs]
            text += [LINE, Paragraph("To be done first: " + "; ".join(jobs) + ".")]
        if check.basis:
            text += [LINE, Paragraph(f"Basis: {check.basis}.", "quiet")]
    return text


def likely_causes(walker: Walker, most: int = 12) -> list[tuple[str, str, str]]:
    """List the likeliest causes of all complaints: name, title and chance in words."""
    causes = walker.library.causes
    return [
        (cause, causes[cause].title, out_of_100(chance)) for cause, chance in walker.view.ranking()[:most]
    ]


def keys(machine: str) -> list[Paragraph]:
    """Say what the keys do."""
    rows: Sequence[tuple[str, str]] = (
        ("1 to 9", "give that answer"),
        ("0 or c", "can't tell: nothing is concluded from it"),
        ("up, down", "move between the answers; Home and End go to the first and the last"),
        ("Enter", "give the answer under the cursor"),
        ("r", "enter what you measured, where a number is asked for"),
        ("/", "find an answer by typing a part of it; Esc shows all again"),
        ("b", "back one question, as often as you like; the old answer is kept until you change it"),
        ("right", "after going back: leave the answer as it was and go on"),
        ("j", "jump to any earlier question"),
        ("n", "make a note"),
        ("i", "the question in full: how to do it, cautions"),
        ("w", "why this question"),
        ("y", "why a cause is thought likely"),
        ("x", "what to do next, and what it costs"),
        ("o", "the order of the questions: guided or shortest"),
        ("f", "end the questions and see the work"),
        ("q q", "leave; everything is saved"),
        ("Ctrl-C", "leave at once; everything is saved"),
    )
    text = [Paragraph("Every answer is saved when it is given. Nothing is lost by leaving.", "how"), LINE]
    text += [Paragraph(does, "", f"{key:10}") for key, does in rows]
    text += [
        LINE,
        Paragraph("What the signs mean", "heading"),
        Paragraph("> is the row that the cursor is on, (*) the answer that was given before."),
        Paragraph("The percentages say how likely each cause is with what was answered so far."),
        Paragraph(f"The picture says how the {machine} seems to have lived."),
        Paragraph("Keys within a moment of a new question are let go by: a bounce answers nothing."),
    ]
    return text


def why_question(walker: Walker, question: Question) -> list[Paragraph]:
    """Say what a question would settle: how likely each answer is and what would then come first."""
    text = [Paragraph(question.ask, "question"), LINE]
    if question.why_now:
        text += [Paragraph(question.why_now), LINE]
    library = walker.library
    if question.place.is_look:
        look = library.looks[question.name]
        condition = library.conditions[look.speaks_of]
        text.append(Paragraph(f"The answer speaks of one side of how the {library.machine.one} has lived:"))
        for state in condition.states.values():
            text.append(Paragraph(f"{condition.title}: {state.says}."))
        return text
    belief, evidence = walker.belief, walker.evidence
    before = belief.ranking(question.symptom)
    if before:
        title = library.causes[before[0][0]].title
        text += [Paragraph(f"First now: {title}, {out_of_100(before[0][1])}."), LINE]
    predicted = belief.predict(question.symptom, question.name)
    for choice in question.answers:
        then = walker.view.model.given(evidence.with_answer(question.symptom, question.name, choice.name))
        cause, chance = then.ranking(question.symptom)[0]
        text.append(Paragraph(choice.says, "step"))
        text.append(Paragraph(f"Likely {out_of_100(predicted[choice.name])}.", "quiet", "    "))
        then_first = f"Then first: {library.causes[cause].title}, {out_of_100(chance)}."
        text.append(Paragraph(then_first, "quiet", "    "))
    return text


def why_cause(walker: Walker, cause: str) -> list[Paragraph]:
    """Say what speaks for and against a cause, answer by answer, the strongest first."""
    library = walker.library
    entry = library.causes[cause]
    now = walker.belief.behind_any.get(cause, 0.0)
    text = [Paragraph(f"{entry.title}: {out_of_100(now)}.", "question"), Paragraph(entry.why)]
    if entry.tell:
        text.append(Paragraph(f"Tell-tale sign: {entry.tell}"))
    evidence = walker.evidence
    moves: list[tuple[float, str, str]] = []
    for step in walker.way:
        if step.answer is None:
            continue
        place = step.place
        if place.is_look:
            less = evidence.without_look(place.name)
        else:
            less = evidence.without_answer(place.symptom, place.name)
        without = walker.view.model.given(less).behind_any.get(cause, 0.0)
        moves.append((now - without, f"{step.asked} {step.says}", out_of_100(without)))
    for head, wanted in (("For it", 1), ("Against it", -1)):
        rows = [move for move in moves if move[0] * wanted > 0.002]
        if rows:
            text += [LINE, Paragraph(head, "heading")]
        for _, said, other in sorted(rows, key=lambda move: -abs(move[0])):
            text += [Paragraph(said, "step"), Paragraph(f"Without this answer: {other}.", "quiet", "    ")]
    if not any(abs(move[0]) > 0.002 for move in moves):
        text += [LINE, Paragraph("No answer so far speaks much for it or against it.", "quiet")]
    return text


def what_next(walker: Walker, workshop: Workshop) -> list[Paragraph]:  # noqa: ARG001 - until costs are asked for
    """Say what is likeliest now and which question comes next."""
    text: list[Paragraph] = []
    for _, title, chance in likely_causes(walker, 3):
        text.append(Paragraph(f"{title}, {chance}."))
    return text
