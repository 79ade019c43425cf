"""Where a case stands: worked out from the library and the case alone, the same each time.

Nothing here is remembered: the answers are the memory. So going back, changing an answer and taking up a
case with changed trees all come to the same thing: the way is walked again with the answers that there are.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from diagtree.case.case import Case, Given
from diagtree.case.places import Place
from diagtree.case.question import CANNOT_TELL, Skipped, title_of
from diagtree.case.ways import Leaf, Ways
from diagtree.library.library import Library
from diagtree.model.tree import Tree


@dataclass(frozen=True, slots=True)
class Walk:
    """How far one complaint has been walked in the author's order.

    Parameters
    ----------
    open
        The check that is to be answered next, or None.
    follow
        A check that nobody could tell and whose author names no way on: the likeliest answer must be
        followed, or None.
    leaf
        The finding that was reached, or None.
    stuck
        Why a draft cannot be walked further, or None.
    path
        The checks on the way, first to last.
    """

    open: str | None = None
    follow: str | None = None
    leaf: Leaf | None = None
    stuck: str | None = None
    path: tuple[str, ...] = ()


@dataclass(frozen=True)
class Standing:
    """Where a case stands.

    Parameters
    ----------
    holds
        For each question that is settled, the answer that settles it: its own, or that of another question
        about the same fact.
    counted
        The answers that count, in the order in which they were first given.
    aside
        The answers that have lost their place; they are kept, and count again if their place comes back. One to a
        fact that was told anew elsewhere has not lost it: the later telling stands there.
    fitting
        For each complaint, the checks that make sense with its answers.
    open_looks
        Quick looks still to be answered.
    walks
        For each complaint, how far it has been walked in the author's order.
    looks, answers
        What the answers that count say, as evidence takes it: by look, and by complaint and check.
    """

    holds: Mapping[Place, Given]
    counted: tuple[Given, ...]
    aside: tuple[Given, ...]
    fitting: Mapping[str, frozenset[str]]
    open_looks: tuple[Place, ...]
    walks: Mapping[str, Walk]
    looks: Mapping[str, str]
    answers: Mapping[tuple[str, str], str]


def exists(library: Library, place: Place) -> bool:
    """Tell whether the library has a question at a place."""
    if place.is_look:
        return place.name in library.looks
    tree = library.trees.get(place.symptom)
    return tree is not None and place.name in tree.checks


def _has_answer(library: Library, place: Place, answer: str | None) -> bool:
    if not exists(library, place):
        return False
    if answer is None:
        return True
    if place.is_look:
        return answer in library.looks[place.name].answers
    return answer in library.trees[place.symptom].checks[place.name].answers


def _fact(library: Library, place: Place) -> str | None:
    if place.is_look:
        return library.looks[place.name].fact
    return library.trees[place.symptom].checks[place.name].fact


def _in_play(library: Library, complaints: tuple[str, ...]) -> list[Place]:
    places = [Place.look(name) for name in library.looks]
    for symptom in complaints:
        tree = library.trees.get(symptom)
        places += [Place.check(symptom, name) for name in tree.checks] if tree else []
    return places


def _holds(library: Library, case: Case, places: list[Place]) -> dict[Place, Given]:
    by_fact: dict[str, list[Place]] = {}
    for place in places:
        fact = _fact(library, place)
        if fact is not None:
            by_fact.setdefault(fact, []).append(place)
    holds: dict[Place, Given] = {}
    for place in places:
        fact = _fact(library, place)
        mates = [place] if fact is None else by_fact[fact]
        given = [
            case.given[mate]
            for mate in mates
            if mate in case.given and _has_answer(library, mate, case.given[mate].answer)
        ]
        latest = max(given, key=lambda each: each.number, default=None)
        if latest is not None and _has_answer(library, place, latest.answer):
            holds[place] = latest
    return holds


def walk(tree: Tree, holds: Mapping[Place, Given], case: Case) -> Walk:
    """Walk one tree in the author's order, as far as the answers go."""
    path: list[str] = []
    name: str | None = tree.first
    while name is not None:
        if name not in tree.checks:
            return Walk(stuck=f"The tree leads to a check '{name}' that it does not have.", path=tuple(path))
        if name in path:
            return Walk(stuck=f"The tree leads back to '{name}', in a circle.", path=tuple(path))
        path.append(name)
        check = tree.checks[name]
        place = Place.check(tree.symptom, name)
        given = holds.get(place)
        passed = case.passed.get(place)
        answer = given.answer if given is not None else None
        if given is not None and answer is None and check.cannot_tell is not None:
            name = check.cannot_tell
            continue
        if answer is None and passed is not None and passed.answer in check.answers:
            answer = passed.answer
        if answer is None:
            if given is None:
                return Walk(open=name, path=tuple(path))
            leads_on = any(each.next is not None for each in check.answers.values())
            return Walk(follow=name if leads_on else None, path=tuple(path))
        if check.answers[answer].next is None:
            # An answer that was only assumed is no finding.
            leaf = (name, answer) if given is not None and given.answer is not None else None
            return Walk(leaf=leaf, path=tuple(path))
        name = check.answers[answer].next
    return Walk(path=tuple(path))


