"""Walking a case without anybody there: the answers stand in a file, and a missing one is named."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from diagtree.case.measuring import band_of, measure
from diagtree.case.question import Question
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.library.document import Document, read_document
from diagtree.library.fault import Fault, FaultyFileError, did_you_mean
from diagtree.library.fault import Path as Way
from diagtree.library.library import Library
from diagtree.library.validation import validated
from diagtree.model.words import ChoiceName, Name, Reference, Text, Texts, Written

CANNOT_TELL = "cannot-tell"
"""What stands in the file where nobody can tell."""


class Answers(Written):
    """A file of answers: what somebody at the bench would have said."""

    complaints: tuple[Name, ...] = ()
    label: Text | None = None
    brief: Literal["roadworthy", "service", "full"] | None = None
    order: Literal["guided", "shortest"] | None = None
    looks: Mapping[Name, ChoiceName] = {}
    answers: Mapping[Name, Mapping[Name, Text]] = {}
    """For each complaint and check: an answer's name, what was measured, or ``cannot-tell``."""
    notes: Texts = ()
    found: tuple[Reference, ...] = ()
    """Causes that were seen with the machine open."""
    not_found: tuple[Reference, ...] = ()
    """Causes that were seen not to be there."""


class MissingAnswerError(ExpectedError):
    """A question that has to be asked has no answer in the file."""

    def __init__(self, question: Question) -> None:
        names = ", ".join([*(choice.name for choice in question.answers), CANNOT_TELL])
        if question.place.is_look:
            where, line = f"the quick look '{question.name}'", f"looks: {{{question.name}: ...}}"
        else:
            where = f"the check '{question.name}' of '{question.symptom}'"
            line = f"answers: {{{question.symptom}: {{{question.name}: ...}}}}"
        measured = f", or a value like '{question.reading.example}'" if question.reading else ""
        super().__init__(
            f"There is no answer for {where}: {question.ask}", f"Add it to {line} One of: {names}{measured}."
        )
        self.place = question.place


@dataclass(frozen=True, slots=True)
class Walked:
    """What became of an unattended walk.

    Parameters
    ----------
    unused
        Answers in the file that were not asked for, as ``symptom: check`` or ``looks: name``.
    """

    unused: tuple[str, ...]


def read_answers(path: Path, library: Library) -> Answers:
    """Read a file of answers strictly, and check every name in it.

    Raises
    ------
    FaultyFileError
        With all faults, each with its line and column.
    ExpectedError
        If the file cannot be read.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise ExpectedError(
            f"Cannot read the answers in {path}: {why}.", "Name a file that is there."
        ) from None
    document = read_document(raw, str(path))
    if document.data is None:
        raise FaultyFileError(document.faults)
    answers, faults = validated(Answers, document)
    if answers is not None:
        faults = [*faults, *_unknown_names(answers, document, library)]
    if answers is None or faults or document.faults:
        raise FaultyFileError(sorted([*document.faults, *faults]))
    return answers


def _unknown_names(answers: Answers, document: Document, library: Library) -> Iterator[Fault]:
    def unknown(path: Way, kind: str, name: str, known: Mapping[str, object], of_key: bool = False) -> Fault:
        return document.fault(path, f"There is no {kind} '{name}'.", did_you_mean(name, known), of_key=of_key)

    for place, symptom in enumerate(answers.complaints):
        if symptom not in library.trees:
            yield unknown(("complaints", place), "symptom", symptom, library.trees)
    for look, answer in answers.looks.items():
        if look not in library.looks:
            yield unknown(("looks", look), "quick look", look, library.looks, of_key=True)
        elif answer != CANNOT_TELL and answer not in library.looks[look].answers:
            yield unknown(("looks", look), "answer", answer, library.looks[look].answers)
    for symptom, checks in answers.answers.items():
        tree = library.trees.get(symptom)
        if tree is None:
            yield unknown(("answers", symptom), "symptom", symptom, library.trees, of_key=True)
            continue
        for name, answer in checks.items():
            path: Way = ("answers", symptom, name)
            check = tree.checks.get(name)
            if check is None:
                yield unknown(path, "check", name, tree.checks, of_key=True)
            elif answer == CANNOT_TELL or answer in check.answers:
                continue
            elif check.reading is None:
                yield unknown(path, "answer", answer, check.answers)
            else:
                try:
                    band_of(check, measure(library, check.reading, answer).value)
                except ExpectedError as error:
                    yield document.fault(path, error.wrong, error.mend)
    for key, causes in (("found", answers.found), ("not-found", answers.not_found)):
        for place, cause in enumerate(causes):
            if cause not in library.causes:
                yield unknown((key, place), "cause", cause, library.causes)


def run_unattended(walker: Walker, answers: Answers) -> Walked:
    """Answer every question of a walk from a file.

    Parameters
    ----------
    walker
        The case. Complaints that it has already stand; otherwise the file's are chosen.
    answers
        What to answer.

    Returns
    -------
    Walked
        What was left over.

    Raises
    ------
    MissingAnswerError
        If a question comes that the file has no answer for; what was answered before is kept.
    ExpectedError
        If there is no complaint at all, or a measured value is odd.
    """
    if not walker.case.complaints:
        if not answers.complaints:
            raise ExpectedError(
                "No complaint is given.", "Name one on the command line, or add complaints: [...]."
            )
        walker.choose(answers.complaints)
    if (answers.label and answers.label != walker.case.label) or answers.brief:
        walker.label(answers.label or walker.case.label, answers.brief or "")
    if answers.order and answers.order != walker.order:
        walker.set_order(answers.order)
    unused = {f"looks: {look}" for look in answers.looks}
    unused |= {f"{symptom}: {check}" for symptom, checks in answers.answers.items() for check in checks}
    while (question := walker.question) is not None:
        given = (
            answers.looks.get(question.name)
            if question.place.is_look
            else answers.answers.get(question.symptom, {}).get(question.name)
        )
        if given is None:
            raise MissingAnswerError(question)
        unused.discard(
            f"looks: {question.name}" if question.place.is_look else f"{question.symptom}: {question.name}"
        )
        _give(walker, question, given)
    for text in answers.notes:
        if all(note.text != text for note in walker.case.notes):
            walker.note(text)
    for causes, present in ((answers.found, True), (answers.not_found, False)):
        for cause in causes:
            walker.found_out(cause, present)
    return Walked(tuple(sorted(unused)))


def _give(walker: Walker, question: Question, given: str) -> None:
    if given == CANNOT_TELL:
        walker.cannot_tell()
    elif question.reading is not None and all(choice.name != given for choice in question.answers):
        entered = walker.enter_reading(given)
        if not entered.taken:
            raise ExpectedError(
                f"{question.symptom}: {question.name}: {entered.measured.odd}",
                f"If it is, write the answer's name instead: {entered.answer}.",
            )
    else:
        walker.answer(given)
