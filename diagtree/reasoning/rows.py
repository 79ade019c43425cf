"""Likelihood rows: what each check of a tree shows for each cause at each of its findings.

A tree with its counts, its noise and its healthy answers is turned into numbers once. A check speaks of few
findings; for all others it shows what a sound part shows. Only those few are written down, so the cost of
an answer is what the answer has to say.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from diagtree.errors import ExpectedError
from diagtree.model.tree import Check, Tree

LEAST_CHANCE = 0.001
"""No answer is ever quite impossible: an author's 0 out of 100 becomes this."""

Row = tuple[float, ...]
"""A chance for each answer, in the author's order; adds up to 1."""


class TreeFaultError(ExpectedError):
    """A tree that cannot be reasoned with: a loop, or findings without counts."""


def entropy(chances: Iterable[float]) -> float:
    """Return the entropy in bits.

    Examples
    --------
    >>> entropy([0.5, 0.25, 0.125, 0.125])
    1.75
    """
    return -math.fsum(chance * math.log2(chance) for chance in chances if chance > 0)


@dataclass(frozen=True, slots=True)
class Finding:
    """One cause at one leaf (check, answer) of a tree.

    Parameters
    ----------
    cause
        The cause's full name.
    check, answer
        The leaf: the answer that ends the walk.
    share
        How many of all machines with this complaint end here for this cause; all shares add up to 1.
    """

    cause: str
    check: str
    answer: str
    share: float


@dataclass(frozen=True)
class CheckRows:
    """What one check shows.

    Parameters
    ----------
    answers
        The answers' names in the author's order.
    sound
        The row of a sound part: shown for each finding that the check does not speak of.
    rows
        The other rows that occur.
    speaks
        (number of the finding, number of the row) for each finding with a row of its own.
    split
        Causes whose findings the check does not treat alike: for each row the findings with it; what is
        left of the cause shows the sound row.
    strangers
        Causes that are not in this tree but have a ``shows`` row here.
    fact
        The shared fact, if it is one.
    """

    answers: tuple[str, ...]
    sound: Row
    rows: tuple[Row, ...]
    speaks: tuple[tuple[int, int], ...]
    split: Mapping[str, Mapping[int, tuple[int, ...]]]
    strangers: Mapping[str, Row]
    fact: str | None

    @cached_property
    def number(self) -> Mapping[str, int]:
        """The position of each answer."""
        return {name: place for place, name in enumerate(self.answers)}

    @cached_property
    def entropies(self) -> tuple[float, ...]:
        """The entropy of each row, in bits."""
        return tuple(entropy(row) for row in self.rows)

    @cached_property
    def sound_entropy(self) -> float:
        """The entropy of the sound row, in bits."""
        return entropy(self.sound)

    @cached_property
    def columns(self) -> tuple[tuple[float, ...], ...]:
        """For each answer its chance in the sound row and in each other row."""
        return tuple(zip(self.sound, *self.rows, strict=True))

    @cached_property
    def noise(self) -> tuple[float, ...]:
        """The entropy of the sound row and of each other row, in bits."""
        return (self.sound_entropy, *self.entropies)

    @cached_property
    def row_of(self) -> Mapping[int, int]:
        """The number of the row for each finding that has one of its own."""
        return dict(self.speaks)


def mixture(check: CheckRows, rest: float, masses: Sequence[float]) -> list[float]:
    """Mix the rows of a check.

    Parameters
    ----------
    check
        The check.
    rest
        How much of the sound row.
    masses
        How much of each other row.
    """
    answers = [rest * chance for chance in check.sound]
    for mass, row in zip(masses, check.rows, strict=True):
        if mass:
            for place, chance in enumerate(row):
                answers[place] += mass * chance
    return answers


