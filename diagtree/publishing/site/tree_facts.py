"""What the page of a tree tells, in plain values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from diagtree.drawing.diagram import Drawing, check_box, finding_box, says_of
from diagtree.library.library import Library
from diagtree.model.tree import Answer, Check, Trust
from diagtree.publishing.entries import RISKS, FastenerEntry, fastener_entry, fasteners_of, minutes_text
from diagtree.publishing.looks import likelier
from diagtree.publishing.site.places import answer_anchor, check_anchor, entry_anchor, finding_anchor
from diagtree.sheets.figures import Sources, number

if TYPE_CHECKING:
    from diagtree.model.family import Cause
    from diagtree.work.prices import Prices

TRUSTS = {
    Trust.SURE: "The answer hardly ever misleads.",
    Trust.FAIR: "The answer seldom misleads.",
    Trust.ROUGH: "The answer misleads at times: do not lean on it alone.",
}


@dataclass(frozen=True, slots=True)
class AnswerFacts:
    """An answer: what it says, where it leads."""

    anchor: str
    name: str
    says: str
    to: str
    leads: str
    """``Question 3`` or ``Finding 2``."""
    healthy: bool
    note: str
    caution: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class QuestionFacts:
    """A question with its answers."""

    anchor: str
    box: str
    heading: str
    ask: str
    minutes: str
    trust: str
    how: tuple[str, ...]
    caution: tuple[str, ...]
    behind: tuple[str, ...]
    measured: str
    answers: tuple[AnswerFacts, ...]
    cannot_tell: tuple[str, str] | None
    mark: str


@dataclass(frozen=True, slots=True)
class LikelyFacts:
    """A cause in a finding."""

    anchor: str
    title: str
    count: Decimal
    width: str
    """Of its bar, in hundredths of the tree's largest."""


@dataclass(frozen=True, slots=True)
class FindingFacts:
    """What an answer leads to."""

    anchor: str
    box: str
    heading: str
    stop: str
    back: str
    after: str
    """The question and the answer that lead here."""
    causes: tuple[LikelyFacts, ...]


@dataclass(frozen=True, slots=True)
class RemedyFacts:
    """One way to put a cause right."""

    title: str
    verdict: str
    holds: str
    parts: tuple[str, ...]
    jobs: tuple[tuple[str, str, str, tuple[str, ...]], ...]
    """Anchor on the page of jobs, title, minutes with their basis, cautions."""
    fasteners: tuple[tuple[FastenerEntry, str], ...]
    """With the mark of their basis."""
    fluids: tuple[tuple[str, str], ...]
    """Anchor on the page of fluids, title with the amount."""
    caution: tuple[str, ...]
    verify: tuple[str, ...]
    next_due: str
    mark: str


@dataclass(frozen=True, slots=True)
class CauseFacts:
    """A cause and what is done about it."""

    anchor: str
    name: str
    title: str
    part: str
    risk: str
    unsafe: bool
    why: str
    tell: str
    caution: tuple[str, ...]
    refer: str
    likelier: tuple[tuple[str, str], ...]
    """Anchor on the page of quick looks, and the state with what it does."""
    found: tuple[tuple[str, str], ...]
    """Anchor and heading of each finding that names it."""
    remedies: tuple[RemedyFacts, ...]
    mark: str


@dataclass(frozen=True, slots=True)
class TreeFacts:
    """Everything on the page of a tree."""

    symptom: str
    title: str
    family: str
    also_called: tuple[str, ...]
    caution: tuple[str, ...]
    questions: tuple[QuestionFacts, ...]
    findings: tuple[FindingFacts, ...]
    causes: tuple[CauseFacts, ...]
    minutes: str
    bases: tuple[str, ...]
    version: str
    identity: str
    counts_mark: str


