"""Texts that explain: why this question, why this cause, what next, how to do it, what the keys do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagtree.case.change import out_of_100
from diagtree.case.places import Place
from diagtree.case.question import Question
from diagtree.case.walker import Walker
from diagtree.reasoning.rows import entropy
from diagtree.screens import words
from diagtree.screens.bench.reading_pages import Paragraph

if TYPE_CHECKING:
    from diagtree.reasoning.asking import Costs

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


def keys(machine: str, keeps: bool) -> list[Paragraph]:
    """Say what the keys do; in a trial nothing is said to be saved."""
    saved = "everything is saved" if keeps else "nothing is kept"
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
        ("l", f"change what the {machine} is called"),
        ("k", "add a complaint, or drop one; its answers are kept"),
        ("i", "the question in full: how to do it, cautions"),
        ("w", "why this question"),
        ("y", "why a cause is thought likely"),
        ("x", "what could be asked next, the most telling first"),
        ("p", "the picture of the machine, and which answers made it"),
        ("s", "ask nothing more about this complaint"),
        ("d", "go to the answer that does not fit the others, if one is named"),
        ("a", "ask on: the advice to stop asking is not given again"),
        ("o", "the order of the questions: guided or shortest"),
        ("f", "end the questions and see the work"),
        ("q q", f"leave; {saved}"),
        ("Ctrl-C", f"leave at once; {saved}"),
    )
    first = "Every answer is saved when it is given. Nothing is lost by leaving."
    text = [Paragraph(first if keeps else "This is a trial: nothing is kept.", "how"), LINE]
    text += [Paragraph(does, "", f"{key:10}") for key, does in rows]
    text += [LINE, Paragraph("At the end", "heading")]
    text += [
        Paragraph(does, "", f"{key:10}")
        for key, does in (
            ("Enter", "tick a job off, enter a torque, choose another remedy, write a paper"),
            ("m", f"enter what was found with the {machine} open"),
            ("g", "what the customer agreed to"),
            ("s", "how much is to be done: roadworthy, service or full"),
            ("w", "what else the customer wants"),
            ("k", "add a complaint, or drop one"),
            ("a", "ask on"),
            ("h", "hand over"),
        )
    ]
    text += [
        LINE,
        Paragraph("What the signs mean", "heading"),
        Paragraph("> is the row that the cursor is on, (*) the answer that was given before."),
        Paragraph("The percentages say how likely each cause is with what was answered so far."),
        Paragraph(f"The picture says how the {machine} seems to have lived."),
        Paragraph("Keys within a moment of a new question are let go by: a bounce answers nothing."),
    ]
    return text


def why_question(walker: Walker, question: Question, costs: Costs | None = None) -> list[Paragraph]:
    """Say what a question would settle, and how it could change the plan."""
    text = [Paragraph(question.ask, "question")]
    for said in words.why_question(walker, question, costs):
        text += [LINE, Paragraph(said)]
    return text


def picture(walker: Walker) -> list[Paragraph]:
    """Say how the machine seems to have lived, and which answers say so."""
    said = words.picture(walker)
    text = [Paragraph(each) for one in said for each in (one, "")]
    return text or [Paragraph("Nothing is known yet.", "quiet")]


def why_cause(walker: Walker, cause: str) -> list[Paragraph]:
    """Say what speaks for and against a cause, the strongest first."""
    first, *rest = words.why_cause(walker, cause)
    text = [Paragraph(first, "question")]
    for said in rest:
        text += [LINE, Paragraph(said)]
    return text


@dataclass(frozen=True, slots=True)
class NextCheck:
    """A check that could be done next: where it stands, and what is said about it."""

    place: Place
    ask: str
    says: str


def next_checks(walker: Walker, most: int = 6) -> list[NextCheck]:
    """List what could be asked next over all complaints, the most telling a minute first."""
    view = walker.view
    belief = view.belief_if_any
    if belief is None:
        return []
    found: dict[object, NextCheck] = {}
    for worth in view.gains:
        tree = view.library.trees[worth.symptom]
        check = tree.checks[worth.check]
        place = Place.check(worth.symptom, worth.check)
        # What the same fact answers in several trees is one question: it stands where it tells most.
        question = check.fact or place
        if question in found:
            continue
        unsure = entropy(belief.behind(worth.symptom).values())
        share = out_of_100(min(worth.bits / unsure, 1.0)) if unsure > 0 else out_of_100(0.0)
        says = f"Settles {share} of what is open, in {words.minutes_in_words(round(worth.minutes, 1))}."
        if len(view.complaints) > 1:
            says = f"{words.sentence(tree.title)} {says}"
        if worth.opening:
            jobs = [view.library.jobs[job].title for job in worth.opening if job in view.library.jobs]
            says += f" First: {'; '.join(jobs)}."
        found[question] = NextCheck(place, check.ask, says)
        if len(found) == most:
            break
    return list(found.values())
