"""What checks take: their own minutes, and the opening work that is done once for all behind it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from diagtree.library.library import Library


@dataclass(frozen=True, slots=True)
class Effort:
    """What one check takes.

    Parameters
    ----------
    minutes
        By itself.
    opening
        The jobs that must be done first to get at it, with their likely minutes.
    """

    minutes: float
    opening: Mapping[str, float]


def opening_jobs(library: Library, behind: Iterable[str]) -> dict[str, float]:
    """Return the jobs that open the way to something, with what they need, and their likely minutes."""
    jobs: dict[str, float] = {}
    ahead = list(behind)
    while ahead:
        name = ahead.pop()
        if name not in jobs and name in library.jobs:
            job = library.jobs[name]
            jobs[name] = float(job.minutes[1])
            ahead.extend(job.needs)
    return jobs


def minutes_of(library: Library, steps: Iterable[tuple[str, str]]) -> float:
    """Return what some checks, each by (symptom, check), take one after the other, opening work paid once."""
    jobs: dict[str, float] = {}
    own = 0.0
    for symptom, name in steps:
        check = library.trees[symptom].checks[name]
        own += float(check.minutes)
        jobs |= opening_jobs(library, check.behind)
    # In a steady order: another order of the same checks must not differ in the last bit.
    return own + sum(jobs[job] for job in sorted(jobs))


def efforts(library: Library, symptoms: Iterable[str]) -> dict[tuple[str, str], Effort]:
    """Return what each check of some trees takes, by (symptom, check)."""
    return {
        (symptom, name): Effort(float(check.minutes), opening_jobs(library, check.behind))
        for symptom in symptoms
        for name, check in library.tree(symptom).checks.items()
    }
