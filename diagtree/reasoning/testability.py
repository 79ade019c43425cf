"""How well a tree's checks tell its causes apart: figures from the answers that each cause is likeliest to give.

Our own forms of the classic testability measures (Simpson, Sheppard, IEEE Design & Test 9(1), 1992; Sheppard,
Kaufman on IEEE 1522); no conformance is claimed.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from diagtree.library.library import Library
from diagtree.reasoning.effort import opening_jobs
from diagtree.reasoning.rows import TreeRows, entropy, rows_of

MOST_CHECKS = 18
"""Up to so many checks the cheapest sufficient set is searched for exactly."""

Signature = tuple[str, ...]
"""For each check the answer by which a cause shows; empty where it shows what a sound part shows."""


@dataclass(frozen=True, slots=True)
class Testability:
    """How well causes are told apart.

    Parameters
    ----------
    detected
        Share of the machines whose cause shows in some check.
    groups
        Causes that show alike, those that no check shows last.
    hidden
        The causes that no check shows: the last of the groups, or none.
    told_apart
        Share of the detected machines whose group has at most 1, 2, 3 ... causes.
    mean_size, expected_size
        Mean size of a group, and the mean over detected machines.
    uncertainty, removable
        How open the cause is at the start, and how much of it the checks can remove, in bits.
    unneeded
        Checks without which the causes are told apart as well.
    cheapest
        The cheapest set of checks that tells them apart as well as all do.
    cheapest_minutes
        What that set takes.
    exact
        False if the set was not searched for exactly.
    """

    detected: float
    groups: tuple[tuple[str, ...], ...]
    hidden: tuple[str, ...]
    told_apart: tuple[float, ...]
    mean_size: float
    expected_size: float
    uncertainty: float
    removable: float
    unneeded: tuple[str, ...]
    cheapest: tuple[str, ...]
    cheapest_minutes: float
    exact: bool


def signatures(rows: TreeRows) -> Mapping[str, Signature]:
    """Return for each cause the answers by which it shows.

    A cause of several findings shows what their mixture is likeliest to show.
    """
    found: dict[str, Signature] = {}
    for cause, numbers in rows.findings_of.items():
        whole = math.fsum(rows.findings[number].share for number in numbers)
        if whole <= 0:
            continue
        signs = []
        for name, check in rows.checks.items():
            mixed = [0.0] * len(check.answers)
            for number in numbers:
                share = rows.findings[number].share / whole
                mixed = [m + share * p for m, p in zip(mixed, rows.row(name, number), strict=True)]
            place = max(range(len(mixed)), key=lambda a: round(mixed[a], 9))
            most = max(check.sound)
            if most - min(check.sound) < 1e-9:
                # Nobody said what a sound part shows: a cause shows where one answer stands out at all.
                shows = mixed[place] > most + 1e-9
            else:
                shows = check.sound[place] < most - 1e-9
            signs.append(check.answers[place] if shows else "")
        found[cause] = tuple(signs)
    return found


def _partition(signs: Mapping[str, Signature], kept: Sequence[int]) -> dict[Signature, list[str]]:
    groups: dict[Signature, list[str]] = {}
    for cause, signature in signs.items():
        groups.setdefault(tuple(signature[place] for place in kept), []).append(cause)
    return groups


def tell_apart(
    shares: Mapping[str, float],
    signs: Mapping[str, Signature],
    minutes: Mapping[str, float],
    opening: Mapping[str, Mapping[str, float]] | None = None,
) -> Testability:
    """Work out how well causes are told apart.

    Parameters
    ----------
    shares
        The share of each cause; adds up to 1.
    signs
        For each cause its signature.
    minutes
        Each check and its minutes, in the order of the signature.
    opening
        For each check its opening jobs and their minutes; paid once.
    """
    checks = tuple(minutes)
    every = range(len(checks))
    whole = _partition(signs, every)
    detected = {signature: causes for signature, causes in whole.items() if any(signature)}
    weight = {signature: math.fsum(shares[c] for c in causes) for signature, causes in whole.items()}
    seen = math.fsum(weight[signature] for signature in detected)
    largest = max((len(causes) for causes in detected.values()), default=0)
    told = tuple(
        math.fsum(weight[s] for s, causes in detected.items() if len(causes) <= size) / seen
        for size in range(1, largest + 1)
    )
    count = len(whole)
    unneeded = tuple(
        name
        for place, name in enumerate(checks)
        if len(_partition(signs, [other for other in every if other != place])) == count
    )
    chosen, cost, exact = _cheapest(signs, minutes, opening or {}, count)
    order = sorted(whole.items(), key=lambda each: (not any(each[0]), -len(each[1]), -weight[each[0]]))
    return Testability(
        detected=seen,
        groups=tuple(tuple(causes) for _, causes in order),
        hidden=tuple(cause for signature, causes in order if not any(signature) for cause in causes),
        told_apart=told,
        mean_size=sum(map(len, detected.values())) / len(detected) if detected else 0.0,
        expected_size=math.fsum(weight[s] * len(c) for s, c in detected.items()) / seen if detected else 0.0,
        uncertainty=entropy(shares.values()),
        removable=entropy(weight.values()),
        unneeded=unneeded,
        cheapest=chosen,
        cheapest_minutes=cost,
        exact=exact,
    )


def _cheapest(
    signs: Mapping[str, Signature],
    minutes: Mapping[str, float],
    opening: Mapping[str, Mapping[str, float]],
    count: int,
) -> tuple[tuple[str, ...], float, bool]:
    checks = tuple(minutes)

    def cost(kept: Sequence[int]) -> float:
        jobs = {job: spent for place in kept for job, spent in opening.get(checks[place], {}).items()}
        return sum(minutes[checks[place]] for place in kept) + sum(jobs[job] for job in sorted(jobs))

    # A check whose loss merges groups by itself is in every sufficient set.
    every = range(len(checks))
    must = [p for p in every if len(_partition(signs, [q for q in every if q != p])) < count]
    free = [p for p in every if p not in must]
    if len(free) > MOST_CHECKS:
        kept = list(every)
        for place in sorted(free, key=lambda p: -minutes[checks[p]]):
            without = [other for other in kept if other != place]
            if len(_partition(signs, without)) == count:
                kept = without
        return tuple(checks[p] for p in kept), cost(kept), False
    best, chosen = math.inf, list(every)
    for size in range(len(free) + 1):
        for some in itertools.combinations(free, size):
            kept = sorted([*must, *some])
            spent = cost(kept)
            if spent < best - 1e-9 and len(_partition(signs, kept)) == count:
                best, chosen = spent, kept
    return tuple(checks[p] for p in chosen), best if chosen else 0.0, True


def testability(library: Library, symptom: str) -> Testability:
    """Work out how well the checks of a tree tell its causes apart.

    Examples
    --------
    >>> from diagtree.library.loading import load_library
    >>> library = load_library()
    >>> tells = testability(library, next(iter(library.trees)))
    >>> tells.removable <= tells.uncertainty
    True
    """
    tree = library.tree(symptom)
    rows = rows_of(tree)
    shares = {
        cause: math.fsum(rows.findings[number].share for number in numbers)
        for cause, numbers in rows.findings_of.items()
    }
    signs = signatures(rows)
    return tell_apart(
        {cause: shares[cause] for cause in signs},
        signs,
        {name: float(check.minutes) for name, check in tree.checks.items()},
        {name: opening_jobs(library, check.behind) for name, check in tree.checks.items()},
    )