def tree_facts(library: Library, drawing: Drawing, prices: Prices) -> TreeFacts:
    """Gather what the page of a tree tells.

    Parameters
    ----------
    library
        Everything that is known.
    drawing
        Of the tree: its numbers are used on the page too.
    prices
        Knows which jobs a remedy takes.

    Returns
    -------
    TreeFacts
        Questions and findings in the drawing's order, causes likeliest first.
    """
    tree = library.tree(drawing.symptom)
    sources = Sources()
    counts_mark = sources.mark(tree.basis)
    heading = {box.name: box.heading for box in drawing.boxes}
    order = [box.name for box in drawing.boxes]
    checks = sorted(tree.checks.items(), key=lambda item: order.index(check_box(item[0])))
    questions = tuple(_question(library, name, check, heading, sources) for name, check in checks)
    counts = [
        count
        for check in tree.checks.values()
        for answer in check.answers.values()
        for count in (answer.found or {}).values()
    ]
    most = max(counts, default=Decimal(0)) or Decimal(1)
    findings = tuple(
        _finding(library, name, check, answer_name, answer, heading, most)
        for name, check in checks
        for answer_name, answer in check.answers.items()
        if answer.found is not None
    )
    behind: dict[str, Decimal] = {}
    named: dict[str, list[tuple[str, str]]] = {}
    for name, check in checks:
        for answer_name, answer in check.answers.items():
            for cause, count in (answer.found or {}).items():
                behind[cause] = behind.get(cause, Decimal(0)) + count
                named.setdefault(cause, []).append(
                    (finding_anchor(name, answer_name), heading[finding_box(name, answer_name)])
                )
    causes = tuple(
        _cause(library, name, library.causes[name], tuple(named[name]), prices, sources)
        for name in sorted(behind, key=lambda one: -behind[one])
        if name in library.causes
    )
    least, most = _ways(library, drawing.symptom)
    return TreeFacts(
        symptom=drawing.symptom,
        title=tree.title,
        family=tree.family,
        also_called=tree.also_called,
        caution=tree.caution,
        questions=questions,
        findings=findings,
        causes=causes,
        minutes=f"{number(least)} to {number(most)} min" if least != most else f"{number(least)} min",
        bases=sources.lines(),
        version=tree.version,
        identity=drawing.identity,
        counts_mark=counts_mark,
    )


def _question(
    library: Library, name: str, check: Check, heading: Mapping[str, str], sources: Sources
) -> QuestionFacts:
    reading = library.readings.get(check.reading or "") or library.plain_readings.get(check.reading or "")
    measured = f"{reading.title}, in {reading.unit}; for example {reading.example}." if reading else ""
    onward = check.cannot_tell
    return QuestionFacts(
        anchor=check_anchor(name),
        box=check_box(name),
        heading=heading[check_box(name)],
        ask=check.ask,
        minutes=f"{number(check.minutes)} min",
        trust=TRUSTS[check.trust],
        how=check.how,
        caution=check.caution,
        behind=tuple(library.jobs[job].title for job in check.behind if job in library.jobs),
        measured=measured,
        answers=tuple(
            _answer(library, name, check, answer_name, answer, heading)
            for answer_name, answer in check.answers.items()
        ),
        cannot_tell=(check_anchor(onward), heading[check_box(onward)]) if onward else None,
        mark=sources.mark(check.basis),
    )


def _answer(
    library: Library, name: str, check: Check, answer_name: str, answer: Answer, heading: Mapping[str, str]
) -> AnswerFacts:
    if answer.next is not None:
        to, box = check_anchor(answer.next), check_box(answer.next)
    else:
        to, box = finding_anchor(name, answer_name), finding_box(name, answer_name)
    return AnswerFacts(
        anchor=answer_anchor(name, answer_name),
        name=answer_name,
        says=says_of(library, check, answer),
        to=to,
        leads=heading[box],
        healthy=answer.healthy,
        note=answer.note or "",
        caution=answer.caution,
    )


