"""Checks the build of one tree as it was read: where answers lead, loops, ways in, bands, counts, cases."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import Any, NamedTuple

from diagtree.library.document import Document, Plain
from diagtree.library.fault import Fault, Path, did_you_mean, ring
from diagtree.library.references import each, mapping
from diagtree.library.rings import rings
from diagtree.model.words import within_reason


class Edge(NamedTuple):
    """A way from one check to another."""

    to: str
    path: Path


def ways(data: dict[str, Any]) -> dict[str, list[Edge]]:
    """For each check, the ways on: by an answer, or when nobody can tell."""
    on: dict[str, list[Edge]] = {}
    for name, check in mapping(data.get("checks")).items():
        on[name] = [
            Edge(answer["next"], ("checks", name, "answers", key, "next"))
            for key, answer in mapping(mapping(check).get("answers")).items()
            if isinstance(answer, dict) and isinstance(answer.get("next"), str)
        ]
        if isinstance(value := mapping(check).get("cannot-tell"), str):
            on[name].append(Edge(value, ("checks", name, "cannot-tell")))
    return on


def faults_of_tree(document: Document) -> Iterator[Fault]:
    """Yield what is wrong with the build of a tree."""
    data = document.data
    on = ways(data)
    nowhere = list(_leads_nowhere(document, on))
    yield from nowhere
    yield from _loops(document, on)
    # A name spelt wrong cuts off all that follows: one fault, not ten.
    if not nowhere and not _open_ends(data):
        yield from _never_reached(document, on)
    yield from _shows(document)
    yield from _no_counts(document)
    yield from _cases(document, on)


def _open_ends(data: dict[str, Any]) -> bool:
    return any(
        "next" not in mapping(answer) and "found" not in mapping(answer)
        for check in mapping(data.get("checks")).values()
        for answer in mapping(mapping(check).get("answers")).values()
    )


def _leads_nowhere(document: Document, on: dict[str, list[Edge]]) -> Iterator[Fault]:
    first = document.data.get("first")
    edges = [edge for edges in on.values() for edge in edges]
    if isinstance(first, str):
        edges.append(Edge(first, ("first",)))
    for edge in edges:
        if edge.to not in on:
            yield document.fault(
                edge.path,
                f"There is no check '{edge.to}' in this tree.",
                did_you_mean(edge.to, on, "Add it."),
                rule="unknown-check",
            )


def _loops(document: Document, on: dict[str, list[Edge]]) -> Iterator[Fault]:
    for edge, loop in rings(on):
        yield document.fault(
            edge.path,
            f"This leads round in a loop: {ring(loop)}.",
            "Lead it to a check that was not asked yet, or to a finding.",
            rule="loop",
        )


def reached(data: dict[str, Any], on: dict[str, list[Edge]]) -> set[str]:
    """Return the checks that can be reached from the first one."""
    first = data.get("first")
    seen: set[str] = set()
    open_ = [first] if isinstance(first, str) and first in on else []
    while open_:
        name = open_.pop()
        if name not in seen:
            seen.add(name)
            open_ += [edge.to for edge in on[name] if edge.to in on]
    return seen


def _never_reached(document: Document, on: dict[str, list[Edge]]) -> Iterator[Fault]:
    seen = reached(document.data, on)
    if not seen:
        return
    for name in on:
        if name not in seen:
            yield document.fault(
                ("checks", name),
                "No answer leads to this check.",
                "Lead one to it, or take it out.",
                of_key=True,
                rule="unreachable-check",
            )


def _shows(document: Document) -> Iterator[Fault]:
    for name, check in mapping(document.data.get("checks")).items():
        answers = mapping(mapping(check).get("answers"))
        for cause, row in mapping(mapping(check).get("shows")).items():
            path: Path = ("checks", name, "shows", cause)
            named = (
                [(row, path, False)]
                if isinstance(row, str)
                else [(a, (*path, a), True) for a in mapping(row)]
            )
            for answer, at, of_key in named:
                if answer not in answers:
                    yield _no_answer(document, at, answer, answers, of_key)


def _no_answer(document: Document, path: Path, answer: str, answers: Plain, of_key: bool = False) -> Fault:
    told = f"There is no answer '{answer}' to that check."
    return document.fault(path, told, did_you_mean(answer, answers), of_key=of_key, rule="unknown-answer")


def _no_counts(document: Document) -> Iterator[Fault]:
    found = [
        number(count)
        for check in mapping(document.data.get("checks")).values()
        for answer in mapping(mapping(check).get("answers")).values()
        for count in mapping(mapping(answer).get("found")).values()
    ]
    if found and not any(count is None or count > 0 for count in found):
        yield document.fault(
            ("checks",),
            "No finding has a count, so nothing says which cause is likely.",
            "Write behind each cause how many of 100 with this complaint have it: found: {the-cause: 20}.",
            of_key=True,
            rule="no-counts",
        )


def _cases(document: Document, on: dict[str, list[Edge]]) -> Iterator[Fault]:
    checks = mapping(document.data.get("checks"))
    for case, path in each(document.data.get("cases"), ("cases",)):
        for name, answer in mapping(mapping(case).get("answers")).items():
            at = (*path, "answers", name)
            if name not in on:
                told = f"There is no check '{name}' in this tree."
                yield document.fault(at, told, did_you_mean(name, on), of_key=True, rule="unknown-check")
                continue
            answers = mapping(mapping(checks.get(name)).get("answers"))
            if isinstance(answer, str) and answer not in answers:
                yield _no_answer(document, at, answer, answers)


def number(text: object) -> Decimal | None:
    """Read a number as the models take it; None if it is none, or none that anybody means.

    Examples
    --------
    >>> number("2.5"), number("a lot"), number("1e999999999")
    (Decimal('2.5'), None, None)
    """
    try:
        value = Decimal(text) if isinstance(text, str) else None
    except InvalidOperation:
        return None
    return value if value is not None and within_reason(value) else None


def is_true(text: object) -> bool:
    """Tell whether a text says true, as the models take it.

    Examples
    --------
    >>> is_true("true"), is_true("Yes"), is_true("no"), is_true(None)
    (True, True, False, False)
    """
    return isinstance(text, str) and text.lower() in {"true", "yes", "on", "y", "t", "1"}


def faults_of_bands(
    document: Document, check: str, least: Decimal | None = None, most: Decimal | None = None
) -> Iterator[Fault]:
    """Yield overlaps and gaps between the bands of a check that takes a reading.

    Parameters
    ----------
    document
        The tree's file.
    check
        The check's name.
    least, most
        The range in which the reading makes sense, if it has one: nothing need cover what is outside.
    """
    bands: list[tuple[Decimal | None, Decimal | None, str]] = []
    for name, answer in mapping(mapping(document.data["checks"][check]).get("answers")).items():
        low, high = mapping(answer).get("from"), mapping(answer).get("below")
        ends = (number(low), number(high))
        if (
            (low is not None and ends[0] is None)
            or (high is not None and ends[1] is None)
            or ends == (None, None)
        ):
            return  # told already, as a value that is no number or a band that is missing
        bands.append((*ends, name))
    if not bands:
        return
    bands.sort(key=lambda band: (band[0] is not None, band[0] or 0))
    at = ("checks", check, "answers")
    low = bands[0][0]
    if low is not None and low > 0 and (least is None or low > least):
        told = f"No answer covers a value under {low}."
        yield document.fault(
            (*at, bands[0][2], "from"), told, "Take this 'from:' out, or add an answer.", rule="band-gap"
        )
    for (_, high, before), (low, _, name) in itertools.pairwise(bands):
        if low is None or high is None or high > low:
            told = f"This band overlaps the one of '{before}'."
            mend = f"Begin it where that one ends{f': from: {high}' if high is not None and low is not None else ''}."
            key = "from" if low is not None else "below"
            yield document.fault((*at, name, key), told, mend, rule="band-overlap")
        elif high < low:
            told = f"Between {high} and {low} there is no answer: a gap after '{before}'."
            yield document.fault(
                (*at, name, "from"), told, f"Begin it where that one ends: from: {high}.", rule="band-gap"
            )
    high = bands[-1][1]
    if high is not None and all(band[1] is not None for band in bands) and (most is None or high <= most):
        told = f"No answer covers a value of {high} or more."
        yield document.fault(
            (*at, bands[-1][2], "below"), told, "Take this 'below:' out, or add an answer.", rule="band-gap"
        )
