"""The work that follows from a case, for the full screen and for plain lines: worked out, and what is still open."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.case.case import Case
    from diagtree.case.walker import Walker
    from diagtree.model.workshop import Workshop
    from diagtree.work.result import PartVerdict, Work


def work_of(walker: Walker, workshop: Workshop) -> Work:
    """Work out what is to be done about what is known now.

    Raises
    ------
    ExpectedError
        If it cannot be worked out: fluids that must never meet, a wish that is not known any more.
    """
    from diagtree.model.workshop import Brief
    from diagtree.work.work import work_out

    case = walker.case
    return work_out(
        walker.library,
        walker.belief,
        walker.evidence,
        workshop,
        brief=Brief(case.brief) if case.brief else None,
        wishes=case.wishes,
        overrule={part: event.remedy for part, event in case.overruled.items()},
    )


def ceiling_passed(case: Case, work: Work) -> str:
    """Say that the price has passed what the customer agreed to; empty if it has not."""
    if case.agreed is None:
        return ""
    ceiling = Decimal(case.agreed.ceiling or case.agreed.price)
    if work.estimate.price <= ceiling:
        return ""
    return (
        f"Stop and ask: the price is now {work.estimate.price} {work.estimate.currency}, "
        f"and at most {ceiling} was agreed."
    )


def still_open(case: Case, work: Work) -> tuple[str, ...]:
    """Say what has not been entered yet, for whoever hands the machine over: jobs and torques."""
    from diagtree.work.repeated import done_jobs

    jobs = len(work.plan) - len(done_jobs(work.plan, case.jobs_done))
    torques = sum(
        1
        for each in work.torque_round
        if each.touched_by and each.least is not None and each.fastener not in case.torques
    )
    said = []
    if jobs:
        said.append(f"Jobs not ticked off: {jobs}.")
    if torques:
        said.append(f"Torques not entered: {torques}.")
    return tuple(said)


def chosen_under(work: Work, verdict: PartVerdict) -> str:
    """Tell the name under which another remedy for a verdict is chosen: its part's, or its cause's.

    The first verdict on a part is the one on the part; each further one is about its own cause.
    """
    first = next(each for each in work.verdicts if each.part == verdict.part)
    return verdict.part if verdict is first or not verdict.cause else verdict.cause


def choices_behind(walker: Walker, verdict: PartVerdict) -> tuple[str, ...]:
    """Tell under which names the remedy of a verdict was chosen: it may be about another part than its cause."""
    library = walker.library
    places = {verdict.cause, verdict.part, library.causes[verdict.cause].part if verdict.cause else None}
    places |= {library.remedies[option.remedy].part for option in verdict.options}
    chosen = walker.case.overruled
    return tuple(name for name, event in chosen.items() if name in places and event.remedy == verdict.remedy)
