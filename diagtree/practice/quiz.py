"""What is asked once the fault is known: how tight, which way round, which fluid or compound."""

from __future__ import annotations

import random
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.model.family import Fastener, Fluid, FluidKind, Hand, Use
from diagtree.practice.machine import Machine
from diagtree.units import beside, parse, plain

CLOCKWISE, ANTICLOCKWISE = "Clockwise", "Anticlockwise"
MOST_CHOICES = 4


@dataclass(frozen=True, slots=True)
class Quiz:
    """One question about the work.

    Parameters
    ----------
    kind
        ``torque``, ``turn`` or ``fluid``.
    about
        The fastener or the job, by its full name.
    remedy
        The remedy that it belongs to, by its full name.
    ask
        The question.
    choices
        What can be chosen; empty where a number is wanted.
    right
        The right answer in words.
    least, most
        For a torque: the range that counts, N·m.
    basis
        Where the figure comes from.
    """

    kind: Literal["torque", "turn", "fluid"]
    about: str
    remedy: str
    ask: str
    choices: tuple[str, ...]
    right: str
    least: Decimal = Decimal(0)
    most: Decimal = Decimal(0)
    basis: str = ""

    def judge(self, given: str) -> bool:
        """Tell whether an answer is right: a torque within the range, ends included.

        Parameters
        ----------
        given
            A torque with its unit (N·m where none is written), a choice's number from 1, or its words.

        Raises
        ------
        diagtree.errors.ExpectedError
            If it is no torque, or none of the choices.

        Examples
        --------
        >>> quiz = Quiz("torque", "kettle/nut", "kettle/new", "How tight?", (), "4 to 6 N·m", Decimal(4), Decimal(6))
        >>> quiz.judge("6"), quiz.judge("6.1 N·m"), quiz.judge("44 lbf·in")
        (True, False, True)
        """
        if not self.choices:
            value = parse(given, like="N·m").to("N·m").value
            return self.least <= value <= self.most
        return self.chosen(given) == self.right

    def chosen(self, given: str) -> str:
        """Return the choice that is meant.

        Raises
        ------
        ExpectedError
            If it is none of them.
        """
        said = " ".join(given.split()).casefold()
        if said.isdecimal() and len(said) < 4 and 1 <= int(said) <= len(self.choices):
            return self.choices[int(said) - 1]
        for choice in self.choices:
            if choice.casefold() == said:
                return choice
        raise ExpectedError(f"'{given}' is none of the choices.", f"Type 1 to {len(self.choices)}.")


def questions_for(library: Library, machine: Machine) -> tuple[Quiz, ...]:
    """Make the questions about the work that a machine needs; at most three a cause.

    Parameters
    ----------
    library
        Where remedies, jobs, fasteners and fluids are.
    machine
        The machine.

    Returns
    -------
    tuple of Quiz
        The same for the same machine; none where the work touches no such fastener and no fluid.
    """
    chance = random.Random(f"work {machine.seed} {' '.join(machine.complaints)}")
    asked: list[Quiz] = []
    for cause in dict.fromkeys(machine.causes.values()):
        for remedy in library.causes[cause].remedies:
            found = _of_remedy(library, remedy, chance)
            if found:
                asked += found
                break
    unique = {(quiz.kind, quiz.about): quiz for quiz in asked}
    return tuple(unique.values())


def jobs_of(library: Library, remedy: str) -> tuple[str, ...]:
    """Return all jobs of a remedy: what they need first, the jobs themselves, what must be closed after."""
    done: dict[str, None] = {}

    def add(name: str) -> None:
        job = library.jobs.get(name)
        if job is None or name in done:
            return
        for needed in job.needs:
            add(needed)
        done[name] = None
        for closing in job.after:
            add(closing)

    for name in library.remedies[remedy].jobs:
        add(name)
    return tuple(done)


def _of_remedy(library: Library, remedy: str, chance: random.Random) -> list[Quiz]:
    jobs = jobs_of(library, remedy)
    own = [name for name in library.remedies[remedy].jobs if name in library.jobs]
    first = _fasteners(library, own) or _fasteners(library, jobs)
    asked = list(_of_fasteners(library, remedy, first, chance))
    fluid = _fluid_question(library, remedy, jobs, chance)
    return asked if fluid is None else [*asked, fluid]


def _fasteners(library: Library, jobs: Iterable[str]) -> list[str]:
    names = dict.fromkeys(name for job in jobs for name in library.jobs[job].fasteners)
    return [
        name for name in names if name in library.fasteners and library.fasteners[name].torque is not None
    ]


