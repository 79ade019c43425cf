"""Which check to do next: what its answer would tell about the cause, for the minutes that it takes.

The gain of a check is the mutual information of its answer and the causes behind all complaints. An answer
depends on its own complaint's finding alone, so that is its information about its own complaint's cause:
what it tells about other complaints, it tells through that one (the chain rule; proved by enumeration in the
tests). A fact that stands in several trees is asked once and gains in each of them.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from math import log2
from typing import NamedTuple

from diagtree.reasoning.belief import Belief
from diagtree.reasoning.effort import Effort
from diagtree.reasoning.readiness import ready
from diagtree.reasoning.rows import CheckRows, entropy, mixture
from diagtree.reasoning.vectors import dot, tie

__all__ = ["LEAST_BITS", "LEAST_MINUTES", "Place", "Worth", "gains", "information", "ready"]

Place = tuple[str, str]
"""(symptom, check)."""

LEAST_BITS = 0.05
"""A check that would tell less than this is not worth a walk to the bench."""

LEAST_MINUTES = 0.1
"""So that a check that takes no time at all is not infinitely good."""


class Worth(NamedTuple):
    """What one check is worth now.

    Parameters
    ----------
    symptom, check
        Where it stands.
    bits
        How much its answer is expected to tell about the causes, in bits.
    minutes
        What it takes, with the opening work that is still to be done.
    opening
        The jobs that must be done first to get at it.
    per_minute
        Bits a minute; opening work that several checks share is laid on all that are worth doing behind it.
    """

    symptom: str
    check: str
    bits: float
    minutes: float
    opening: tuple[str, ...]
    per_minute: float

    @property
    def place(self) -> Place:
        """(symptom, check)."""
        return self.symptom, self.check


def information(rows: CheckRows, chances: Sequence[float], behind: Mapping[str, float]) -> float:
    """Return what an answer tells about the cause: H(A) - sum over causes of P(c) H(A | c), in bits.

    Parameters
    ----------
    rows
        The check.
    chances
        The chance of each finding.
    behind
        The chance of each cause: the sum over its findings.

    Returns
    -------
    float
        Never less than 0.

    References
    ----------
    Mutual information; Shannon 1948. Equal to H(C) - sum over answers of P(a) H(C | a).
    """
    masses = [0.0] * len(rows.noise)
    for finding, row in rows.speaks:
        masses[row + 1] += chances[finding]
    masses[0] = max(0.0, 1 - sum(masses))
    answers = [dot(masses, column) for column in rows.columns]
    noise = dot(masses, rows.noise)
    # What the answer tells about the finding once the cause is known is no gain about the cause.
    for cause, split in rows.split.items():
        whole = behind[cause]
        if whole > 0:
            parts = [0.0] * len(rows.rows)
            for row, numbers in split.items():
                parts[row] = sum(chances[number] for number in numbers) / whole
            left = max(0.0, 1 - sum(parts))
            own = left * rows.sound_entropy + dot(parts, rows.entropies)
            noise += whole * (_bits(mixture(rows, left, parts)) - own)
    return max(0.0, _bits(answers) - noise)


def _bits(chances: Sequence[float]) -> float:
    """The entropy of answers, quicker than `entropy` as no answer to a check is ever impossible."""
    try:
        return -dot(chances, map(log2, chances))
    except ValueError:
        return entropy(chances)


def gains(belief: Belief, unable: Collection[Place] = (), opened: Collection[str] = ()) -> list[Worth]:
    """Weigh all checks that are open now, over all complaints at once.

    Parameters
    ----------
    belief
        What is believed.
    unable
        Checks that nobody could tell: not asked again.
    opened
        Opening jobs that have been done for another reason; those behind answered checks are known.

    Returns
    -------
    list of Worth
        Best first: by bits a minute, then in the authors' order.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> rates = [worth.per_minute for worth in gains(belief)]
    >>> rates == sorted(rates, reverse=True)
    True
    """
    model, evidence = belief.model, belief.evidence
    done = set(opened)
    answered: dict[str, dict[str, str]] = {symptom: {} for symptom in model.rows}
    efforts = model.efforts
    for place, answer in evidence.answers.items():
        opening = efforts[place].opening
        if opening:
            done |= opening.keys()
        answered[place[0]][place[1]] = answer
    facts: dict[str, list[Place]] = {}
    bits: dict[Place, float] = {}
    for symptom, rows in model.rows.items():
        open_now = model.readiness[symptom].open(answered[symptom])
        chances, behind = belief.finding_chances(symptom), belief.behind(symptom)
        for name, check in rows.checks.items():
            if name in open_now and not (unable and (symptom, name) in unable):
                bits[symptom, name] = information(check, chances, behind)
                if check.fact is not None:
                    facts.setdefault(check.fact, []).append((symptom, name))
    for places in facts.values():
        symptoms = dict.fromkeys(symptom for symptom, _ in places)
        if len(symptoms) > 1:
            together = sum(max(bits[p] for p in places if p[0] == s) for s in symptoms)
            bits.update(dict.fromkeys(places, together))
    return _rated(efforts, bits, done)


def _rated(
    efforts: Mapping[Place, Effort], bits: Mapping[Place, float], done: Collection[str]
) -> list[Worth]:
    found: list[Worth] = []
    behind: dict[tuple[str, ...], list[Worth]] = {}
    for place, gain in bits.items():
        effort = efforts[place]
        opening = tuple(sorted(job for job in effort.opening if job not in done)) if effort.opening else ()
        minutes = effort.minutes
        if opening:
            minutes += sum(effort.opening[job] for job in opening)
        minutes = max(LEAST_MINUTES, minutes)
        worth = Worth(*place, gain, minutes, opening, gain / minutes)
        if opening:
            behind.setdefault(opening, []).append(worth)
        else:
            found.append(worth)
    if behind:
        for opening, members in behind.items():
            jobs = efforts[members[0].place].opening
            found += _sharing(members, sum(jobs[job] for job in opening))
        order = {place: number for number, place in enumerate(bits)}
        found.sort(key=lambda worth: order[worth.place])
    # A stable sort: of two alike the author's first comes first.
    return sorted(found, key=lambda worth: -tie(worth.per_minute))


def _sharing(members: Sequence[Worth], opening: float) -> list[Worth]:
    """Lay the opening work on the best of the checks behind it."""
    by_rate = sorted(members, key=lambda w: -w.bits / max(LEAST_MINUTES, w.minutes - opening))
    rates: list[float] = []
    total, minutes = 0.0, opening
    for worth in by_rate:
        total += worth.bits
        minutes += max(LEAST_MINUTES, worth.minutes - opening)
        rates.append(total / minutes)
    best = max(range(len(rates)), key=lambda number: rates[number])
    return [
        Worth(w.symptom, w.check, w.bits, w.minutes, w.opening, max(w.per_minute, rates[best]))
        if number == 0
        else w
        for number, w in enumerate(by_rate)
    ]
