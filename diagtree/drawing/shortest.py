"""The drawing of a complaint in the engine's order: always the check that leads to a cause soonest."""

from __future__ import annotations

import heapq
from dataclasses import replace
from decimal import Decimal

from diagtree.drawing.diagram import (
    Box,
    Drawing,
    Kind,
    Likely,
    Line,
    box_of_check,
    drawing_of,
    says_of,
    titles_of,
)
from diagtree.library.library import Library

LEAST = 0.03
"""A way that fewer than this share of the machines go ends."""

MOST = 16
"""Checks on a drawing; the commonest ways are drawn first."""

NAMED = 3
"""Causes that a finding names."""


def shortest_drawing(library: Library, symptom: str, *, remedies: bool = False) -> Drawing:
    """Make the drawing of a complaint in the order that asks least.

    Parameters
    ----------
    library
        Everything that is known.
    symptom
        The complaint.
    remedies
        True to name the remedies under each cause.

    Returns
    -------
    Drawing
        A check may stand on it several times: what comes next depends on all that was answered before. A
        finding tells how likely its causes are, out of 100 machines that come to it.

    Raises
    ------
    UnknownNameError
        If there is no such symptom.
    """
    from diagtree.reasoning.belief import BeliefModel
    from diagtree.reasoning.evidence import Evidence, spread_facts
    from diagtree.reasoning.shortest import next_check

    plain = drawing_of(library, symptom)
    tree = library.tree(symptom)
    model = BeliefModel.of(library, (symptom,))
    boxes, lines = [plain.boxes[0]], []
    checks = findings = 0
    waiting: list[tuple[float, int, str, str, str, dict[tuple[str, str], str]]] = []
    heapq.heappush(waiting, (-1.0, 0, "start", "", "", {}))
    number = 0
    while waiting:
        negative, _, tail, says, stop, answers = heapq.heappop(waiting)
        share = -negative
        belief = model.given(spread_facts(library, Evidence((symptom,), answers=answers)))
        ranked = belief.ranking(symptom)
        worth = None if stop or share < LEAST or checks >= MOST else next_check(belief)
        if worth is None:
            findings += 1
            name = f"finding-{findings}"
            boxes.append(_finding(library, name, findings, stop, ranked, remedies))
        else:
            checks += 1
            name = f"check-{checks}-{worth.check}"
            check = tree.checks[worth.check]
            boxes.append(box_of_check(name, check, checks))
            for answer, chance in belief.predict(symptom, worth.check).items():
                number += 1
                given = check.answers[answer]
                follow = {**answers, (symptom, worth.check): answer}
                entry = (
                    -share * chance,
                    number,
                    name,
                    says_of(library, check, given),
                    given.stop or "",
                    follow,
                )
                heapq.heappush(waiting, entry)
        lines.append(Line(tail, name, says, share=100 * share if says else None))
    return Drawing(
        symptom=plain.symptom,
        title=plain.title,
        family=plain.family,
        version=plain.version,
        identity=plain.identity,
        machines=plain.machines,
        basis=plain.basis,
        boxes=tuple(boxes),
        lines=tuple(lines),
        note=f"The order that asks least. Findings: out of 100 {plain.machines} that come to them.",
        out_of="that come to the finding",
    )


def beside(author: Drawing, engine: Drawing) -> Drawing:
    """Put the engine's order beside the author's, on one drawing.

    Parameters
    ----------
    author, engine
        Two drawings of one complaint.

    Returns
    -------
    Drawing
        With the boxes of both; those of the second have ``short-`` before their names, and their numbers go on
        where those of the first end.
    """
    first, *others = author.boxes
    findings = {Kind.FINDING, Kind.STOP}
    last = {
        ends: max((box.number for box in others if (box.kind in findings) is ends), default=0)
        for ends in (True, False)
    }
    second, *more = (
        replace(
            box,
            name=f"short-{box.name}",
            number=box.number and box.number + last[box.kind in findings],
        )
        for box in engine.boxes
    )
    return replace(
        author,
        boxes=(
            replace(first, also=("The author's order.", *first.also)),
            *others,
            replace(second, also=("The order that asks least.",), cautions=()),
            *more,
        ),
        lines=(
            *author.lines,
            *(replace(line, tail=f"short-{line.tail}", head=f"short-{line.head}") for line in engine.lines),
        ),
        # What the figures of each order are out of, the index of findings says; here there is one line for both.
        note=" ".join(
            part for part in (author.note, "The author's order, and the order that asks least.") if part
        ),
        out_of=f"{author.out_of}; in the order that asks least: {engine.out_of}",
    )


def _finding(
    library: Library, name: str, number: int, stop: str, ranked: list[tuple[str, float]], remedies: bool
) -> Box:
    likely = tuple(
        Likely(cause, Decimal(round(100 * chance)), *titles_of(library, cause, remedies))
        for cause, chance in ranked[:NAMED]
        if chance >= 0.05 or cause == ranked[0][0]
    )
    return Box(name, Kind.STOP if stop else Kind.FINDING, number, stop, likely=likely)