def stand(library: Library, ways: Callable[[str], Ways], case: Case) -> Standing:
    """Work out where a case stands.

    Parameters
    ----------
    library, case
        The trees and looks, and what has been answered.
    ways
        Gives the ways through the tree of a symptom.
    """
    complaints = tuple(symptom for symptom in case.complaints if symptom in library.trees)
    places = _in_play(library, complaints)
    holds = _holds(library, case, places)
    fitting: dict[str, frozenset[str]] = {}
    for symptom in complaints:
        told = {
            place.name: given.answer
            for place, given in holds.items()
            if place.symptom == symptom and given.answer is not None
        }
        fitting[symptom] = ways(symptom).fitting(told)
    order = {place: number for number, place in enumerate(case.given)}
    used: set[Place] = set()
    looks: dict[str, str] = {}
    answers: dict[tuple[str, str], str] = {}
    for place, given in holds.items():
        if not place.is_look and given.place == place and not _fitted(ways, holds, order, place):
            continue
        used.add(given.place)
        if given.answer is None:
            continue
        if place.is_look:
            looks[place.name] = given.answer
        else:
            answers[place.symptom, place.name] = given.answer
    return Standing(
        holds=holds,
        counted=tuple(given for place, given in case.given.items() if place in used),
        aside=tuple(
            given
            for place, given in case.given.items()
            if place not in used and holds.get(place, given) is given
        ),
        fitting=fitting,
        open_looks=tuple(place for place in places if place.is_look and place not in holds),
        walks={symptom: walk(library.trees[symptom], holds, case) for symptom in complaints},
        looks=looks,
        answers=answers,
    )


def _fitted(
    ways: Callable[[str], Ways], holds: Mapping[Place, Given], order: Mapping[Place, int], place: Place
) -> bool:
    """Tell whether a check makes sense with what was answered before it, as those answers stand now.

    What is answered after it takes nothing away: what was seen was seen, though the author's way to it is closed.
    """
    before = {
        each.name: given.answer
        for each, given in holds.items()
        if each.symptom == place.symptom and given.answer is not None and order[given.place] < order[place]
    }
    return place.name in ways(place.symptom).fitting(before)


def skipped(library: Library, case: Case, standing: Standing) -> tuple[Skipped, ...]:
    """List the questions that were not asked, each with the reason."""
    found: list[Skipped] = []
    for place, given in standing.holds.items():
        if given.place == place:
            continue
        if not place.is_look:
            on_the_way = (
                standing.walks[place.symptom].path
                if case.order == "guided"
                else standing.fitting[place.symptom]
            )
            if place.name not in on_the_way:
                continue
        says = CANNOT_TELL if given.answer is None else given.says
        where = title_of(library, given.place)
        reason = f"Asked already ({where}): {says}."
        if place in case.given:
            reason = f"Answered here first, and asked again later ({where}): {says}."
        found.append(Skipped(place, title_of(library, place), _asked(library, place), reason))
    for place, passed in case.passed.items():
        if place in standing.holds or place.symptom not in standing.walks:
            continue
        if place.name in standing.walks[place.symptom].path:
            found.append(Skipped(place, title_of(library, place), passed.asked, passed.reason))
    return tuple(found)


def _asked(library: Library, place: Place) -> str:
    if place.is_look:
        return library.looks[place.name].ask
    return library.trees[place.symptom].checks[place.name].ask
