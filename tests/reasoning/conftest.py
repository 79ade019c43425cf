"""The naive way: everything that could be the case, written down one by one. Shares no code with the engine."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from dataclasses import dataclass, field

import pytest
from hypothesis import strategies as st

from diagtree.library.library import join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree


@dataclass
class Enumerated:
    total: float = 0.0
    picture: dict = field(default_factory=lambda: defaultdict(float))
    behind: dict = field(default_factory=lambda: defaultdict(float))
    leaves: dict = field(default_factory=lambda: defaultdict(float))
    present: dict = field(default_factory=lambda: defaultdict(float))
    behind_any: dict = field(default_factory=lambda: defaultdict(float))
    all_causes: dict = field(default_factory=lambda: defaultdict(float))
    """Chance of each tuple of responsible causes."""


def _leads_to(tree, check, answer):
    entry = tree.checks[check].answers[answer]
    if entry.found is not None:
        return {(check, answer)}
    return set().union(*(_leads_to(tree, entry.next, a) for a in tree.checks[entry.next].answers))


def _shared(names, favoured, e):
    if not favoured or len(favoured) == len(names):
        return {name: 1 / len(names) for name in names}
    return {
        name: (1 - e) / len(favoured) if name in favoured else e / (len(names) - len(favoured))
        for name in names
    }


def sound_row(tree, check):
    entry = tree.checks[check]
    e = {"sure": 0.02, "fair": 0.07, "rough": 0.15}[entry.trust.value]
    return _shared(list(entry.answers), [a for a, x in entry.answers.items() if x.healthy], e)


def row(tree, check, cause, leaf):
    """Chance of each answer to a check, for one cause at one leaf (None: a cause that is not in the tree)."""
    entry = tree.checks[check]
    e = {"sure": 0.02, "fair": 0.07, "rough": 0.15}[entry.trust.value]
    names = list(entry.answers)
    if cause in entry.shows:
        shows = entry.shows[cause]
        if isinstance(shows, str):
            return _shared(names, [shows], e)
        said = {name: float(count) / 100 for name, count in shows.items()}
        rest = max(0.0, 1 - sum(said.values()))
        silent = [name for name in names if name not in said]
        chances = {name: max(0.001, said[name] if name in said else rest / len(silent)) for name in names}
        return {name: chance / sum(chances.values()) for name, chance in chances.items()}
    towards = [name for name in names if leaf in _leads_to(tree, check, name)]
    if towards:
        return _shared(names, towards, e)
    return sound_row(tree, check)


def _chance(library, cause, state):
    """pi_c(x)."""
    entry = library.causes[cause]
    share = max(0.0001, float(entry.out_of_100) / 100)
    names = list(library.conditions)

    def product(assignment):
        value = 1.0
        for condition, times in entry.more_likely.items():
            if condition in assignment:
                value *= float(times.get(assignment[condition], 1))
        return value

    mean = 0.0
    for states in itertools.product(*(library.conditions[name].states for name in names)):
        assignment = dict(zip(names, states, strict=True))
        weight = math.prod(
            float(library.conditions[n].states[s].out_of_100) / 100 for n, s in assignment.items()
        )
        mean += weight * product(assignment)
    return min(0.95, share * product(state) / mean)


def _besides(library, complaints, cause, answers, chance):
    """Chance that a cause is there though it is behind no complaint."""
    odds_factor = 1.0
    facts = set()
    for symptom in complaints:
        tree = library.trees[symptom]
        leaves = [
            ((check, name), float(entry.found[cause]))
            for check, c in tree.checks.items()
            for name, entry in c.answers.items()
            if entry.found and cause in entry.found
        ]
        speaking = []
        for check, entry in tree.checks.items():
            if (symptom, check) not in answers:
                continue
            speaks = cause in entry.shows or any(
                leaf in _leads_to(tree, check, name) for leaf, _ in leaves for name in entry.answers
            )
            if not speaks or entry.fact in facts:
                continue
            if entry.fact:
                facts.add(entry.fact)
            speaking.append((check, answers[symptom, check]))
        if not leaves:
            for check, answer in speaking:
                odds_factor *= row(tree, check, cause, None)[answer] / sound_row(tree, check)[answer]
            continue
        whole = sum(count for _, count in leaves)
        mixed = 0.0
        for leaf, count in leaves:
            part = count / whole if whole else 1 / len(leaves)
            for check, answer in speaking:
                ratio = row(tree, check, cause, leaf)[answer] / sound_row(tree, check)[answer]
                part *= min(1.0, ratio)
            mixed += part
        odds_factor *= mixed
    odds = chance / (1 - chance) * odds_factor
    return odds / (1 + odds)


def enumerate_everything(library, evidence) -> Enumerated:
    """Go through conditions, responsible findings, and which causes are on the machine."""
    result = Enumerated()
    conditions = list(library.conditions)
    causes = list(library.causes)
    findings = []
    for symptom in evidence.complaints:
        tree = library.trees[symptom]
        here = [
            (cause, (check, name), float(count))
            for check, entry in tree.checks.items()
            for name, answer in entry.answers.items()
            for cause, count in (answer.found or {}).items()
        ]
        whole = sum(count for *_, count in here)
        findings.append([(cause, leaf, count / whole) for cause, leaf, count in here])
    for states in itertools.product(*(library.conditions[name].states for name in conditions)):
        state = dict(zip(conditions, states, strict=True))
        of_state = math.prod(
            float(library.conditions[n].states[s].out_of_100) / 100 for n, s in state.items()
        )
        for look, answer in evidence.looks.items():
            entry = library.looks[look]
            lifted = {
                name: max(0.001, float(a.shows.get(state[entry.speaks_of], 0)) / 100)
                for name, a in entry.answers.items()
            }
            of_state *= lifted[answer] / sum(lifted.values())
        chance = {cause: _chance(library, cause, state) for cause in causes}
        besides = {
            cause: _besides(library, evidence.complaints, cause, evidence.answers, chance[cause])
            for cause in causes
        }
        for chosen in itertools.product(*findings):
            weight = of_state
            responsible = {cause for cause, *_ in chosen}
            for cause in responsible:
                weight *= chance[cause]
            for symptom, (cause, leaf, share) in zip(evidence.complaints, chosen, strict=True):
                weight *= share / max(0.0001, float(library.causes[cause].out_of_100) / 100)
                tree = library.trees[symptom]
                for (where, check), answer in evidence.answers.items():
                    if where == symptom:
                        weight *= row(tree, check, cause, leaf)[answer]
            others = [cause for cause in causes if cause not in responsible]
            for there in itertools.product([False, True], repeat=len(others)):
                on_machine = responsible | {c for c, yes in zip(others, there, strict=True) if yes}
                if any((cause in on_machine) != yes for cause, yes in evidence.found.items()):
                    continue
                case = weight
                for cause, yes in zip(others, there, strict=True):
                    case *= besides[cause] if yes else 1 - besides[cause]
                result.total += case
                for name, value in state.items():
                    result.picture[name, value] += case
                for symptom, (cause, leaf, _) in zip(evidence.complaints, chosen, strict=True):
                    result.behind[symptom, cause] += case
                    result.leaves[symptom, leaf] += case
                for cause in responsible:
                    result.behind_any[cause] += case
                for cause in on_machine:
                    result.present[cause] += case
                result.all_causes[tuple(cause for cause, *_ in chosen)] += case
    if result.total == 0:
        raise ZeroDivisionError("nothing fits what was told")
    for table in (result.picture, result.behind, result.leaves, result.present, result.behind_any,
                  result.all_causes):  # fmt: skip
        for key in table:
            table[key] /= result.total
    return result


@pytest.fixture(scope="session")
def enumerated():
    return enumerate_everything


@st.composite
def small_libraries(draw, complaints=2, causes=4, conditions=2):
    """Draw a library small enough to write every case down."""
    names = [f"c{number}" for number in range(causes)]
    sheet = {"conditions": {}, "looks": {}}
    for number in range(conditions):
        first = draw(st.integers(5, 95))
        sheet["conditions"][f"x{number}"] = {
            "title": "X",
            "states": {
                "low": {"says": "low", "out-of-100": first},
                "up": {"says": "up", "out-of-100": 100 - first},
            },
        }
        low, up = draw(st.tuples(st.integers(0, 100), st.integers(0, 100)))
        sheet["looks"][f"look{number}"] = {
            "ask": "Which?",
            "minutes": 1,
            "speaks-of": f"x{number}",
            "answers": {
                "a": {"says": "a", "shows": {"low": low, "up": up}},
                "b": {"says": "b", "shows": {"low": 100 - low, "up": 100 - up}},
            },
        }
    family = {"family": "thing", "title": "Thing", "causes": {}}
    for name in names:
        more = {}
        for number in range(conditions):
            if draw(st.booleans()):
                more[f"x{number}"] = {
                    draw(st.sampled_from(["low", "up"])): draw(st.sampled_from([0.2, 3, 40]))
                }
        family["causes"][name] = {
            "title": name, "out-of-100": draw(st.sampled_from([0, 1, 8, 30, 70, 97])), "more-likely": more,
            "risk": "nuisance", "why": "Because.", "remedies": ["mend"],
        }  # fmt: skip
    trees = [_tree(draw, f"s{number}", names) for number in range(complaints)]
    return join(
        families=[Family.model_validate(family)],
        conditions=[Conditions.model_validate(sheet)],
        trees=[Tree.model_validate(tree) for tree in trees],
    )


def _tree(draw, symptom, names):
    checks = {}
    count = draw(st.integers(2, 3))
    for number in range(count):
        answers = {}
        many = draw(st.integers(2, 3))
        for place in range(many):
            entry = {"says": "so"}
            later = [f"q{n}" for n in range(number + 1, count)]
            if later and (place == 0 or draw(st.booleans())):
                # The first answer always leads on, so that each check is reached; joins come about by chance.
                entry["next"] = later[0] if place == 0 else draw(st.sampled_from(later))
            else:
                picked = draw(st.lists(st.sampled_from(names), min_size=1, max_size=2, unique=True))
                entry["found"] = {name: draw(st.sampled_from([0.5, 3, 20])) for name in picked}
            entry["healthy"] = "true" if draw(st.booleans()) else "false"
            answers[f"a{place}"] = entry
        check = {
            "ask": "What?", "minutes": draw(st.sampled_from([1, 3, 10])), "answers": answers,
            "trust": draw(st.sampled_from(["sure", "fair", "rough"])),
        }  # fmt: skip
        if draw(st.booleans()):
            shown = draw(st.sampled_from(names))
            check["shows"] = {shown: draw(st.sampled_from(["a1", {"a0": 0}, {"a0": 30, "a1": 70}]))}
        if number == 0 and draw(st.booleans()):
            check["fact"] = "same"
        checks[f"q{number}"] = check
    return {"symptom": symptom, "title": "It is wrong", "family": "thing", "first": "q0", "checks": checks}


@pytest.fixture(scope="session")
def small_library():
    return small_libraries