@dataclass(frozen=True)
class TreeRows:
    """A tree as numbers: its findings with their shares, and the rows of its checks."""

    symptom: str
    findings: tuple[Finding, ...]
    checks: Mapping[str, CheckRows]

    @cached_property
    def findings_of(self) -> Mapping[str, tuple[int, ...]]:
        """The numbers of each cause's findings, causes in the author's order."""
        places: dict[str, list[int]] = {}
        for number, finding in enumerate(self.findings):
            places.setdefault(finding.cause, []).append(number)
        return {cause: tuple(numbers) for cause, numbers in places.items()}

    def row(self, check: str, finding: int) -> Row:
        """Return the chance of each answer to a check for one finding."""
        rows = self.checks[check]
        number = rows.row_of.get(finding)
        return rows.sound if number is None else rows.rows[number]


def shared_row(names: Sequence[str], favoured: Sequence[str], misleads: float) -> Row:
    """Share the chance 1 - e among the favoured answers and e among the others.

    Where all or none are favoured, all are alike.

    Examples
    --------
    >>> shared_row(["no", "yes", "hardly"], ["no"], 0.02)
    (0.98, 0.01, 0.01)
    >>> shared_row(["no", "yes"], [], 0.02)
    (0.5, 0.5)
    """
    likely = [name in favoured for name in names]
    many = sum(likely)
    if many in {0, len(names)}:
        return (1 / len(names),) * len(names)
    high, low = (1 - misleads) / many, misleads / (len(names) - many)
    return tuple(high if yes else low for yes in likely)


def shown_row(check: Check, shows: str | Mapping[str, object]) -> Row:
    """Turn what an author says that a check shows into a row.

    Parameters
    ----------
    check
        The check.
    shows
        An answer's name alone, or answers out of 100; what is left of 100 is shared by the unnamed.

    Returns
    -------
    Row
        Each chance at least `LEAST_CHANCE` before the row is brought to 1.
    """
    names = tuple(check.answers)
    if isinstance(shows, str):
        return shared_row(names, [shows], check.misleads)
    named = {name: float(str(count)) / 100 for name, count in shows.items()}
    unnamed = [name for name in names if name not in named]
    rest = max(0.0, 1 - sum(named.values())) / max(1, len(unnamed))
    return floored([named.get(name, rest) for name in names])


def floored(chances: Sequence[float]) -> Row:
    """Lift each chance to at least `LEAST_CHANCE` and bring the row to 1.

    Examples
    --------
    >>> [round(chance, 6) for chance in floored([0.0, 1.0])]
    [0.000999, 0.999001]
    """
    lifted = [max(LEAST_CHANCE, chance) for chance in chances]
    total = sum(lifted)
    return tuple(chance / total for chance in lifted)


def leads_to(tree: Tree) -> Mapping[str, Mapping[str, frozenset[tuple[str, str]]]]:
    """Tell for each check and answer which leaves (check, answer) lie ahead.

    Raises
    ------
    TreeFaultError
        If the answers lead in a loop.
    """
    ahead: dict[str, dict[str, frozenset[tuple[str, str]]]] = {}
    for start in tree.checks:
        # Depth first with a stack of our own: an author's tree may be deeper than Python's.
        stack: list[tuple[str, bool]] = [(start, False)]
        open_checks: set[str] = set()
        while stack:
            name, done = stack.pop()
            if name in ahead:
                continue
            check = tree.checks[name]
            if done:
                open_checks.discard(name)
                ahead[name] = {
                    answer: frozenset({(name, answer)})
                    if entry.found is not None
                    else frozenset().union(*ahead.get(entry.next or "", {}).values())
                    for answer, entry in check.answers.items()
                }
                continue
            if name in open_checks:
                raise TreeFaultError(
                    f"The tree '{tree.symptom}' leads in a loop: check '{name}' comes back to itself.",
                    "Let one of its answers lead to a later check or to a finding.",
                )
            open_checks.add(name)
            stack.append((name, True))
            # A name that no check has is left to whoever read the file; the walk ends there.
            following = (answer.next for answer in check.answers.values() if answer.next)
            stack.extend((to, False) for to in following if to in tree.checks)
    return ahead


