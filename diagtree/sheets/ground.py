"""What a paper is made from: the case, what is believed, the work, and the library in which titles are looked up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

from diagtree.clean import clean
from diagtree.library.library import Library
from diagtree.model.workshop import Brief, Workshop
from diagtree.sheets.blocks import Facts
from diagtree.sheets.facts import CaseFacts
from diagtree.sheets.figures import Sources, first_up, moment
from diagtree.work.result import Work

BRIEFS = {
    Brief.ROADWORTHY: "only what makes it fit to use",
    Brief.SERVICE: "the complaint and a service",
    Brief.FULL: "everything",
}


class Judged(Protocol):
    """What a paper asks of the belief; `diagtree.reasoning.belief.Belief` is one."""

    @property
    def picture(self) -> Mapping[str, Mapping[str, float]]:
        """For each condition the chance of each of its states."""

    @property
    def present(self) -> Mapping[str, float]:
        """For each cause the chance that it is on the machine."""

    def behind(self, symptom: str) -> Mapping[str, float]:
        """For each cause the chance that it is the one behind the complaint."""


@dataclass(frozen=True)
class Ground:
    """All that a paper is made from; texts of the case and of the work are clean already."""

    library: Library
    facts: CaseFacts
    belief: Judged
    work: Work
    workshop: Workshop
    sources: Sources = field(default_factory=Sources)

    @property
    def machine(self) -> str:
        """What the workshop calls one machine."""
        return clean(self.library.machine.one)

    @property
    def currency(self) -> str:
        """The workshop's currency."""
        return self.work.estimate.currency

    @property
    def subtitle(self) -> str:
        """The machine's label and its first complaint: short, for it stands at the head of each page."""
        first, *others = [self.complaint(symptom) for symptom in self.facts.complaints] or [""]
        more = f" (and {len(others)} more)" if others else ""
        return " · ".join(part for part in (self.facts.label, first + more) if part)

    def complaint(self, symptom: str) -> str:
        """The title of a complaint."""
        return clean(self.library.tree(symptom).title)

    def cause(self, name: str) -> str:
        """The title of a cause."""
        return clean(self.library.causes[name].title) if name in self.library.causes else clean(name)

    @cached_property
    def head(self) -> Facts:
        """Label, complaints, dates, workshop."""
        pairs = [
            (first_up(self.machine), self.facts.label or "no label"),
            ("Complaint", "\n".join(self.complaint(symptom) for symptom in self.facts.complaints)),
            ("Brought in", moment(self.facts.opened)),
            ("As of", moment(self.facts.updated)),
            ("Wanted", BRIEFS[self.work.brief]),
            ("Wishes", "; ".join(self.facts.wishes)),
            ("Workshop", clean(self.workshop.title)),
        ]
        return Facts(tuple((word, text) for word, text in pairs if text))

    @cached_property
    def trees(self) -> str:
        """Version and identity of each tree that was walked."""
        parts = [
            f"{symptom} version {clean(self.library.tree(symptom).version)} ({self.library.identity(symptom)}"
            + (f", walked as {self.changed[symptom]})" if symptom in self.changed else ")")
            for symptom in self.facts.complaints
        ]
        return f"Tree{'s' if len(parts) > 1 else ''}: {', '.join(parts)}"

    @cached_property
    def changed(self) -> Mapping[str, str]:
        """Complaints whose tree is not the one that was walked, with the identity of that one."""
        return {
            symptom: walked
            for symptom, walked in self.facts.trees
            if symptom in self.facts.complaints and walked != self.library.identity(symptom)
        }
