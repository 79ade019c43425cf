"""Conditions: how a machine has lived; and the quick looks that speak of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field, model_validator

from diagtree.model.words import (
    ChoiceName,
    Minutes,
    Name,
    OutOf100,
    Reference,
    References,
    Text,
    Texts,
    Written,
)


class State(Written):
    """One state of a condition."""

    says: Text
    out_of_100: OutOf100
    """How many of 100 machines that come in are in this state."""


class Condition(Written):
    """One side of how the machine has lived: a small independent factor."""

    title: Text
    states: Annotated[Mapping[ChoiceName, State], Field(min_length=2)]
    basis: Text | None = None

    @model_validator(mode="after")
    def _column_is_whole(self) -> Condition:
        total = sum(state.out_of_100 for state in self.states.values())
        if total != 100:
            raise ValueError(f"the states add up to {total}, not to 100")
        return self


class LookAnswer(Written):
    """One answer to a quick look."""

    says: Text
    shows: Mapping[ChoiceName, OutOf100]
    """For each state of the condition: in how many of 100 machines in that state this is seen."""
    without: References = ()
    """Parts that a machine with this answer does not have, by full name."""


class Look(Written):
    """A quick look, or a question to the customer, that speaks of one condition."""

    ask: Text
    how: Texts = ()
    minutes: Minutes
    speaks_of: Name
    """The condition."""
    answers: Annotated[Mapping[ChoiceName, LookAnswer], Field(min_length=2)]
    fact: Name | None = None
    """The same fact as a check in a tree: asked once."""
    basis: Text | None = None


class Noun(Written):
    """What the workshop calls one machine and several."""

    one: Text
    many: Text


class FinalCheck(Written):
    """Something that is checked on every machine before it is handed over."""

    title: Text
    how: Texts = ()
    minutes: Minutes
    fasteners: tuple[Reference, ...] = ()
    caution: Texts = ()


class Conditions(Written):
    """The conditions of one kind of machine, its quick looks and its final checks."""

    machine: Noun | None = None
    basis: Text = "invented"
    conditions: Mapping[Name, Condition] = {}
    looks: Mapping[Name, Look] = {}
    final_checks: Mapping[Name, FinalCheck] = {}
    cautions: Texts = ()
    """The usual cautions for work on this kind of machine: printed on every sheet."""
    glossary: Mapping[Text, Text] = {}
    """Terms of the trade and what they mean."""
