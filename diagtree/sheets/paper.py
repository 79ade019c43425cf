"""The paper: one frozen data model for all that leaves the bench, from which every writer sets its form."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from diagtree.clean import clean
from diagtree.errors import UnknownNameError
from diagtree.library.library import Library
from diagtree.model.workshop import Workshop
from diagtree.sheets.blocks import Facts, Section, Warn, with_texts
from diagtree.sheets.data import Plain, data_of
from diagtree.sheets.estimate import estimate_paper
from diagtree.sheets.facts import CaseFacts
from diagtree.sheets.ground import Ground, Judged
from diagtree.sheets.handover import handover_paper
from diagtree.sheets.job import job_paper
from diagtree.sheets.torque import torque_paper
from diagtree.work.result import Work


class Kind(enum.Enum):
    """The four papers."""

    JOB = "job"
    ESTIMATE = "estimate"
    TORQUE = "torque"
    HANDOVER = "handover"


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper, ready to be set.

    Parameters
    ----------
    kind
        Which of the four; or a worksheet, which tells of no case.
    title, subtitle
        Its heading, and what it is about.
    head
        Label, complaint, dates, workshop.
    warnings
        Cautions and orders to stop: set before all else, none of them split.
    sections
        The rest, in order.
    trees
        Version and identity of each tree that was walked: at the foot of each page.
    date
        ISO 8601; the case's last change, so that the same case gives the same paper.
    language
        Of the texts, for screen readers.
    data
        The same in plain values, for programs: what the JSON form holds.
    """

    kind: Kind | Literal["worksheet"]
    title: str
    subtitle: str
    head: Facts
    warnings: tuple[Warn, ...]
    sections: tuple[Section, ...]
    trees: str
    date: str
    language: str = "en-GB"
    data: Mapping[str, Plain] = field(default_factory=dict)


def paper_for(
    kind: Kind | str, library: Library, facts: CaseFacts, belief: Judged, work: Work, workshop: Workshop
) -> Paper:
    """Make one of the four papers.

    Parameters
    ----------
    kind
        Which, as `Kind` or by its name.
    library
        Where titles and bases are looked up.
    facts
        The case.
    belief
        What the answers led to.
    work
        What follows from it.
    workshop
        Whose paper it is.

    Returns
    -------
    Paper
        Nothing in it can steer a terminal: each text has gone through `diagtree.clean.clean`.

    Raises
    ------
    UnknownNameError
        If there is no such kind of paper, or a complaint is in no tree.
    """
    try:
        kind = Kind(kind)
    except ValueError:
        raise UnknownNameError("paper", str(kind), [known.value for known in Kind]) from None
    # Line ends inside an author's text become spaces here; those that are set later are ours.
    ground = Ground(library, with_texts(facts, clean), belief, with_texts(work, clean), workshop)
    make = {
        Kind.JOB: job_paper,
        Kind.ESTIMATE: estimate_paper,
        Kind.TORQUE: torque_paper,
        Kind.HANDOVER: handover_paper,
    }[kind]
    title, warnings, sections = make(ground)
    return with_texts(
        Paper(
            kind=kind,
            title=title,
            subtitle=ground.subtitle,
            head=ground.head,
            warnings=tuple(warning for warning in warnings if warning.texts),
            sections=tuple(section for section in sections if section.blocks),
            trees=ground.trees,
            date=ground.facts.updated or ground.facts.opened,
            data=data_of(kind.value, ground),
        ),
        _kept,
    )


def _kept(text: str) -> str:
    """Clean what came straight from the library; line ends that are left are set on purpose."""
    return clean(text, keep_newlines=True)
