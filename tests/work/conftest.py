"""Small machines for the work room's tests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import pytest

from diagtree.library.library import Library, join
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts


@dataclass
class Thought:
    """A belief that a test sets by hand: only what the work room asks of one."""

    behinds: Mapping[str, Mapping[str, float]]
    present: dict[str, float]
    behind_any: dict[str, float] = field(default_factory=dict)

    def behind(self, symptom):
        return self.behinds[symptom]


@pytest.fixture
def thought():
    """Make a belief by hand: chances behind each complaint, and chances of being there besides."""

    def make(library: Library, behinds, besides=()):
        behind_any = {}
        for chances in behinds.values():
            for cause, chance in chances.items():
                behind_any[cause] = 1 - (1 - behind_any.get(cause, 0.0)) * (1 - chance)
        present = dict.fromkeys(library.causes, 0.0) | behind_any | dict(besides)
        return Thought(behinds, present, behind_any)

    return make


@pytest.fixture
def believed():
    """Believe what was told, by the real reasoning."""

    def make(library: Library, complaints, looks=(), answers=(), found=()):
        evidence = Evidence(tuple(complaints), dict(looks), dict(answers), dict(found))
        evidence = spread_facts(library, evidence)
        return BeliefModel.of(library, evidence.complaints).given(evidence), evidence

    return make


def family(**kinds) -> Family:
    """A family from the author's words with the dull fields filled in."""
    kinds.setdefault("family", "mill")
    for kind, fill in (
        ("parts", {}),
        ("causes", {"out-of-100": "10", "risk": "nuisance", "why": "It wears."}),
        ("remedies", {"verdict": "service", "holds": "90"}),
        ("jobs", {"minutes": ["10", "10", "10"]}),
    ):
        kinds[kind] = {
            name: {"title": name.replace("-", " ").capitalize(), **fill, **(entry or {})}
            for name, entry in kinds.get(kind, {}).items()
        }
    return Family.model_validate({"title": "Mill", **kinds})


def tree(symptom: str, counts: Mapping[str, str], home: str = "mill") -> Tree:
    """A tree with one check that says nothing."""
    return Tree.model_validate(
        {
            "symptom": symptom, "title": symptom, "family": home, "first": "look",
            "checks": {"look": {"ask": "What is it?", "minutes": "1", "answers": {
                "this": {"says": "This", "found": counts},
                "that": {"says": "That", "found": counts, "healthy": "true"}}}},
        }
    )  # fmt: skip


@pytest.fixture(scope="session")
def mill():
    """Make a library of one family and trees with one complaint each."""

    def make(trees: Mapping[str, Mapping[str, str]] | None = None, **kinds) -> Library:
        return join([family(**kinds)], trees=[tree(name, counts) for name, counts in (trees or {}).items()])

    return make
