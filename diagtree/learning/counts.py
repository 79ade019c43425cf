"""The workshop's own counts: confirmed machines beside a tree, and the library that counts with them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Annotated

from pydantic import AfterValidator, Field

from diagtree.errors import ExpectedError
from diagtree.learning.credible import interval
from diagtree.library.document import read_document
from diagtree.library.fault import FaultyFileError, short
from diagtree.library.library import Library, Problem
from diagtree.library.sources import bytes_of, files_under, shown
from diagtree.library.validation import validated
from diagtree.model.tree import Answer, Tree
from diagtree.model.words import Name, Reference, Written

ENDING = ".counts"
"""How the file of own counts ends; it is YAML, but no tree."""

USUAL_WEIGHT = Decimal(20)
"""The author's counts weigh as much as so many confirmed machines, if nobody says otherwise."""


def _case_id(text: str) -> str:
    if not re.fullmatch(r"[0-9a-f]{12}", text):
        raise ValueError(f"'{short(text)}' is no case: each has twelve hexadecimal digits, in quotes")
    return text


CaseId = Annotated[str, AfterValidator(_case_id)]
"""Twelve hexadecimal digits that stand for one case; nothing of the case can be read from them."""


class OwnCounts(Written):
    """What a workshop counted for one tree."""

    counts_for: Name
    """The symptom whose tree it is."""
    weighs: Annotated[Decimal, Field(ge=Decimal("0.001"), le=1_000_000)] = USUAL_WEIGHT
    """How many confirmed machines the author's counts weigh as much as."""
    machines: Mapping[CaseId, Reference] = {}
    """Each confirmed machine once: its case, and the cause that it was."""


@dataclass(frozen=True, slots=True)
class Share:
    """One cause of a tree: what its author said, what was confirmed, what is taken now.

    Parameters
    ----------
    cause
        The cause's full name.
    stated
        The author's share, from 0 to 1.
    confirmed
        On how many machines it was confirmed.
    now
        The share that is taken now.
    low, high
        The share lies between these 90 times out of 100.
    """

    cause: str
    stated: float
    confirmed: int
    now: float
    low: float
    high: float

    @property
    def moved(self) -> bool:
        """True if the author's share is outside the interval."""
        return not self.low <= self.stated <= self.high


def shares(tree: Tree, own: OwnCounts) -> tuple[Share, ...]:
    """Add a workshop's counts to its author's.

    A cause with share m of the author's counts, which weigh as much as s machines, confirmed on n of N machines,
    has the share (s m + n) / (s + N): the mean of a Dirichlet distribution that began with the author's counts.
    Machines with a cause that the tree does not find are left out of N; see `outside`.

    Parameters
    ----------
    tree
        The tree as its author wrote it, references spelt in full.
    own
        The workshop's counts.

    Returns
    -------
    tuple of Share
        In the author's order; none if the tree has no counts.

    References
    ----------
    Gelman et al., "Bayesian Data Analysis", 3rd edition, 2013, section 3.4.
    """
    written = _written(tree)
    total = sum(written.values())
    if not total:
        return ()
    confirmed = Counter(cause for cause in own.machines.values() if cause in written)
    weight, many = Fraction(own.weighs), sum(confirmed.values())
    found = []
    for cause, count in written.items():
        before = weight * count / total
        after = before + confirmed[cause]
        low, high = interval(float(after), float(weight + many - after))
        found.append(
            Share(cause, float(count / total), confirmed[cause], float(after / (weight + many)), low, high)
        )
    return tuple(found)


def outside(tree: Tree, own: OwnCounts) -> Mapping[str, int]:
    """Count the machines whose confirmed cause the tree does not find, by cause."""
    written = _written(tree)
    return dict(sorted(Counter(cause for cause in own.machines.values() if cause not in written).items()))


def _written(tree: Tree) -> dict[str, Fraction]:
    counts: dict[str, Fraction] = {}
    for answer in _findings(tree):
        for cause, count in (answer.found or {}).items():
            counts[cause] = counts.get(cause, Fraction(0)) + Fraction(count)
    return counts


def _findings(tree: Tree) -> Iterator[Answer]:
    for check in tree.checks.values():
        for answer in check.answers.values():
            if answer.found is not None:
                yield answer


def with_learnt_counts(library: Library, counts: Mapping[str, OwnCounts]) -> Library:
    """Return the library with a workshop's own counts put into its trees; each is told in ``notices``.

    Parameters
    ----------
    library
        The library as its authors wrote it.
    counts
        Own counts by the name of their file; of two for the same tree the later one counts.

    Returns
    -------
    Library
        A cause that is found in several places keeps the proportions that its author gave them.
    """
    trees = dict(library.trees)
    notices, problems = list(library.notices), list(library.problems)
    latest = {own.counts_for: file for file, own in counts.items()}
    for file, own in counts.items():
        tree = library.trees.get(own.counts_for)
        if tree is None:
            told = f"These counts are for the tree '{own.counts_for}', which is not here."
            problems.append(Problem(file, told))
            continue
        if latest[own.counts_for] != file:
            told = f"These counts are not used: those in {latest[own.counts_for]} take their place."
            notices.append(Problem(file, told))
            continue
        now = {share.cause: share.now for share in shares(tree, own)}
        if not now:
            continue
        trees[own.counts_for] = _recounted(tree, now)
        many = len(own.machines) - sum(outside(tree, own).values())
        whose = f"{many} confirmed {library.machine.one if many == 1 else library.machine.many}"
        told = f"The tree '{own.counts_for}' counts with {whose} of your own beside its author's."
        notices.append(Problem(file, told))
    return replace(library, trees=trees, notices=tuple(notices), problems=tuple(problems))