def rows_of(tree: Tree) -> TreeRows:
    """Turn a tree into numbers.

    Parameters
    ----------
    tree
        The tree, references spelt in full.

    Returns
    -------
    TreeRows
        Findings in the order in which the author wrote them.

    Raises
    ------
    TreeFaultError
        If the tree has no count above 0, or leads in a loop.

    Examples
    --------
    >>> tree = Tree.model_validate({"symptom": "dead", "title": "Dead", "family": "kettle", "first": "lamp",
    ...     "checks": {"lamp": {"ask": "Does the lamp come on?", "minutes": "1", "trust": "sure", "answers": {
    ...         "no": {"says": "No", "found": {"kettle/fuse": "30"}},
    ...         "yes": {"says": "Yes", "found": {"kettle/element": "10"}, "healthy": "true"}}}}})
    >>> rows = rows_of(tree)
    >>> [(finding.cause, finding.share) for finding in rows.findings]
    [('kettle/fuse', 0.75), ('kettle/element', 0.25)]
    >>> rows.row("lamp", 0)
    (0.98, 0.02)
    """
    counts = [
        (cause, name, answer, float(count))
        for name, check in tree.checks.items()
        for answer, entry in check.answers.items()
        for cause, count in (entry.found or {}).items()
    ]
    total = sum(count for *_, count in counts)
    if total <= 0:
        raise TreeFaultError(
            f"The tree '{tree.symptom}' has no counts, so nothing can be said about its causes.",
            "Write under 'found:' how many of 100 machines with this complaint have each cause.",
        )
    findings = tuple(Finding(cause, check, answer, count / total) for cause, check, answer, count in counts)
    at_leaf: dict[tuple[str, str], list[int]] = {}
    of_cause: dict[str, list[int]] = {}
    for number, finding in enumerate(findings):
        at_leaf.setdefault((finding.check, finding.answer), []).append(number)
        of_cause.setdefault(finding.cause, []).append(number)
    ahead = leads_to(tree)
    return TreeRows(
        tree.symptom,
        findings,
        {
            name: _check_rows(check, ahead[name], findings, at_leaf, of_cause)
            for name, check in tree.checks.items()
        },
    )


def split_causes(
    speaks: Sequence[tuple[int, int]], findings: Sequence[Finding], of_cause: Mapping[str, Sequence[int]]
) -> dict[str, dict[int, tuple[int, ...]]]:
    """Find the causes whose findings a check does not treat alike.

    Parameters
    ----------
    speaks
        (number of the finding, number of its row) as in `CheckRows`.
    findings
        The tree's findings.
    of_cause
        The numbers of each cause's findings.

    Returns
    -------
    dict
        For each such cause, row number to findings.
    """
    rows: dict[str, dict[int, list[int]]] = {}
    for finding, row in speaks:
        rows.setdefault(findings[finding].cause, {}).setdefault(row, []).append(finding)
    return {
        cause: {row: tuple(numbers) for row, numbers in own.items()}
        for cause, own in rows.items()
        if len(own) > 1 or sum(map(len, own.values())) < len(of_cause[cause])
    }


def _check_rows(
    check: Check,
    ahead: Mapping[str, frozenset[tuple[str, str]]],
    findings: Sequence[Finding],
    at_leaf: Mapping[tuple[str, str], list[int]],
    of_cause: Mapping[str, list[int]],
) -> CheckRows:
    names = tuple(check.answers)
    sound = shared_row(names, check.healthy, check.misleads)
    towards: dict[int, list[str]] = {}
    for answer in names:
        for leaf in sorted(ahead[answer]):
            for finding in at_leaf.get(leaf, ()):
                towards.setdefault(finding, []).append(answer)
    own: dict[int, Row] = {
        finding: shared_row(names, leading, check.misleads) for finding, leading in towards.items()
    }
    strangers: dict[str, Row] = {}
    for cause, shows in check.shows.items():
        row = shown_row(check, shows)
        if cause not in of_cause:
            strangers[cause] = row
        for finding in of_cause.get(cause, ()):
            own[finding] = row
    rows = list(dict.fromkeys(own.values()))
    number = {row: place for place, row in enumerate(rows)}
    speaks = tuple((finding, number[own[finding]]) for finding in sorted(own))
    return CheckRows(
        answers=names,
        sound=sound,
        rows=tuple(rows),
        speaks=speaks,
        split=split_causes(speaks, findings, of_cause),
        strangers=strangers,
        fact=check.fact,
    )