def _finding(
    library: Library,
    name: str,
    check: Check,
    answer_name: str,
    answer: Answer,
    heading: Mapping[str, str],
    most: Decimal,
) -> FindingFacts:
    found = sorted((answer.found or {}).items(), key=lambda item: -item[1])
    return FindingFacts(
        anchor=finding_anchor(name, answer_name),
        box=finding_box(name, answer_name),
        heading=heading[finding_box(name, answer_name)],
        stop=answer.stop or "",
        back=check_anchor(name),
        after=f"{heading[check_box(name)]}: {says_of(library, check, answer)}",
        causes=tuple(
            LikelyFacts(
                entry_anchor("cause", cause),
                library.causes[cause].title if cause in library.causes else cause,
                count,
                f"{100 * count / most:.1f}",
            )
            for cause, count in found
        ),
    )


def _cause(
    library: Library,
    name: str,
    cause: Cause,
    found: tuple[tuple[str, str], ...],
    prices: Prices,
    sources: Sources,
) -> CauseFacts:
    part = library.parts.get(cause.part or "")
    return CauseFacts(
        anchor=entry_anchor("cause", name),
        name=name,
        title=cause.title,
        part=part.title if part else "",
        risk=RISKS[cause.risk],
        unsafe=cause.risk.value == "unsafe",
        why=cause.why,
        tell=cause.tell or "",
        caution=cause.caution,
        refer=cause.refer or "",
        likelier=tuple((entry_anchor("side", name), text) for name, text in likelier(library, cause)),
        found=found,
        remedies=tuple(
            _remedy(library, one, prices, sources) for one in cause.remedies if one in library.remedies
        ),
        mark=sources.mark(cause.basis),
    )


def _remedy(library: Library, name: str, prices: Prices, sources: Sources) -> RemedyFacts:
    from diagtree.work.plan import plan

    remedy = library.remedies[name]
    jobs = plan(prices, [name])
    uses = [*remedy.fluids, *(use for job in jobs for use in library.jobs[job.job].fluids)]
    return RemedyFacts(
        title=remedy.title,
        verdict=remedy.verdict.value,
        holds=f"{number(remedy.holds)} of 100",
        parts=tuple(
            (f"{number(amount)} × " if amount != 1 else "")
            + (library.parts[part].title if part in library.parts else part)
            for part, amount in remedy.parts.items()
        ),
        jobs=tuple(
            (
                entry_anchor("job", job.job),
                job.title,
                f"{minutes_text(job.minutes)} {sources.mark(job.basis)}".rstrip(),
                job.caution,
            )
            for job in jobs
        ),
        fasteners=tuple(
            (entry, sources.mark(entry.basis))
            for entry in (
                fastener_entry(library, one) for one in fasteners_of(library, [job.job for job in jobs])
            )
        ),
        fluids=tuple(
            dict.fromkeys(
                (
                    entry_anchor("fluid", use.fluid),
                    library.fluids[use.fluid].title
                    + (f", {number(use.amount)} {use.unit}" if use.amount is not None else ""),
                )
                for use in uses
                if use.fluid in library.fluids
            )
        ),
        caution=remedy.caution,
        verify=remedy.verify,
        next_due=remedy.next_due or "",
        mark=sources.mark(remedy.basis),
    )


def _ways(library: Library, symptom: str) -> tuple[Decimal, Decimal]:
    """The least and the most minutes from the first question to a finding."""
    tree = library.tree(symptom)
    known: dict[str, tuple[Decimal, Decimal]] = {}

    def reach(name: str) -> tuple[Decimal, Decimal]:
        if name not in known:
            check = tree.checks[name]
            rest = [
                (Decimal(0), Decimal(0)) if answer.next is None else reach(answer.next)
                for answer in check.answers.values()
            ]
            known[name] = (
                check.minutes + min(least for least, _ in rest),
                check.minutes + max(most for _, most in rest),
            )
        return known[name]

    return reach(tree.first)