def _recounted(tree: Tree, now: Mapping[str, float]) -> Tree:
    written = _written(tree)
    places = Counter(cause for answer in _findings(tree) for cause in answer.found or {})

    def count(cause: str, was: Decimal) -> Decimal:
        part = Fraction(was) / written[cause] if written[cause] else Fraction(1, places[cause])
        return Decimal(f"{100 * now[cause] * float(part):.6f}")

    checks = {}
    for name, check in tree.checks.items():
        answers = {
            key: answer
            if answer.found is None
            else answer.model_copy(update={"found": {c: count(c, was) for c, was in answer.found.items()}})
            for key, answer in check.answers.items()
        }
        checks[name] = check.model_copy(update={"answers": answers})
    return tree.model_copy(update={"checks": checks})


def counts_in(folders: Iterable[Path]) -> tuple[dict[str, OwnCounts], list[Problem]]:
    """Read the own counts in and under some folders.

    Returns
    -------
    tuple
        The counts by the name of their file; and what could not be read, and why.
    """
    counts: dict[str, OwnCounts] = {}
    problems: list[Problem] = []
    for file in (file for folder in folders for file in _files(folder, problems)):
        try:
            counts[shown(file)] = read_counts(file)
        except FaultyFileError as error:
            problems += [Problem(fault.where, fault.message) for fault in error.faults]
        except ExpectedError as error:
            problems.append(Problem(shown(file), str(error)))
    return counts, problems


def _files(folder: Path, problems: list[Problem]) -> Iterator[Path]:
    told: list[Problem] = []
    for file in files_under(folder, (ENDING,), told) if folder.is_dir() else ():
        if isinstance(file, Path):
            yield file
    # What is wrong with the folder itself is told where its trees are read.
    problems += [problem for problem in told if problem.where.endswith(ENDING)]


def read_counts(file: Path, symptom: str | None = None) -> OwnCounts:
    """Read one file of own counts.

    Parameters
    ----------
    file
        The file.
    symptom
        The tree that they must be for; any if None.

    Raises
    ------
    ExpectedError
        If it cannot be read, or is for another tree.
    FaultyFileError
        If it has a fault: all of them, each with its line.
    """
    try:
        raw = bytes_of(file)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise ExpectedError(
            f"The counts in '{file}' cannot be read: {why}.", "Mend that, or take it out."
        ) from None
    document = read_document(raw, shown(file), begins="counts-for: symptom")
    if document.data is None:
        raise FaultyFileError(document.faults)
    own, faults = validated(OwnCounts, document)
    if own is None or document.faults:
        raise FaultyFileError(sorted([*document.faults, *faults]))
    if symptom is not None and own.counts_for != symptom:
        raise ExpectedError(
            f"The file '{file}' holds the counts for '{own.counts_for}', not for '{symptom}'.",
            "Give it another name, or mend its first line.",
        )
    return own


def counts_text(own: OwnCounts) -> str:
    """Write own counts as a file; the same counts, the same text.

    Examples
    --------
    >>> print(counts_text(OwnCounts(counts_for="no-heat", machines={"0" * 12: "kettle/scale"})))
    # Your own counts for one tree, written by: diagtree learn
    # The tree itself stays as its author wrote it. Take this file away, and its author's counts stand alone.
    #
    # 1 confirmed: kettle/scale 1
    counts-for: no-heat
    <BLANKLINE>
    # The author's counts weigh as much as so many confirmed machines:
    weighs: 20
    <BLANKLINE>
    # Each confirmed machine once: its case, and what it was.
    machines:
      "000000000000": kettle/scale
    <BLANKLINE>
    """
    by_cause = sorted(Counter(own.machines.values()).items(), key=lambda one: (-one[1], one[0]))
    told = ", ".join(f"{cause} {count}" for cause, count in by_cause) or "none yet"
    machines = "".join(f'\n  "{case}": {cause}' for case, cause in sorted(own.machines.items()))
    return f"""\
# Your own counts for one tree, written by: diagtree learn
# The tree itself stays as its author wrote it. Take this file away, and its author's counts stand alone.
#
# {len(own.machines)} confirmed: {told}
counts-for: {own.counts_for}

# The author's counts weigh as much as so many confirmed machines:
weighs: {own.weighs:f}

# Each confirmed machine once: its case, and what it was.
machines:{machines or " {}"}
"""
