"""What a screen needs to put one question, and to show one step of the way."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from diagtree.case.case import Given
from diagtree.case.places import Place
from diagtree.library.library import Library


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer that can be given."""

    name: str
    says: str
    caution: tuple[str, ...] = ()
    note: str | None = None
    stop: str | None = None
    """Set if the answer means: stop work and refer."""


@dataclass(frozen=True, slots=True)
class ReadingHint:
    """What is to be measured."""

    name: str
    title: str
    unit: str
    example: str


@dataclass(frozen=True, slots=True)
class Question:
    """A question as it is put.

    Parameters
    ----------
    place
        Where it stands.
    title
        The complaint that it belongs to, or what the quick looks are about.
    ask, how, caution
        The question, how to find out, and what to beware of.
    answers
        What can be answered; "can't tell" is always offered besides.
    minutes
        How long it takes, opening work left out.
    opening
        What must be done first to get at it: titles of jobs.
    reading
        Set if a number is to be measured; one of the answers can be chosen all the same.
    previous
        The answer that was given before, or None.
    could_not_tell
        True if nobody could tell before.
    previous_text
        For a reading: what was entered before, or an empty text.
    why_now
        One sentence: why this question comes now, or an empty text.
    """

    place: Place
    title: str
    ask: str
    how: tuple[str, ...]
    answers: tuple[Choice, ...]
    minutes: Decimal
    caution: tuple[str, ...] = ()
    reading: ReadingHint | None = None
    previous: str | None = None
    could_not_tell: bool = False
    previous_text: str = ""
    why_now: str = ""
    opening: tuple[str, ...] = ()

    @property
    def kind(self) -> str:
        """``look`` or ``check``."""
        return self.place.kind

    @property
    def symptom(self) -> str:
        """The complaint, or an empty text for a quick look."""
        return self.place.symptom

    @property
    def name(self) -> str:
        """The name of the look or the check."""
        return self.place.name


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way: what was asked and what was answered."""

    place: Place
    title: str
    """The complaint, or what the quick looks are about."""
    asked: str
    says: str
    """The answer in words; for a reading what was measured as well; ``Can't tell``."""
    answer: str | None
    """The answer's name; None where nobody could tell."""
    when: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Skipped:
    """A question that was not asked, and why."""

    place: Place
    title: str
    asked: str
    reason: str


CANNOT_TELL = "Can't tell"


def looks_title(library: Library) -> str:
    """Say what the quick looks are about."""
    return f"How the {library.machine.one} was kept and used"


def title_of(library: Library, place: Place) -> str:
    """Say what a question belongs to."""
    if place.is_look:
        return looks_title(library)
    tree = library.trees.get(place.symptom)
    return tree.title if tree else place.symptom


def question_at(library: Library, place: Place, given: Given | None, why_now: str = "") -> Question:
    """Make the question that stands at a place, with the old answer preselected if there is one.

    Raises
    ------
    KeyError
        If the library has no such question.
    """
    previous = given.answer if given else None
    could_not = given is not None and given.answer is None
    text = given.text if given else ""
    title = title_of(library, place)
    if place.is_look:
        look = library.looks[place.name]
        return Question(
            place,
            title,
            look.ask,
            look.how,
            tuple(Choice(name, answer.says) for name, answer in look.answers.items()),
            look.minutes,
            previous=previous if previous in look.answers else None,
            could_not_tell=could_not,
            why_now=why_now,
        )
    check = library.trees[place.symptom].checks[place.name]
    return Question(
        place,
        title,
        check.ask,
        check.how,
        tuple(
            Choice(name, answer.says, answer.caution, answer.note, answer.stop)
            for name, answer in check.answers.items()
        ),
        check.minutes,
        caution=check.caution,
        reading=reading_hint(library, check.reading) if check.reading else None,
        previous=previous if previous in check.answers else None,
        could_not_tell=could_not,
        previous_text=text,
        why_now=why_now,
        opening=tuple(library.jobs[job].title for job in check.behind if job in library.jobs),
    )


def reading_hint(library: Library, name: str) -> ReadingHint:
    """Say what a reading measures; a reading that nobody offers is named by its name."""
    reading = library.readings.get(name) or library.plain_readings.get(name)
    if reading is None:
        return ReadingHint(name, name.partition("/")[2].replace("-", " "), "", "")
    return ReadingHint(name, reading.title, reading.unit, reading.example)


def step_of(library: Library, given: Given, notes: tuple[str, ...] = ()) -> Step:
    """Make the step of the way that an answer was."""
    if given.answer is None:
        says = CANNOT_TELL
    elif given.measured:
        says = f"{given.says} ({given.measured})"
    else:
        says = given.says
    return Step(
        given.place, title_of(library, given.place), given.asked, says, given.answer, given.when, notes
    )
