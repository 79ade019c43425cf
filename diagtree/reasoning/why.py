"""Why: which answers speak for and against a cause, what a question would settle, what moved the picture.

References
----------
I. J. Good, "Probability and the Weighing of Evidence", 1950: the weight of evidence for H from E given the rest is
10 log10 of (odds of H with E / odds of H without E), in decibans.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from diagtree.reasoning.asking import Costs, repairs_for, start_with
from diagtree.reasoning.belief import Belief
from diagtree.reasoning.choosing import information
from diagtree.reasoning.conflict import Told, asked_and_said, told_in, without
from diagtree.reasoning.evidence import spread_facts
from diagtree.reasoning.rows import entropy

NOTICEABLE = 0.5
"""Decibans under which an answer is not mentioned: the odds change by an eighth."""

_STRENGTHS = ((3.0, "a little"), (7.0, "clearly"), (13.0, "strongly"), (math.inf, "very strongly"))


@dataclass(frozen=True, slots=True)
class Weight:
    """How much one answer says, given all the others.

    Parameters
    ----------
    told
        The answer or the quick look.
    decibans
        Weight of evidence: positive for, negative against; 10 make the odds ten times higher.
    reason
        The same in words.
    """

    told: Told
    decibans: float
    reason: str


@dataclass(frozen=True, slots=True)
class Settles:
    """What one answer to a question would leave.

    Parameters
    ----------
    answer
        The answer.
    chance
        How likely it is to be given.
    leader
        The likeliest cause after it.
    leader_chance
        The chance of that cause then.
    start
        The remedy to start with then; None if nobody asked for money.
    changes
        True if another cause or another first remedy than now comes first.
    """

    answer: str
    chance: float
    leader: str
    leader_chance: float
    start: str | None
    changes: bool


@dataclass(frozen=True, slots=True)
class WhyAsk:
    """Why a question is worth asking.

    Parameters
    ----------
    symptom, check
        The question.
    bits
        What it tells about the cause, in bits.
    open_bits
        How open the cause is now, in bits.
    answers
        What each answer would leave, the likeliest answer first.
    start
        The remedy to start with if it is not asked; None if nobody asked for money.
    reason
        In words.
    """

    symptom: str
    check: str
    bits: float
    open_bits: float
    answers: tuple[Settles, ...]
    start: str | None
    reason: str


@dataclass(frozen=True, slots=True)
class Moved:
    """What moved one condition of the picture.

    Parameters
    ----------
    condition
        The condition.
    state
        Its likeliest state now.
    chance, before
        The chance of that state now, and before anything was told.
    weights
        The answers that moved it, most first.
    """

    condition: str
    state: str
    chance: float
    before: float
    weights: tuple[Weight, ...]


def out_of_100(chance: float) -> str:
    """Say a chance as people estimate best.

    Examples
    --------
    >>> out_of_100(0.304), out_of_100(0.004), out_of_100(0.999)
    ('30 in 100', 'under 1 in 100', 'over 99 in 100')
    """
    number = round(100 * chance)
    if number == 0:
        return "under 1 in 100"
    return "over 99 in 100" if number == 100 else f"{number} in 100"


def decibans(with_it: float, without_it: float) -> float:
    """Return the weight of evidence that takes one chance to another, at most 60 either way.

    Examples
    --------
    >>> round(decibans(10 / 11, 1 / 2), 6)
    10.0
    """
    least = 1e-9
    now, before = (min(1 - least, max(least, chance)) for chance in (with_it, without_it))
    weight = 10 * math.log10(now / (1 - now) * (1 - before) / before)
    return max(-60.0, min(60.0, weight))


def in_words(weight: float) -> str:
    """Say a weight of evidence in words, with how many times the odds change.

    Examples
    --------
    >>> in_words(10.0), in_words(-4.0), in_words(0.2)
    ('speaks strongly for it: odds 10 times higher', 'speaks clearly against it: odds 2.5 times lower', 'says nothing')
    """
    if abs(weight) < NOTICEABLE:
        return "says nothing"
    strength = next(word for most, word in _STRENGTHS if abs(weight) < most)
    times = 10 ** (abs(weight) / 10)
    figure = f"{times:.1f}".removesuffix(".0") if times < 10 else f"{min(times, 1000):.0f}"
    side, way = ("for", "higher") if weight > 0 else ("against", "lower")
    return f"speaks {strength} {side} it: odds {figure} times {way}"


def says(belief: Belief, told: Told) -> str:
    """Say what was told, in the author's words."""
    ask, answer = asked_and_said(belief.model.library, told)
    return f"{ask} {answer}"


