"""Evidence: what has been told so far about one machine, and shared facts entered wherever they stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from diagtree.library.library import Library


@dataclass(frozen=True)
class Evidence:
    """What has been told about one machine; "can't tell" is simply absent.

    Parameters
    ----------
    complaints
        The symptoms that the machine came in with.
    looks
        Quick look and its answer.
    answers
        (symptom, check) and its answer.
    found
        Cause, and True if it was seen on the machine, False if it was seen not to be there.

    Examples
    --------
    >>> told = Evidence(("no-heat",)).with_answer("no-heat", "lamp", "no")
    >>> told.answers
    {('no-heat', 'lamp'): 'no'}
    >>> told.without_answer("no-heat", "lamp") == Evidence(("no-heat",))
    True
    """

    complaints: tuple[str, ...]
    looks: Mapping[str, str] = field(default_factory=dict)
    answers: Mapping[tuple[str, str], str] = field(default_factory=dict)
    found: Mapping[str, bool] = field(default_factory=dict)

    def with_look(self, look: str, answer: str) -> Evidence:
        """Return this evidence with one quick look added or changed."""
        return replace(self, looks={**self.looks, look: answer})

    def with_answer(self, symptom: str, check: str, answer: str) -> Evidence:
        """Return this evidence with one answer added or changed."""
        return replace(self, answers={**self.answers, (symptom, check): answer})

    def with_found(self, cause: str, there: bool) -> Evidence:
        """Return this evidence with one cause seen to be there, or seen not to be."""
        return replace(self, found={**self.found, cause: there})

    def without_look(self, look: str) -> Evidence:
        """Return this evidence without one quick look."""
        return replace(self, looks={n: a for n, a in self.looks.items() if n != look})

    def without_answer(self, symptom: str, check: str) -> Evidence:
        """Return this evidence without one answer."""
        return replace(self, answers={n: a for n, a in self.answers.items() if n != (symptom, check)})

    def without_found(self, cause: str) -> Evidence:
        """Return this evidence without what was found about one cause."""
        return replace(self, found={n: a for n, a in self.found.items() if n != cause})


def spread_facts(library: Library, evidence: Evidence) -> Evidence:
    """Enter each shared fact wherever it stands: checks with the same fact are one question.

    What was told for a place itself is kept; of two different tellings elsewhere the first one counts.

    Parameters
    ----------
    library
        The library that the trees and quick looks are in.
    evidence
        What was told.

    Returns
    -------
    Evidence
        The same, and each fact's answer in every check and quick look with that fact.

    Examples
    --------
    >>> spread_facts(Library(), Evidence(()))
    Evidence(complaints=(), looks={}, answers={}, found={})
    """
    told: dict[str, str] = {}
    for (symptom, check), answer in evidence.answers.items():
        fact = library.tree(symptom).checks[check].fact
        if fact is not None:
            told.setdefault(fact, answer)
    for look, answer in evidence.looks.items():
        seen = library.looks.get(look)
        if seen is not None and seen.fact is not None:
            told.setdefault(seen.fact, answer)
    if not told:
        return evidence
    answers, looks = dict(evidence.answers), dict(evidence.looks)
    for symptom in evidence.complaints:
        for name, asked in library.tree(symptom).checks.items():
            if asked.fact in told and told[asked.fact] in asked.answers:
                answers.setdefault((symptom, name), told[asked.fact])
    for name, entry in library.looks.items():
        if entry.fact in told and told[entry.fact] in entry.answers:
            looks.setdefault(name, told[entry.fact])
    return replace(evidence, answers=answers, looks=looks)
