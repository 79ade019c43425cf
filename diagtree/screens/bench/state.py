"""What the question screen shows, as plain values: made by the bench, laid out by `compose`."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """An answer that can be chosen.

    Parameters
    ----------
    key
        The key that gives it: ``1``; empty if only the arrows reach it.
    says
        What it says.
    given
        True for the answer that was given before.
    """

    key: str
    says: str
    given: bool = False


@dataclass(frozen=True, slots=True)
class Ranked:
    """A cause with its chance, 0 to 1, and how it moved with the last answer: 1 up, -1 down, 0 not."""

    title: str
    chance: float
    moved: int = 0


@dataclass(frozen=True, slots=True)
class Trait:
    """One side of how the machine has lived: its likeliest state in words, and the chance of it, 0 to 1."""

    says: str
    chance: float


@dataclass(frozen=True, slots=True)
class Step:
    """A question that was answered."""

    number: int
    ask: str
    says: str


@dataclass(frozen=True, slots=True)
class Hint:
    """A key and what it does."""

    key: str
    does: str


@dataclass(frozen=True, slots=True)
class BenchState:
    """All that stands on the question screen.

    Parameters
    ----------
    machine
        The noun of the workshop: ``kettle``; the picture is headed with it.
    label
        Which one it is: ``the green one, Mrs Hill``.
    complaint
        The title of the complaint that the question belongs to.
    done
        How far the walk is: ``3 answered``.
    question, how, caution
        The question, how to do it, what to take care of.
    aside
        Minutes and trust: ``About 2 minutes. The answer often misleads.``
    answers
        All the answers, whatever room there is.
    selected
        The row of ``answers`` that the cursor is on.
    searching
        What was typed after ``/``; None when the answers are not being filtered.
    ranking
        Causes, likeliest first.
    picture
        How the machine has lived.
    way
        The steps so far, first one first.
    hints
        Keys, the most useful first.
    message
        Something to say now; it takes the place of the keys.
    advice
        What is advised: stop asking, look at an answer again. Said under the answers where there is room.
    change
        What the last answer changed; said where there is room for it beside the keys.
    """

    machine: str = "machine"
    label: str = ""
    complaint: str = ""
    done: str = ""
    question: str = ""
    how: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    aside: str = ""
    answers: tuple[AnswerRow, ...] = ()
    selected: int = 0
    searching: str | None = None
    ranking: tuple[Ranked, ...] = ()
    picture: tuple[Trait, ...] = ()
    way: tuple[Step, ...] = ()
    hints: tuple[Hint, ...] = ()
    message: str = ""
    advice: tuple[str, ...] = ()
    change: str = ""
