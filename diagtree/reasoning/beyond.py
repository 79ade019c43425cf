"""Beyond the complaints: what else to look at, and what to leave alone."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from diagtree.model.family import Risk, Verdict
from diagtree.reasoning.asking import Costs
from diagtree.reasoning.belief import Belief
from diagtree.reasoning.conflict import Told
from diagtree.reasoning.why import beliefs_without, out_of_100, quoted

WORTH_A_LOOK = {Risk.UNSAFE: 0.04, Risk.DAMAGE: 0.10, Risk.NUISANCE: 0.15}
"""The least chance from which an unasked cause is worth a look, by what happens if nothing is done."""

LIKELIER = 1.2
"""So many times likelier than on all machines: then the picture has something to say about it."""

CLEARED = 0.08
"""A part is cleared when the chances of all its causes together are no more than this,"""

WAS_SUSPECT = 2.5
"""and were so many times as much before anything was told,"""

MENTIONED = 0.05
"""and at least this: a part that nobody would have suspected needs no clearing."""

SPEAKS = 0.5
"""An answer speaks for a part if the part's causes show it no more than this often against a blind guess."""


@dataclass(frozen=True, slots=True)
class AlsoLook:
    """An unasked cause that the picture makes likely.

    Parameters
    ----------
    cause
        The cause.
    chance, usual
        Its chance on this machine, and on all machines.
    risk
        What happens if nothing is done.
    price
        What it costs to put right, before tax; None if nobody asked for money.
    picture
        The states of the picture that make it likelier, in words.
    reason
        In words.
    """

    cause: str
    chance: float
    usual: float
    risk: Risk
    price: float | None
    picture: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class LeaveAlone:
    """A part that the picture and the answers clear.

    Parameters
    ----------
    part
        The part.
    chance, before
        The chance of anything wrong with it, at most; now, and before anything was told.
    because
        The answer that cleared it most, of those that speak of it; None if only the picture and the rest did.
    picture
        The states of the picture that make its causes less likely, in words.
    reason
        In words.
    """

    part: str
    chance: float
    before: float
    because: Told | None
    picture: tuple[str, ...]
    reason: str


def also_look_at(belief: Belief, costs: Costs | None = None) -> tuple[AlsoLook, ...]:
    """List causes that nobody complained of and that the picture of the machine makes likely.

    Parameters
    ----------
    belief
        What is believed.
    costs
        What work costs; with it causes of one risk are ranked by chance times price.

    Returns
    -------
    tuple of AlsoLook
        Unsafe ones first, then those that do damage, then nuisances; of one risk the dearest to miss first.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> any(look.cause in belief.behind(symptom) for look in also_look_at(belief))
    False
    """
    library, model = belief.model.library, belief.model
    found = []
    for name, cause in library.causes.items():
        if name in model.shares or name in belief.evidence.found:
            continue
        chance, usual = belief.present[name], model.nothing_told.present[name]
        if chance < WORTH_A_LOOK[cause.risk] or chance < LIKELIER * usual:
            continue
        price = _price(costs, cause.remedies) if costs else None
        picture = _picture(belief, (name,), likelier=True)
        why = f" ({', '.join(picture)})" if picture else ""
        reason = f"{cause.title}: {out_of_100(chance)}, against {out_of_100(usual)} usually{why}."
        found.append(AlsoLook(name, chance, usual, cause.risk, price, picture, reason))
    order = list(Risk)
    return tuple(
        sorted(
            found,
            key=lambda each: (
                order.index(each.risk),
                -round(each.chance * (1.0 if each.price is None else each.price), 9),
            ),
        )
    )


def _price(costs: Costs, remedies: tuple[str, ...]) -> float:
    for name in remedies:
        remedy = costs.library.remedies.get(name)
        if remedy is not None and remedy.verdict is not Verdict.LEAVE:
            jobs = costs.jobs_of([name])
            return float(costs.minutes(jobs) * costs.minute + costs.goods([name], jobs))
    return 0.0


