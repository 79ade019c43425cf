"""Machines for a "find the fault" sheet: what was told, what was checked, and the key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagtree.case.log import MemoryLog
from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.practice.debrief import engine_way
from diagtree.practice.levels import Level
from diagtree.practice.machine import MOST_SEED, Machine, draw_complaints, draw_machine
from diagtree.practice.play import Play, Step
from diagtree.practice.quiz import jobs_of
from diagtree.reasoning.belief import Belief
from diagtree.reasoning.choosing import gains
from diagtree.reasoning.why import NOTICEABLE, decibans

MOST_TASKS = 60
_STRIDE = 1_000_003
"""Between the seeds of two machines on one sheet."""


@dataclass(frozen=True, slots=True)
class Task:
    """One machine on the sheet.

    Parameters
    ----------
    machine
        The machine.
    steps
        The checks that are told, in order.
    belief
        What follows from looks and checks that are told.
    next
        (symptom, check) of the check that would come next; None if nothing is left to ask.
    next_bits, next_minutes
        What it would tell and take.
    after
        What follows once it is answered; None if there is none.
    misled
        Which of the steps, from 0, made the true cause clearly less likely.
    remedies
        For each cause behind it the remedy whose work is asked about.
    """

    machine: Machine
    steps: tuple[Step, ...]
    belief: Belief
    next: tuple[str, str] | None
    next_bits: float
    next_minutes: float
    after: Belief | None
    misled: tuple[int, ...]
    remedies: tuple[tuple[str, str], ...]


def draw_tasks(
    library: Library, level: Level, seed: int, count: int, wanted: Sequence[str] = ()
) -> tuple[Task, ...]:
    """Draw the machines of a sheet.

    Parameters
    ----------
    library
        The library.
    level
        How hard they are.
    seed
        The same seed, the same sheet.
    count
        How many machines; no two alike in complaint and cause, as far as that can be had.
    wanted
        The complaint or complaints that each comes in with; none: they are drawn.

    Raises
    ------
    ExpectedError
        If the count is out of range.
    """
    if not 1 <= count <= MOST_TASKS:
        raise ExpectedError(f"{count} machines are out of range.", f"Take 1 to {MOST_TASKS}.")
    if not 0 <= seed < MOST_SEED:
        raise ExpectedError(f"The seed {seed} is out of range.", f"Take one from 0 to {MOST_SEED - 1}.")
    tasks: list[Task] = []
    met: set[tuple[tuple[str, str], ...]] = set()
    for number in range(count * 4):
        if len(tasks) == count:
            break
        own = (seed + number * _STRIDE) % MOST_SEED
        machine = draw_machine(library, draw_complaints(library, level, own, wanted), level, own)
        key = tuple(sorted(machine.causes.items()))
        # The last tries take what comes: a tree of two causes has no third machine.
        if key in met and number < count * 4 - (count - len(tasks)):
            continue
        met.add(key)
        tasks.append(_task(library, machine))
    return tuple(tasks)


def _task(library: Library, machine: Machine) -> Task:
    play = Play(library, machine, MemoryLog())
    way, _ = engine_way(play)
    # The last check of the way is left to be found: what next?
    for symptom, check in way.steps[:-1]:
        play.check(symptom, check)
    belief = play.belief
    following = way.steps[-1] if way.steps else None
    worth = next((one for one in gains(belief) if one.place == following), None)
    misled = []
    for place, step in enumerate(play.steps):
        true = machine.causes[step.symptom]
        was, now = (play.believed(told).behind(step.symptom)[true] for told in (step.before, step.after))
        if decibans(now, was) <= -NOTICEABLE:
            misled.append(place)
    after = None
    if following is not None:
        play.check(*following)
        after = play.belief
    return Task(
        machine=machine,
        steps=tuple(play.steps[: len(way.steps) - 1] if way.steps else ()),
        belief=belief,
        next=following,
        next_bits=worth.bits if worth is not None else 0.0,
        next_minutes=worth.minutes if worth is not None else 0.0,
        after=after,
        misled=tuple(misled),
        remedies=tuple((cause, _remedy(library, cause)) for cause in dict.fromkeys(machine.causes.values())),
    )


def _remedy(library: Library, cause: str) -> str:
    """The mildest remedy that tightens or fills something; else the mildest."""
    remedies = library.causes[cause].remedies
    for remedy in remedies:
        if fasteners_of(library, remedy) or fluids_of(library, remedy):
            return remedy
    return remedies[0]


def fasteners_of(library: Library, remedy: str) -> tuple[str, ...]:
    """Return the fasteners with a torque that a remedy's jobs tighten, those of its own jobs first."""
    own = [job for job in library.remedies[remedy].jobs if job in library.jobs]
    names = dict.fromkeys(
        name for job in (*own, *jobs_of(library, remedy)) for name in library.jobs[job].fasteners
    )
    known = (name for name in names if name in library.fasteners)
    return tuple(name for name in known if library.fasteners[name].torque is not None)


def fluids_of(library: Library, remedy: str) -> tuple[str, ...]:
    """Return the fluids, greases and compounds that a remedy and its jobs use."""
    uses = [use.fluid for use in library.remedies[remedy].fluids]
    uses += [use.fluid for job in jobs_of(library, remedy) for use in library.jobs[job].fluids]
    return tuple(name for name in dict.fromkeys(uses) if name in library.fluids)
