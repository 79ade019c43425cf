"""Which of two kinds of one system the machine has not, as far as an answer says so.

An author does not write it down: it follows from what a check ``shows``. Where causes that are put right with one
fluid show one answer, and causes that are put right with its enemy show another, the check tells which of the two
systems the machine has.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from diagtree.library.library import Library
from diagtree.model.family import Use
from diagtree.model.tree import Check, Trust
from diagtree.work.prices import all_jobs

if TYPE_CHECKING:
    from diagtree.reasoning.evidence import Evidence


@dataclass(frozen=True, slots=True)
class OtherKind:
    """The answer that says that the machine has the other kind: what was asked, and what was said."""

    ask: str
    says: str


def of_the_other_kind(library: Library, evidence: Evidence) -> Mapping[str, OtherKind]:
    """Tell the systems that the machine has not, because an answer to be relied on speaks for the other kind.

    Parameters
    ----------
    library
        Trees, causes and what their remedies fill.
    evidence
        What was told.

    Returns
    -------
    dict
        By system; empty as long as nobody asked, or nobody could tell.

    Examples
    --------
    >>> from diagtree.reasoning.evidence import Evidence
    >>> of_the_other_kind(Library(), Evidence(()))
    {}
    """
    ruled_out: dict[str, OtherKind] = {}
    for (symptom, name), given in evidence.answers.items():
        check = library.tree(symptom).checks[name]
        if check.trust is not Trust.SURE or given not in check.answers:
            continue
        spoken_for = _spoken_for(library, check)
        mine = spoken_for.get(given, set())
        others = set().union(*spoken_for.values()) - mine
        for system in sorted(others):
            if any(are_rivals(library, system, own) for own in mine):
                ruled_out.setdefault(system, OtherKind(check.ask, check.answers[given].says))
    return ruled_out


def _spoken_for(library: Library, check: Check) -> dict[str, set[str]]:
    """Tell for each answer the systems that are filled where a cause shows it."""
    systems: dict[str, set[str]] = {}
    for cause, shown in check.shows.items():
        if isinstance(shown, str) and cause in library.causes:
            systems.setdefault(shown, set()).update(_filled(library, cause))
    return systems


def _filled(library: Library, cause: str) -> Iterable[str]:
    """Name the systems that the remedies of a cause fill."""
    for name in library.causes[cause].remedies:
        remedy = library.remedies.get(name)
        if remedy is None:
            continue
        uses: list[Use] = [*remedy.fluids]
        for job in all_jobs(library, remedy.jobs):
            uses += library.jobs[job].fluids
        yield from (use.into for use in uses if use.into is not None)


def are_rivals(library: Library, one: str, other: str) -> bool:
    """Tell whether two systems are two kinds of one: of one family, with fluids that must never meet."""
    if one == other or one.partition("/")[0] != other.partition("/")[0]:
        return False
    if one not in library.systems or other not in library.systems:
        return False
    fluids = product(library.systems[one].takes, library.systems[other].takes)
    return any(never_together(library, first, second) for first, second in fluids)


def never_together(library: Library, one: str, other: str) -> bool:
    """Tell whether two fluids must never meet: it is enough that one of them says so."""
    never = {name: library.fluids[name].never_with for name in (one, other) if name in library.fluids}
    return other in never.get(one, ()) or one in never.get(other, ())
