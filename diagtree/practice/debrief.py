"""The end of a machine: the way beside the best one, what each check was worth, what was missed and why."""

from __future__ import annotations

from dataclasses import dataclass

from diagtree.practice.least import SURE, least_way
from diagtree.practice.play import Guess, Play, Step
from diagtree.practice.score import Named, Score, score
from diagtree.reasoning.belief import Belief
from diagtree.reasoning.choosing import gains
from diagtree.reasoning.effort import minutes_of
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.reasoning.rows import entropy
from diagtree.reasoning.shortest import next_check
from diagtree.reasoning.why import NOTICEABLE, Weight, decibans, why_cause


@dataclass(frozen=True, slots=True)
class Worth:
    """What one check was worth.

    Parameters
    ----------
    symptom, check, ask, says
        The check and its answer.
    minutes
        What it took, with its opening work.
    bits
        What it was expected to tell about the cause before it was done.
    open_before, open_after
        How open the causes of its complaint were, in bits.
    true_before, true_after
        The chance of the true cause of its complaint.
    leader, leader_chance
        The likeliest cause of its complaint afterwards.
    misled
        True if it made the true cause clearly less likely.
    """

    symptom: str
    check: str
    ask: str
    says: str
    minutes: float
    bits: float
    open_before: float
    open_after: float
    true_before: float
    true_after: float
    leader: str
    leader_chance: float
    misled: bool


@dataclass(frozen=True, slots=True)
class Missed:
    """What was named for a complaint, against what was behind it.

    Parameters
    ----------
    symptom
        The complaint.
    named
        The cause that was named; empty if none was.
    true
        The cause that was behind it.
    named_chance, true_chance
        Their chances by what was known when it was named.
    named_weights, true_weights
        What spoke for and against each, the strongest first.
    settle
        (symptom, check) of the check that would then have told most; None if none would.
    settle_bits
        What it would have told.
    verdict
        What is counted.
    """

    symptom: str
    named: str
    true: str
    named_chance: float
    true_chance: float
    named_weights: tuple[Weight, ...]
    true_weights: tuple[Weight, ...]
    settle: tuple[str, str] | None
    settle_bits: float
    verdict: Named


@dataclass(frozen=True, slots=True)
class Way:
    """A way that could have been taken: its checks with their answers, and its minutes."""

    steps: tuple[tuple[str, str], ...]
    answers: tuple[str, ...]
    minutes: float


@dataclass(frozen=True, slots=True)
class Debrief:
    """What is told at the end.

    Parameters
    ----------
    worths
        Each check that was done, in order.
    minutes
        What they took.
    least
        The fewest minutes in which the fault could be proved, seen from behind; None if the answers mislead
        too much for that.
    engine
        What the shortest order does on this machine, not knowing what is behind.
    engine_named
        For each complaint the cause that comes first then.
    results
        For each complaint what was named.
    score
        The points.
    """

    worths: tuple[Worth, ...]
    minutes: float
    least: Way | None
    engine: Way
    engine_named: tuple[tuple[str, str], ...]
    results: tuple[Missed, ...]
    score: Score


def debrief(play: Play) -> Debrief:
    """Look back on a machine; it should be at its end.

    Parameters
    ----------
    play
        The machine with all moves.

    Returns
    -------
    Debrief
        The same for the same moves.
    """
    machine = play.machine
    engine, named = engine_way(play)
    found = least_way(play.library, machine, engine.steps)
    goals = dict(found.goals) if found is not None else dict.fromkeys(machine.complaints, SURE)
    results = tuple(_result(play, guess, goals[symptom]) for symptom, guess in play.guesses.items())
    least = _way(play, found.steps) if found is not None else None
    minutes = play.minutes
    if least is not None:
        # With several complaints an answer about one can prove the other's cause: then a way at hand may be shorter.
        proved = all(one.verdict.right and one.verdict.reasoned for one in results)
        mine = _way(play, tuple((step.symptom, step.check) for step in play.steps))
        right = all(machine.causes[symptom] == cause for symptom, cause in named)
        sure = all(_proves(play, engine.steps, symptom, goals[symptom]) for symptom in machine.complaints)
        candidates = [least, *([mine] if proved and results else []), *([engine] if right and sure else [])]
        least = min(candidates, key=lambda way: way.minutes)
    points = score(
        tuple(one.verdict for one in results) or (Named(False, False, 0.0),),
        minutes,
        least.minutes if least is not None else engine.minutes,
        sum(told.right for told in play.told),
        len(play.told),
    )
    return Debrief(_worths(play), minutes, least, engine, named, results, points)