def _picture(belief: Belief, causes: Collection[str], *, likelier: bool) -> tuple[str, ...]:
    """Name the states of the picture that make some causes together likelier, or less likely."""
    model, library = belief.model, belief.model.library
    start = model.nothing_told
    weights = {cause: start.present[cause] for cause in causes}
    said = []
    for condition, states in belief.picture.items():
        state = max(states, key=lambda name: states[name])
        place = model.circumstances.states[condition].index(state)
        changed = 0.0
        for cause, weight in weights.items():
            factors = model.circumstances.factors(cause).get(condition)
            changed += weight * (factors[place] - 1) if factors else 0.0
        moved = states[state] > start.picture[condition][state]
        if moved and (changed > 0 if likelier else changed < 0):
            said.append(library.conditions[condition].states[state].says)
    return tuple(said)


def leave_alone(belief: Belief) -> tuple[LeaveAlone, ...]:
    """List parts that the picture and the answers clear, with the reason.

    Returns
    -------
    tuple of LeaveAlone
        Those that were most suspect first. A part is weighed by all its causes in the complaints' trees and beyond; the
        chances are added up, so the chance of anything wrong is at most what is told.

    Examples
    --------
    >>> from diagtree.reasoning.belief import BeliefModel
    >>> from diagtree.reasoning.evidence import Evidence
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> symptom = next(iter(library.trees))
    >>> belief = BeliefModel.of(library, [symptom]).given(Evidence((symptom,)))
    >>> leave_alone(belief)
    ()
    """
    library, model = belief.model.library, belief.model
    parts: dict[str, list[str]] = {}
    for name, cause in library.causes.items():
        if cause.part is not None:
            parts.setdefault(cause.part, []).append(name)
    start = model.nothing_told
    cleared = []
    for part, causes in parts.items():
        if not any(cause in model.shares for cause in causes):
            continue
        now = sum(belief.present[cause] for cause in causes)
        before = sum(start.present[cause] for cause in causes)
        if now <= CLEARED and before >= max(MENTIONED, WAS_SUSPECT * now):
            cleared.append((part, causes, now, before))
    if not cleared:
        return ()
    left_out = beliefs_without(belief)
    result = []
    for part, causes, now, before in cleared:
        gains = {
            told: sum(o.present[c] for c in causes) - now
            for told, o in left_out.items()
            if _speaks_for(belief, told, causes)
        }
        told = max(gains, key=lambda each: gains[each]) if gains else None
        if told is not None and gains[told] < 0.01:
            told = None
        title = library.parts[part].title if part in library.parts else part
        picture = _picture(belief, causes, likelier=False)
        why = f" {quoted(belief, told)}." if told is not None else ""
        if told is None and picture:
            why = f" It is {', '.join(picture)}."
        reason = f"{title}: leave it alone, {out_of_100(now)} that anything is wrong with it.{why}"
        result.append(LeaveAlone(part, min(1.0, now), min(1.0, before), told, picture, reason))
    return tuple(sorted(result, key=lambda each: -round(each.before - each.chance, 12)))


def _speaks_for(belief: Belief, told: Told, causes: Collection[str]) -> bool:
    """True if the check could have shown one of the causes, and what was answered is not what they show.

    An answer that only tells two kinds of machine apart moves the chances too, but no mechanic would give it
    as the reason for leaving a part. The same holds for a quick look: it speaks of how the machine has lived.
    """
    if not told.symptom:
        return False
    fact = belief.model.library.trees[told.symptom].checks[told.name].fact
    for symptom, check in belief.evidence.answers:
        same = fact is not None and belief.model.library.trees[symptom].checks[check].fact == fact
        if not same and (symptom, check) != (told.symptom, told.name):
            continue
        tree = belief.model.rows[symptom]
        rows = tree.checks[check]
        place, weight, shown = rows.number[told.answer], 0.0, 0.0
        for cause in causes:
            for number in tree.findings_of.get(cause, ()):
                if number in rows.row_of:
                    share = tree.findings[number].share
                    weight += share
                    shown += share * tree.row(check, number)[place]
        if weight and shown * len(rows.answers) <= SPEAKS * weight:
            return True
    return False
