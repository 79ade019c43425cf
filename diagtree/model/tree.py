"""A symptom tree: the checks that lead from one complaint to its causes."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from typing import Annotated

from pydantic import Field, model_validator

from diagtree.model.words import (
    ChoiceName,
    Minutes,
    Name,
    Number,
    OutOf100,
    Reference,
    References,
    Text,
    Texts,
    Written,
)


class Trust(enum.Enum):
    """How often an answer misleads."""

    SURE = "sure"
    FAIR = "fair"
    ROUGH = "rough"

    @property
    def misleads(self) -> float:
        """The chance that the answer misleads: 0.02, 0.07 or 0.15.

        Examples
        --------
        >>> Trust("fair").misleads
        0.07
        """
        return _MISLEADS[self._value_]


_MISLEADS = {"sure": 0.02, "fair": 0.07, "rough": 0.15}


class Answer(Written):
    """One answer to a check, and where it leads: to the next check, or to a finding."""

    says: Text
    """What the answer says, as a person at the bench would put it."""
    next: Name | None = None
    """The check that follows."""
    found: Mapping[Reference, OutOf100] | None = None
    """A finding: each cause with its count out of 100 machines with this complaint."""
    stop: Text | None = None
    """Stop work and refer: what to do instead. Goes with ``found``."""
    healthy: bool = False
    """True for the answer that a sound part gives."""
    from_: Number | None = None
    """For a reading: the least value that this answer covers."""
    below: Number | None = None
    """For a reading: the value that this answer stays under."""
    caution: Texts = ()
    note: Text | None = None
    """What the answer means: shown once it is chosen."""
    without: References = ()
    """Parts that a machine with this answer does not have: nothing on paper speaks of them."""

    @model_validator(mode="after")
    def _leads_somewhere(self) -> Answer:
        if (self.next is None) == (self.found is None):
            raise ValueError("an answer needs either 'next:' (a check) or 'found:' (causes with counts)")
        if self.found is not None and not self.found:
            raise ValueError("'found:' names no cause; write at least one with its count out of 100")
        if self.stop is not None and self.found is None:
            raise ValueError("'stop:' goes with 'found:'; say what was found, then what to stop for")
        if self.from_ is not None and self.below is not None and self.from_ >= self.below:
            raise ValueError("'from:' must be less than 'below:'")
        return self


class Check(Written):
    """One thing to look at, feel, listen to or measure."""

    ask: Text
    """The question, ending with a question mark."""
    how: Texts = ()
    """How to do the check alone: one instruction a sentence."""
    minutes: Minutes
    trust: Trust = Trust.FAIR
    answers: Annotated[Mapping[ChoiceName, Answer], Field(min_length=2)]
    reading: Reference | None = None
    """A reading that a family or a plugin offers; the answers then cover bands of its value."""
    anytime: bool = False
    """True if the check makes sense whatever was answered before."""
    behind: References = ()
    """Opening jobs that must be done to get at it; paid once for all the checks behind them."""
    fact: Name | None = None
    """Checks in several trees, and quick looks, with the same fact are one question: asked once."""
    shows: Mapping[Reference, ChoiceName | Mapping[ChoiceName, OutOf100]] = {}
    """What the check shows for a cause outright: an answer, or answers out of 100."""
    cannot_tell: Name | None = None
    """The check to go on with when nobody can tell."""
    caution: Texts = ()
    basis: Text | None = None

    @model_validator(mode="after")
    def _bands_go_with_a_reading(self) -> Check:
        banded = [a for a in self.answers.values() if a.from_ is not None or a.below is not None]
        if banded and self.reading is None:
            raise ValueError("'from:' and 'below:' are for a check with 'reading:'")
        if self.reading is not None and len(banded) != len(self.answers):
            raise ValueError("each answer to a reading needs 'from:', 'below:' or both")
        return self

    @property
    def healthy(self) -> tuple[str, ...]:
        """The names of the answers that a sound part gives."""
        return tuple(name for name, answer in self.answers.items() if answer.healthy)

    @property
    def misleads(self) -> float:
        """The chance that the answer misleads."""
        return self.trust.misleads


class CaseKind(enum.Enum):
    """What a worked case is there to show."""

    COMMON = "common"
    RARE = "rare"
    MISLEADING = "misleading"


class WorkedCase(Written):
    """An example with its right finding: run as a test."""

    title: Text | None = None
    kind: CaseKind = CaseKind.COMMON
    looks: Mapping[Name, ChoiceName] = {}
    answers: Annotated[Mapping[Name, ChoiceName], Field(min_length=1)]
    expect: Reference
    """The cause that must come first."""
    note: Text | None = None


class Tree(Written):
    """A symptom tree: one complaint, its checks and their findings."""

    symptom: Name
    title: Text
    family: Name
    """A bare name of a cause or a job means this family's."""
    version: Text = "1"
    also_called: Texts = ()
    caution: Texts = ()
    first: Name
    """The check to begin with."""
    checks: Annotated[Mapping[Name, Check], Field(min_length=1)]
    cases: tuple[WorkedCase, ...] = ()
    basis: Text = "invented"
    """Where the counts and minutes come from, unless a check says otherwise."""