def _way(play: Play, steps: tuple[tuple[str, str], ...]) -> Way:
    answers = tuple(
        play.library.trees[symptom].checks[check].answers[play.machine.answers[symptom, check]].says
        for symptom, check in steps
    )
    return Way(steps, answers, minutes_of(play.library, steps))


def _told(play: Play, steps: tuple[tuple[str, str], ...]) -> Evidence:
    told = play.machine.told_at_first(play.library)
    for symptom, check in steps:
        told = told.with_answer(symptom, check, play.machine.answers[symptom, check])
        told = spread_facts(play.library, told)
    return told


def _proves(play: Play, steps: tuple[tuple[str, str], ...], symptom: str, goal: float) -> bool:
    first, chance = play.believed(_told(play, steps)).ranking(symptom)[0]
    return first == play.machine.causes[symptom] and chance >= goal - 1e-12


def engine_way(play: Play) -> tuple[Way, tuple[tuple[str, str], ...]]:
    """Let the shortest order find the fault, knowing only what is told.

    It ends each complaint at `SURE`, or when no check would tell more.

    Returns
    -------
    Way, and (complaint, the cause that comes first) for each
    """
    machine, library = play.machine, play.library
    steps: list[tuple[str, str]] = []
    told = machine.told_at_first(library)
    belief = play.believed(told)
    while True:
        ended = [symptom for symptom in machine.complaints if belief.ranking(symptom)[0][1] >= SURE]
        worth = next_check(belief, ended=ended) if len(ended) < len(machine.complaints) else None
        if worth is None:
            break
        steps.append(worth.place)
        told = spread_facts(library, told.with_answer(*worth.place, machine.answers[worth.place]))
        belief = play.believed(told)
    named = tuple((symptom, belief.ranking(symptom)[0][0]) for symptom in machine.complaints)
    return _way(play, tuple(steps)), named


def _worths(play: Play) -> tuple[Worth, ...]:
    worths = []
    for step in play.steps:
        before, after = play.believed(step.before), play.believed(step.after)
        true = play.machine.causes[step.symptom]
        leader, chance = after.ranking(step.symptom)[0]
        was, now = before.behind(step.symptom), after.behind(step.symptom)
        worths.append(
            Worth(
                symptom=step.symptom,
                check=step.check,
                ask=step.ask,
                says=step.says,
                minutes=step.minutes,
                bits=_expected(before, step),
                open_before=entropy(was.values()),
                open_after=entropy(now.values()),
                true_before=was[true],
                true_after=now[true],
                leader=leader,
                leader_chance=chance,
                misled=decibans(now[true], was[true]) <= -NOTICEABLE,
            )
        )
    return tuple(worths)


def _expected(before: Belief, step: Step) -> float:
    return next(
        (worth.bits for worth in gains(before) if worth.place == (step.symptom, step.check)),
        0.0,
    )


def _result(play: Play, guess: Guess, goal: float) -> Missed:
    symptom, true = guess.symptom, play.machine.causes[guess.symptom]
    belief = play.believed(guess.evidence)
    behind = belief.behind(symptom)
    first, chance = belief.ranking(symptom)[0]
    worths = [one for one in gains(belief) if one.bits >= 0.01 and one.symptom == symptom]
    most = max(worths, key=lambda one: round(one.bits, 9), default=None)
    right = guess.cause == true
    mine = behind.get(guess.cause, 0.0)
    return Missed(
        symptom=symptom,
        named=guess.cause,
        true=true,
        named_chance=mine,
        true_chance=behind[true],
        named_weights=why_cause(belief, guess.cause, symptom) if guess.cause and not right else (),
        true_weights=why_cause(belief, true, symptom),
        settle=most.place if most is not None else None,
        settle_bits=most.bits if most is not None else 0.0,
        verdict=Named(
            right=right,
            reasoned=bool(guess.cause) and first == guess.cause and chance >= goal - 1e-12,
            ground=min(1.0, mine / goal) if right and goal > 0 else 0.0,
        ),
    )
