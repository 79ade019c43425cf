"""The work in plain lines: verdicts, plan and price, as line mode says them once the questions are at their end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.screens.words import minutes_in_words, sentence

if TYPE_CHECKING:
    from diagtree.case.walker import Walker
    from diagtree.model.workshop import Workshop


def work_lines(walker: Walker, workshop: Workshop) -> list[str]:
    """Say what is to be done, in which order, and what it costs.

    Parameters
    ----------
    walker
        The case.
    workshop
        Whose rates count.

    Returns
    -------
    list of str
        Lines; what cannot be worked out is said in words.
    """
    from decimal import Decimal

    from diagtree.errors import ExpectedError
    from diagtree.model.workshop import Brief
    from diagtree.work.repeated import again_after, done_jobs, to_be_repeated
    from diagtree.work.work import work_out

    case = walker.case
    try:
        work = work_out(
            walker.library,
            walker.belief,
            walker.evidence,
            workshop,
            brief=Brief(case.brief) if case.brief else None,
            wishes=case.wishes,
            overrule={part: event.remedy for part, event in case.overruled.items()},
        )
    except ExpectedError as error:
        return [str(error)]
    lines = ["What is to be done:"]
    lines += [
        f"{verdict.reason}{'' if verdict.in_scope else ' Not in the brief: advice.'}"
        for verdict in work.verdicts
        if verdict.planned
    ]
    later = [verdict.reason for verdict in work.verdicts if not verdict.planned]
    if later:
        lines += ["If it is not that:", *later]
    if work.plan:
        lines.append("In this order:")
    again, finished = to_be_repeated(work.plan, case.jobs_done), done_jobs(work.plan, case.jobs_done)
    for job in work.plan:
        done = " (done)" if job.job in finished else ""
        takes = minutes_in_words(round(job.expected) or 0.5)
        late = f" {again_after(again[job.job])}" if job.job in again else ""
        lines.append(f"{job.number}. {sentence(job.title)[:-1]}, {takes}{done}.{late}")
    estimate = work.estimate
    lines.append(
        f"Price: {estimate.price} {estimate.currency}, of which {estimate.allowance} is an allowance for the "
        f"unexpected; {minutes_in_words(round(estimate.expected_minutes))} of work."
    )
    lines += [f"Allowance: {item} {estimate.currency}." for item in estimate.items]
    if case.agreed is not None:
        ceiling = case.agreed.ceiling or case.agreed.price
        if estimate.price > Decimal(ceiling):
            lines.append(f"That is over the agreed {ceiling} {estimate.currency}: stop and ask the customer.")
    return lines