def _of_fasteners(
    library: Library, remedy: str, names: Sequence[str], chance: random.Random
) -> Iterator[Quiz]:
    if not names:
        return
    name = chance.choice(names)
    fastener = library.fasteners[name]
    torque = fastener.torque
    if torque is not None:
        yield Quiz(
            kind="torque",
            about=name,
            remedy=remedy,
            ask=f"{_work(library, remedy)} How tight does it go: {_called(fastener)}?",
            choices=(),
            right=f"{_span(torque.from_, torque.to)} N·m ({beside(torque.from_, torque.to)})",
            least=torque.from_,
            most=torque.to,
            basis=fastener.basis or "",
        )
    left = [each for each in names if library.fasteners[each].hand is Hand.LEFT]
    if left:
        turned = library.fasteners[left[0]]
        yield Quiz(
            kind="turn",
            about=left[0],
            remedy=remedy,
            ask=f"Which way does it tighten, seen from its own side: {_called(turned)}?",
            choices=(CLOCKWISE, ANTICLOCKWISE),
            right=ANTICLOCKWISE,
            basis=turned.basis or "",
        )


def _work(library: Library, remedy: str) -> str:
    title = library.remedies[remedy].title
    return title if title.endswith((".", "!", "?")) else f"{title}."


def _called(fastener: Fastener) -> str:
    thread = "" if fastener.thread == "none" else f" ({fastener.thread})"
    return f"{fastener.title}{thread}"


def _span(least: Decimal, most: Decimal) -> str:
    return plain(least) if least == most else f"{plain(least)} to {plain(most)}"


def _fluid_question(library: Library, remedy: str, jobs: Sequence[str], chance: random.Random) -> Quiz | None:
    uses: list[tuple[str, Use]] = [("", use) for use in library.remedies[remedy].fluids]
    uses += [(job, use) for job in jobs for use in library.jobs[job].fluids]
    known = [(job, use) for job, use in uses if use.fluid in library.fluids]
    if not known:
        return None
    # What goes into a system must be right; what a rag is wetted with matters less.
    job, use = next(((job, use) for job, use in known if use.into is not None), known[0])
    right = library.fluids[use.fluid]
    used = {use.fluid for _, use in known} | _compounds(library, jobs)
    others = _others(library, use, right, used, chance)
    if not others:
        return None
    choices = [right.title, *others]
    chance.shuffle(choices)
    title = library.jobs[job].title if job else library.remedies[remedy].title
    system = library.systems.get(use.into) if use.into is not None else None
    into = f" into the {_lower(system.title)}" if system is not None else ""
    return Quiz(
        kind="fluid",
        about=job or remedy,
        remedy=remedy,
        ask=f"{title}: what is used{into}?" if not into else f"{title}: what goes{into}?",
        choices=tuple(choices),
        right=right.title,
        basis=right.basis or "",
    )


def _compounds(library: Library, jobs: Iterable[str]) -> set[str]:
    """What goes on the threads of some jobs."""
    fasteners = (name for job in jobs for name in library.jobs[job].fasteners)
    found = (library.fasteners[name].compound for name in fasteners if name in library.fasteners)
    return {name for name in found if name is not None}


def _lower(title: str) -> str:
    text = title.removeprefix("The ").removeprefix("the ")
    return text[0].lower() + text[1:] if text[1:2].islower() else text


def _others(
    library: Library, use: Use, right: Fluid, used: Collection[str], chance: random.Random
) -> list[str]:
    """Choose what would be wrong beyond doubt.

    Never what the same work uses elsewhere. Into a system goes what it takes and nothing else, so there the
    other fluids that must never meet it come first. Elsewhere one grease may do where another is named: what is
    wrong is of quite another kind, or must never meet it.
    """
    allowed = {use.fluid, *used}
    system = library.systems.get(use.into) if use.into is not None else None
    if system is not None:
        allowed |= set(system.takes)
    never = [
        name
        for name, fluid in library.fluids.items()
        if name not in allowed and (name in right.never_with or use.fluid in fluid.never_with)
    ]
    other = [
        name
        for name, fluid in library.fluids.items()
        if name not in allowed and name not in never and (system is not None or _sort(fluid) != _sort(right))
    ]
    chance.shuffle(never)
    chance.shuffle(other)
    if system is None:
        # One of each kind: three cleaners beside a grease would give it away.
        other = list({library.fluids[name].kind: name for name in other}.values())
    titles = dict.fromkeys(library.fluids[name].title for name in (*never[:2], *other))
    titles.pop(right.title, None)
    return list(titles)[: MOST_CHOICES - 1]


def _sort(fluid: Fluid) -> str:
    """Oils, greases and pastes are one sort: which of them is best is a matter of taste more than once."""
    slippery = {FluidKind.OIL, FluidKind.GREASE, FluidKind.COMPOUND}
    return "slippery" if fluid.kind in slippery else fluid.kind.value