def quoted(belief: Belief, told: Told) -> str:
    """Say what was told, the answer in quotation marks."""
    ask, answer = asked_and_said(belief.model.library, told)
    return f"{ask} '{answer}'"


def why_cause(belief: Belief, cause: str, symptom: str | None = None) -> tuple[Weight, ...]:
    """Weigh each answer for and against a cause.

    Parameters
    ----------
    belief
        What is believed.
    cause
        The cause, asked or not.
    symptom
        The complaint that it may be behind; None for being on the machine at all.

    Returns
    -------
    tuple of Weight
        Each answer's weight given all others, the strongest first; those under `NOTICEABLE` are left out.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> why_cause(belief, belief.ranking(symptom)[0][0], symptom)
    ()
    """

    def chance(of: Belief) -> float:
        return of.behind(symptom)[cause] if symptom is not None else of.present[cause]

    now = chance(belief)
    weights = []
    for told, before in beliefs_without(belief).items():
        weight = decibans(now, chance(before))
        if abs(weight) >= NOTICEABLE:
            weights.append(Weight(told, weight, f"{quoted(belief, told)} {in_words(weight)}."))
    return tuple(sorted(weights, key=lambda weight: -round(abs(weight.decibans), 9)))


def beliefs_without(belief: Belief) -> Mapping[Told, Belief]:
    """Return for each thing that was told what would be believed had it not been told."""
    return {
        told: belief.model.given(without(belief.evidence, single)) for told, single in told_in(belief).items()
    }


def what_moved(belief: Belief) -> tuple[Moved, ...]:
    """Tell for each condition of the picture which answers moved it most.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> [moved.condition for moved in what_moved(belief)] == list(library.conditions)
    True
    """
    left_out = beliefs_without(belief)
    start = belief.model.nothing_told.picture
    moved = []
    for condition, states in belief.picture.items():
        state = max(states, key=lambda name: states[name])
        weights = []
        for told, other in left_out.items():
            weight = decibans(states[state], other.picture[condition][state])
            if abs(weight) >= NOTICEABLE:
                weights.append(Weight(told, weight, f"{quoted(belief, told)} {in_words(weight)}."))
        weights.sort(key=lambda weight: -round(abs(weight.decibans), 9))
        moved.append(Moved(condition, state, states[state], start[condition][state], tuple(weights)))
    return tuple(moved)


def why_ask(belief: Belief, symptom: str, check: str, costs: Costs | None = None) -> WhyAsk:
    """Tell what a question would settle, and how its answer could change the plan.

    Parameters
    ----------
    belief
        What is believed.
    symptom, check
        The question.
    costs
        What work costs; with it the first remedy after each answer is told too.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> why = why_ask(belief, symptom, library.trees[symptom].first)
    >>> round(sum(settles.chance for settles in why.answers), 9)
    1.0
    """
    model, library = belief.model, belief.model.library
    rows = model.rows[symptom].checks[check]
    bits = information(rows, belief.finding_chances(symptom), belief.behind(symptom))
    open_bits = entropy(belief.behind(symptom).values())
    leader, _ = belief.ranking(symptom)[0]
    start = _start(belief, costs, symptom)
    answers = []
    for answer, chance in belief.predict(symptom, check).items():
        after = model.given(spread_facts(library, belief.evidence.with_answer(symptom, check, answer)))
        first, first_chance = after.ranking(symptom)[0]
        then = _start(after, costs, symptom)
        answers.append(Settles(answer, chance, first, first_chance, then, first != leader or then != start))
    answers.sort(key=lambda each: -round(each.chance, 12))
    reason = _why_in_words(belief, symptom, check, answers, bits, open_bits)
    return WhyAsk(symptom, check, bits, open_bits, tuple(answers), start, reason)


def _start(belief: Belief, costs: Costs | None, symptom: str) -> str | None:
    if costs is None:
        return None
    return start_with(repairs_for(belief, costs, symptom))


def _why_in_words(
    belief: Belief, symptom: str, check: str, answers: list[Settles], bits: float, open_bits: float
) -> str:
    library = belief.model.library
    asked = library.trees[symptom].checks[check]
    share = bits / open_bits if open_bits > 0 else 0.0
    lines = [f"It settles {out_of_100(min(1.0, share))} of what is still open about the cause."]
    lines += [
        f"'{asked.answers[each.answer].says}' ({out_of_100(each.chance)}) would put "
        f"'{library.causes[each.leader].title}' first, with {out_of_100(each.leader_chance)}."
        for each in answers
    ]
    if not any(each.changes for each in answers):
        lines.append("No answer would change what comes first.")
    return " ".join(lines)
