"""Trials that were done too early: work on what they try came, or is still to come, after them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from diagtree.work.result import PlannedJob


def to_be_repeated(plan: Sequence[PlannedJob], ticked: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Tell which trials have to be done again, and because of which work.

    Parameters
    ----------
    plan
        The jobs in their order.
    ticked
        The jobs that were ticked off, in the order in which they were.

    Returns
    -------
    dict
        For each trial that was ticked off too early the titles of the work that is open, or was ticked off later.
    """
    place = {job: number for number, job in enumerate(ticked)}
    titles = {job.job: job.title for job in plan}
    again = {}
    for trial in plan:
        if trial.job not in place:
            continue
        late = tuple(titles[job] for job in trial.tries if place.get(job, len(place)) > place[trial.job])
        if late:
            again[trial.job] = late
    return again


def done_jobs(plan: Sequence[PlannedJob], ticked: Iterable[str]) -> frozenset[str]:
    """Return the jobs of a plan that are done: ticked off, and no trial that has to be done again."""
    done = list(ticked)
    return frozenset(job.job for job in plan).intersection(done) - to_be_repeated(plan, done).keys()


def again_after(titles: Sequence[str]) -> str:
    """Say why a trial that was done is open again.

    Examples
    --------
    >>> again_after(("New seal",)), again_after(("New seal", "New fuse", "New flex"))
    ('It was done before this work: New seal. Do it again after it.', \
'It was done before this work: New seal and 2 more. Do it again after it.')
    """
    more = f" and {len(titles) - 1} more" if len(titles) > 1 else ""
    return f"It was done before this work: {titles[0]}{more}. Do it again after it."
