"""What a paper needs to know of a case: who brought what, what was asked, answered, done and signed."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from decimal import Decimal


class Told(enum.Enum):
    """How a question ended."""

    ANSWERED = "answered"
    CANNOT_TELL = "can't tell"
    SKIPPED = "not asked"


@dataclass(frozen=True, slots=True)
class Asked:
    """A question, in the words in which it was put, and how it ended.

    Parameters
    ----------
    about
        The title of the complaint, or empty for a quick look.
    ask
        The question.
    says
        The answer in words, with the reading if one was taken; why it was not asked.
    told
        How it ended.
    """

    about: str
    ask: str
    says: str
    told: Told = Told.ANSWERED


@dataclass(frozen=True, slots=True)
class Found:
    """Something that was seen, or ruled out, with the machine open."""

    cause: str
    present: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class Tightened:
    """The torque as it was done, N·m, and a note; no value where no torque rules: it was ticked off."""

    value: Decimal | None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Agreed:
    """What the customer agreed to."""

    price: Decimal
    ceiling: Decimal | None = None
    when: str = ""
    note: str = ""

    @property
    def limit(self) -> Decimal:
        """The amount above which to stop and ask: the ceiling, or else the price itself."""
        return self.price if self.ceiling is None else self.ceiling


@dataclass(frozen=True, slots=True)
class HandedOver:
    """Who handed the machine over, when, and what it turned out to be for each complaint."""

    by: str
    when: str
    confirmed: tuple[tuple[str, str], ...] = ()
    """(symptom, cause's full name)."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class CaseFacts:
    """A case, as far as its papers tell it.

    Parameters
    ----------
    complaints
        The symptoms.
    label
        What the machine is known by in the workshop.
    opened, updated
        Points in time, ISO 8601; ``updated`` is the date on the paper.
    asked
        Questions in the order in which they were put.
    moved
        (condition, what was asked and answered that moved it, in words), most first.
    notes
        What the mechanic noted.
    wishes
        The customer's extra wishes.
    found
        Findings made with the machine open.
    overruled
        (part's full name, what the mechanic said when choosing another remedy).
    jobs_done
        (job's full name, when it was ticked off).
    torques
        (fastener's full name, the torque as done).
    agreed, handed_over
        None until it happened.
    trees
        (symptom, identity of the tree that was walked).
    finished
        True if the questions came to their end.
    """

    complaints: tuple[str, ...]
    label: str = ""
    opened: str = ""
    updated: str = ""
    asked: tuple[Asked, ...] = ()
    moved: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    wishes: tuple[str, ...] = ()
    found: tuple[Found, ...] = ()
    overruled: tuple[tuple[str, str], ...] = ()
    jobs_done: tuple[tuple[str, str], ...] = ()
    torques: tuple[tuple[str, Tightened], ...] = ()
    agreed: Agreed | None = None
    handed_over: HandedOver | None = None
    trees: tuple[tuple[str, str], ...] = ()
    finished: bool = True
