"""Found on the way: what a finding changes against what the customer agreed to."""

from __future__ import annotations

import enum
from dataclasses import dataclass, replace
from decimal import Decimal

from diagtree.work.result import PartVerdict, PlannedJob, Work


class Ceiling(enum.Enum):
    """How the work stands to the ceiling that the customer agreed to."""

    WITHIN = "within"
    """Plan and allowance stay under it."""
    MAY_PASS = "may pass"
    """The plan stays under it; with the allowance it would pass it."""
    PASSED = "passed"
    """The plan alone passes it: stop and ask."""


@dataclass(frozen=True, slots=True)
class Change:
    """What is otherwise after a finding.

    Parameters
    ----------
    new_jobs, dropped_jobs
        Jobs that only the new or only the old plan has, in their order.
    new_verdicts, dropped_verdicts
        Planned verdicts that only the new or only the old work has.
    changed_verdicts
        The same part, planned before and after with another remedy: (before, after).
    planned, price, allowance, minutes
        Before and after; minutes are those of the plan.
    agreed
        The ceiling that the work is held against: what the customer agreed to, or the price before.
    by_word
        True if the customer agreed to it, False if it is only the price before.
    ceiling
        How the new work stands to it.
    says
        All this in sentences; the last one says what to do.
    """

    new_jobs: tuple[PlannedJob, ...]
    dropped_jobs: tuple[PlannedJob, ...]
    new_verdicts: tuple[PartVerdict, ...]
    dropped_verdicts: tuple[PartVerdict, ...]
    changed_verdicts: tuple[tuple[PartVerdict, PartVerdict], ...]
    planned: tuple[Decimal, Decimal]
    price: tuple[Decimal, Decimal]
    allowance: tuple[Decimal, Decimal]
    minutes: tuple[float, float]
    agreed: Decimal
    by_word: bool
    ceiling: Ceiling
    says: tuple[str, ...]

    @property
    def stop_and_ask(self) -> bool:
        """True if nothing more is done before the customer has been asked."""
        return self.ceiling is Ceiling.PASSED


def compare(before: Work, after: Work, agreed: Decimal | None = None) -> Change:
    """Compare the work before and after a finding.

    Parameters
    ----------
    before
        What the customer agreed to.
    after
        What follows with the finding.
    agreed
        The ceiling that the customer agreed to, tax included; by default the price before, allowance and all.

    Returns
    -------
    Change
        What is otherwise, and whether to stop and ask.
    """
    ceiling = before.estimate.price if agreed is None else agreed
    plan, price = after.estimate.planned.total, after.estimate.price
    stands = Ceiling.PASSED if plan > ceiling else Ceiling.MAY_PASS if price > ceiling else Ceiling.WITHIN
    old = {(row.part, row.remedy): row for row in before.verdicts if row.planned}
    new = {(row.part, row.remedy): row for row in after.verdicts if row.planned}
    gone = [row for key, row in old.items() if key not in new]
    come = [row for key, row in new.items() if key not in old]
    changed = tuple((was, now) for was in gone for now in come if was.part == now.part)
    gone = [row for row in gone if all(row is not was for was, _ in changed)]
    come = [row for row in come if all(row is not now for _, now in changed)]
    before_jobs = {job.job for job in before.plan}
    after_jobs = {job.job for job in after.plan}
    change = Change(
        new_jobs=tuple(job for job in after.plan if job.job not in before_jobs),
        dropped_jobs=tuple(job for job in before.plan if job.job not in after_jobs),
        new_verdicts=tuple(come),
        dropped_verdicts=tuple(gone),
        changed_verdicts=changed,
        planned=(before.estimate.planned.total, plan),
        price=(before.estimate.price, price),
        allowance=(before.estimate.allowance, after.estimate.allowance),
        minutes=(before.estimate.expected_minutes, after.estimate.expected_minutes),
        agreed=ceiling,
        by_word=agreed is not None,
        ceiling=stands,
        says=(),
    )
    return _with_sentences(change, after.estimate.currency)


def _with_sentences(change: Change, currency: str) -> Change:
    says = [f"New: {row.reason}" for row in change.new_verdicts]
    says += [
        f"{now.part_title}: '{now.remedy_title}' instead of '{was.remedy_title}'. {now.reason}"
        for was, now in change.changed_verdicts
    ]
    says += [f"No longer: {row.part_title}, '{row.remedy_title}'." for row in change.dropped_verdicts]
    if not says:
        says.append("The plan stays as it is.")
    for name, (was, now) in (
        ("Planned", change.planned),
        ("Allowance", change.allowance),
        ("Price", change.price),
    ):
        if was != now:
            says.append(f"{name}: {currency} {now} instead of {was}.")
    held = f"{'the agreed' if change.by_word else 'the estimate of'} {currency} {change.agreed}"
    if change.ceiling is Ceiling.PASSED:
        over = change.planned[1] - change.agreed
        says.append(f"Stop and ask: the plan alone is {currency} {over} over {held}.")
    elif change.ceiling is Ceiling.MAY_PASS:
        says.append(f"Tell the customer now: {held} may not be enough.")
    else:
        says.append(f"Go on: it stays within {held}.")
    return replace(change, says=tuple(says))
