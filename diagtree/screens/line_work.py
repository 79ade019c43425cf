"""The work in plain lines: verdicts, plan and price, as line mode says them once the questions are at their end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.screens.words import minutes_in_words, sentence
from diagtree.screens.worked import ceiling_passed

if TYPE_CHECKING:
    from diagtree.case.case import Case
    from diagtree.work.result import Work


def work_lines(case: Case, work: Work) -> list[str]:
    """Say what is to be done, in which order, and what it costs.

    Parameters
    ----------
    case
        What is ticked off already, and what the customer agreed to.
    work
        What follows from the case.

    Returns
    -------
    list of str
        Lines.
    """
    from diagtree.work.repeated import again_after, done_jobs, to_be_repeated

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
    if estimate.unpriced:
        lines.append(f"Not in the price: {', '.join(estimate.unpriced)}.")
    passed = ceiling_passed(case, work)
    return [*lines, passed] if passed else lines
