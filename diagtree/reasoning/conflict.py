"""Answers that do not fit together: the conflict measure, the suspect answer, and rare causes that explain it.

References
----------
Jensen, Chamberlain, Nordahl, Jensen, "Analysis in HUGIN of data conflict", 1990, arXiv 1304.1146:
conf(e) = log2(product of P(e_i) / P(e)); a cause h explains it if conf(e) + log2(P(h) / P(h | e)) < 0.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from diagtree.library.library import Library
from diagtree.reasoning.belief import Belief, ImpossibleEvidenceError
from diagtree.reasoning.evidence import Evidence

THRESHOLD = 1.0
"""Bits of conflict above which the answers are said not to fit: twice as unlikely together as apart."""


@dataclass(frozen=True, slots=True)
class Told:
    """One thing that was told: a quick look, or the answer to a check.

    Parameters
    ----------
    symptom
        The complaint whose tree the check is in; empty for a quick look.
    name
        The check or the quick look.
    answer
        What was answered.
    """

    symptom: str
    name: str
    answer: str


@dataclass(frozen=True, slots=True)
class Conflict:
    """How well the answers fit together.

    Parameters
    ----------
    bits
        The conflict measure; positive if the answers pull apart.
    explained_by
        A cause, likely now, that makes the answers fit after all; or None.
    suspect
        The answer that the others speak against most, or None where nothing is suspect.
    suspect_bits
        How much less likely it is given the others than by itself, in bits.
    reason
        A sentence for the bench; empty where nothing is suspect.
    """

    bits: float
    explained_by: str | None = None
    suspect: Told | None = None
    suspect_bits: float = 0.0
    reason: str = ""


def told_in(belief: Belief) -> Mapping[Told, Evidence]:
    """Return everything that was told, one by one; a fact that stands in several places is one telling."""
    library, evidence = belief.model.library, belief.evidence
    singles: dict[Told, Evidence] = {}
    facts: dict[str, Told] = {}
    for look, answer in evidence.looks.items():
        told = Told("", look, answer)
        fact = library.looks[look].fact
        if fact is not None:
            told = facts.setdefault(fact, told)
        singles[told] = singles.get(told, Evidence(evidence.complaints)).with_look(look, answer)
    for (symptom, check), answer in evidence.answers.items():
        told = Told(symptom, check, answer)
        fact = library.trees[symptom].checks[check].fact
        if fact is not None:
            told = facts.setdefault(fact, told)
        singles[told] = singles.get(told, Evidence(evidence.complaints)).with_answer(symptom, check, answer)
    return singles


def asked_and_said(library: Library, told: Told) -> tuple[str, str]:
    """Return the question and the answer, both in the author's words."""
    if told.symptom:
        check = library.trees[told.symptom].checks[told.name]
        return check.ask, check.answers[told.answer].says
    look = library.looks[told.name]
    return look.ask, look.answers[told.answer].says


def without(evidence: Evidence, single: Evidence) -> Evidence:
    """Return evidence without what was told in one telling."""
    for look in single.looks:
        evidence = evidence.without_look(look)
    for symptom, check in single.answers:
        evidence = evidence.without_answer(symptom, check)
    return evidence


def conflict(belief: Belief, threshold: float = THRESHOLD) -> Conflict:
    """Measure how well the answers fit together, and name the one that fits worst.

    Parameters
    ----------
    belief
        What is believed.
    threshold
        Bits above which the worst answer is named.

    Returns
    -------
    Conflict
        With a suspect only if the conflict is above the threshold and no cause explains it. What was found
        with the machine open is taken as given.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> conflict(belief)
    Conflict(bits=0.0, explained_by=None, suspect=None, suspect_bits=0.0, reason='')
    """
    singles = told_in(belief)
    found = belief.evidence.found
    if len(singles) < 2:
        return Conflict(0.0)
    given_found = belief.model.given(Evidence(belief.evidence.complaints, found=found)) if found else None
    start = given_found.log_chance if given_found else 0.0
    alone: dict[Told, float] = {}
    for told, single in singles.items():
        by_itself = Evidence(single.complaints, single.looks, single.answers, found)
        alone[told] = (belief.model.given(by_itself).log_chance - start) / math.log(2)
    together = (belief.log_chance - start) / math.log(2)
    bits = sum(alone.values()) - together
    if bits <= threshold:
        return Conflict(bits)
    explained = explained_by(belief, bits, given_found or belief.model.nothing_told)
    if explained is not None:
        return Conflict(bits, explained)
    worst: Told | None = None
    most = 0.0
    for told, single in singles.items():
        try:
            rest = belief.model.given(without(belief.evidence, single)).log_chance
        except ImpossibleEvidenceError:  # pragma: no cover - the whole was possible, so each part of it is
            continue
        surprise = alone[told] - (belief.log_chance - rest) / math.log(2)
        if worst is None or surprise > most + 1e-12:
            worst, most = told, surprise
    return Conflict(bits, None, worst, most, _sentence(belief, worst) if worst else "")


def explained_by(belief: Belief, bits: float, before: Belief) -> str | None:
    """Return the cause that explains a conflict best, or None if none does.

    Parameters
    ----------
    belief
        What is believed with all answers.
    bits
        The conflict.
    before
        What was believed without any answer.
    """
    best: str | None = None
    least = 0.0
    for symptom in belief.model.complaints:
        prior, now = before.behind(symptom), belief.behind(symptom)
        for cause, chance in now.items():
            if chance > 0 and prior[cause] > 0:
                left = bits + math.log2(prior[cause] / chance)
                if left < least:
                    best, least = cause, left
    return best


def _sentence(belief: Belief, told: Told) -> str:
    ask, answer = asked_and_said(belief.model.library, told)
    return f"These answers do not fit together. Look again at this one first: {ask} You said: {answer}."
