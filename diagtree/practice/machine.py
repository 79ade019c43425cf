"""A machine with a hidden fault, drawn from the model: how it has lived, what is behind it, what it answers.

Everything is drawn before the first check, so what a check answers does not depend on when it is asked. The
same library, level and seed give the same machine.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.practice.levels import Level
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.draws import draw
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.reasoning.rows import TreeRows

DRAWN = 400
"""So many machines are drawn from the model; the level chooses among them."""

COMMON = 0.6
"""The likeliest causes of a complaint that make up so much of it are common."""

MOST_SEED = 2**32

Question = tuple[str, str]
"""(symptom, check), or ("", fact) for what is one question wherever it stands."""


@dataclass(frozen=True)
class Machine:
    """One machine that is not there.

    Parameters
    ----------
    complaints
        What it came in with.
    level, seed
        What it was drawn with.
    states
        How it has lived: each condition and its state.
    causes
        For each complaint the cause behind it.
    findings
        For each complaint the number of the finding in its tree.
    looks
        What each quick look shows.
    answers
        What each check of each complaint's tree answers.
    """

    complaints: tuple[str, ...]
    level: Level
    seed: int
    states: Mapping[str, str]
    causes: Mapping[str, str]
    findings: Mapping[str, int]
    looks: Mapping[str, str]
    answers: Mapping[tuple[str, str], str]

    def told_at_first(self, library: Library) -> Evidence:
        """Return what is known before the first check: complaints and quick looks."""
        return spread_facts(library, Evidence(self.complaints, self.looks))


def question_of(library: Library, symptom: str, check: str) -> Question:
    """Tell which question a check is: one with a shared fact is the same one everywhere."""
    fact = library.trees[symptom].checks[check].fact
    return (symptom, check) if fact is None else ("", fact)


def _look_question(fact: str | None, look: str) -> Question:
    return ("", f"look {look}" if fact is None else fact)


def draw_complaints(library: Library, level: Level, seed: int, wanted: Sequence[str] = ()) -> tuple[str, ...]:
    """Choose what a machine comes in with.

    Parameters
    ----------
    library
        The trees.
    level
        How many complaints, unless some are wanted.
    seed
        Where the random numbers start.
    wanted
        Complaints that were asked for.

    Raises
    ------
    UnknownNameError
        If one that is wanted is not known.
    ExpectedError
        If there is no tree at all.
    """
    for symptom in wanted:
        library.tree(symptom)
    if wanted:
        return tuple(dict.fromkeys(wanted))
    known = list(library.trees)
    if not known:
        raise ExpectedError("There is no tree here at all, so nothing can be practised.")
    chance = random.Random(f"complaints {_checked(seed)}")
    chosen = [chance.choice(known)]
    while len(chosen) < min(level.complaints, len(known)):
        others = [symptom for symptom in known if symptom not in chosen]
        mine = {cause for symptom in chosen for cause in _causes(library, symptom)}
        near = [symptom for symptom in others if mine & _causes(library, symptom)]
        # Half of the time one cause could be behind both, so that it pays to think of both together.
        chosen.append(chance.choice(near if near and chance.random() < 0.5 else others))
    return tuple(chosen)


def _causes(library: Library, symptom: str) -> set[str]:
    answers = (a for check in library.trees[symptom].checks.values() for a in check.answers.values())
    return {cause for answer in answers for cause in answer.found or {}}


def draw_machine(library: Library, complaints: Sequence[str], level: Level, seed: int) -> Machine:
    """Draw a machine.

    Parameters
    ----------
    library
        The library.
    complaints
        What it comes in with: at least one.
    level
        Which causes it may have, and whether its answers mislead.
    seed
        0 or more.

    Returns
    -------
    Machine
        The same for the same seed. All its answers together put the true cause first: a machine that nobody
        could find out is drawn only if the level has no other.

    Raises
    ------
    ExpectedError
        If the seed is out of range.
    """
    model = BeliefModel.of(library, complaints)
    chance = random.Random(f"machine {_checked(seed)} {level.name} {' '.join(model.complaints)}")
    drawn = draw(model.nothing_told, DRAWN, seed)
    behind = {symptom: _named(*drawn.behind[symptom]) for symptom in model.complaints}
    last: Machine | None = None
    for number in _order(model, behind, level, chance):
        states = {
            condition: names[int(drawn.states[condition][number])]
            for condition, names in model.circumstances.states.items()
        }
        last = _machine(
            model, {symptom: behind[symptom][number] for symptom in behind}, states, level, seed, chance
        )
        if _can_be_found(model, last):
            return last
    assert last is not None, "there are always machines to choose from"
    return last


def _checked(seed: int) -> int:
    if not 0 <= seed < MOST_SEED:
        raise ExpectedError(f"The seed {seed} is out of range.", f"Take one from 0 to {MOST_SEED - 1}.")
    return seed


def _named(names: Sequence[str], numbers: Iterable[int]) -> list[str]:
    return [names[int(number)] for number in numbers]


def _order(
    model: BeliefModel, behind: Mapping[str, Sequence[str]], level: Level, chance: random.Random
) -> Iterator[int]:
    """The drawn machines in the order in which the level would have them."""
    if level.flat:
        first: dict[tuple[str, ...], int] = {}
        for number in range(DRAWN):
            first.setdefault(tuple(behind[symptom][number] for symptom in behind), number)
        numbers = list(first.values())
        chance.shuffle(numbers)
        yield from numbers
        return
    common = {symptom: common_causes(model.nothing_told.ranking(symptom)) for symptom in behind}
    fits = [
        number
        for number in range(DRAWN)
        if not level.common or all(behind[symptom][number] in common[symptom] for symptom in behind)
    ]
    yield from fits or range(DRAWN)


def common_causes(ranking: Sequence[tuple[str, float]]) -> frozenset[str]:
    """Return the likeliest causes that together make up `COMMON` of a complaint.

    Examples
    --------
    >>> sorted(common_causes([("scale", 0.5), ("switch", 0.3), ("fuse", 0.2)]))
    ['scale', 'switch']
    """
    common: list[str] = []
    total = 0.0
    for cause, share in ranking:
        if total >= COMMON:
            break
        common.append(cause)
        total += share
    return frozenset(common)


def _machine(
    model: BeliefModel,
    causes: Mapping[str, str],
    states: Mapping[str, str],
    level: Level,
    seed: int,
    chance: random.Random,
) -> Machine:
    findings = {
        symptom: _finding(model.rows[symptom], cause, model, symptom, chance)
        for symptom, cause in causes.items()
    }
    weights: dict[Question, dict[str, float]] = {}
    for name, look in model.library.looks.items():
        place = list(model.circumstances.states[look.speaks_of]).index(states[look.speaks_of])
        shown = {a: model.circumstances.look_chances(name, a)[place] for a in look.answers}
        key = _look_question(look.fact, name)
        weights[key] = _both(weights.get(key), shown)
    for symptom, rows in model.rows.items():
        for check, entry in rows.checks.items():
            row = dict(zip(entry.answers, rows.row(check, findings[symptom]), strict=True))
            key = question_of(model.library, symptom, check)
            weights[key] = _both(weights.get(key), row)
    told = {key: _answer(shown, level.misleads, chance) for key, shown in weights.items()}
    looks = {name: told[_look_question(look.fact, name)] for name, look in model.library.looks.items()}
    answers = {}
    for symptom, rows in model.rows.items():
        for check, entry in rows.checks.items():
            answer = told[question_of(model.library, symptom, check)]
            if answer not in entry.number:
                # Two trees have different answers to one fact: here the likeliest one stands.
                shows = rows.row(check, findings[symptom])
                answer = entry.answers[shows.index(max(shows))]
            answers[symptom, check] = answer
    return Machine(model.complaints, level, seed, states, dict(causes), findings, looks, answers)


def _finding(rows: TreeRows, cause: str, model: BeliefModel, symptom: str, chance: random.Random) -> int:
    numbers = rows.findings_of[cause]
    chances = model.nothing_told.finding_chances(symptom)
    return chance.choices(numbers, [chances[number] for number in numbers])[0]


def _both(one: Mapping[str, float] | None, other: Mapping[str, float]) -> dict[str, float]:
    """Join what two places show of one fact: answers that both know, as likely as both say."""
    if one is None:
        return dict(other)
    joint = {answer: one[answer] * weight for answer, weight in other.items() if answer in one}
    return joint or dict(one)


def _answer(shown: Mapping[str, float], misleads: bool, chance: random.Random) -> str:
    most = max(shown.values())
    names = list(shown) if misleads else [name for name in shown if shown[name] > most - 1e-9]
    return chance.choices(names, [shown[name] for name in names])[0]


def _can_be_found(model: BeliefModel, machine: Machine) -> bool:
    """Tell whether each complaint's own answers, all together, put its true cause first."""
    for symptom, cause in machine.causes.items():
        own = model if len(machine.complaints) == 1 else BeliefModel.of(model.library, [symptom])
        answers = {place: answer for place, answer in machine.answers.items() if place[0] == symptom}
        belief = own.given(Evidence((symptom,), machine.looks, answers))
        if belief.ranking(symptom)[0][0] != cause:
            return False
    return True
