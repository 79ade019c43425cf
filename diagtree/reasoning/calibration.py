"""Stated chances held against what turned out: the calibration table and the Brier score."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist

BINS = 10
"""The calibration table's rows: stated chances by tenths."""


@dataclass(frozen=True, slots=True)
class Machine:
    """One machine at the end of its walk.

    Parameters
    ----------
    symptom
        What it came in with.
    cause
        What is behind it.
    first
        The cause that came first in the ranking.
    stated
        The chance that was stated for that cause.
    minutes, checks
        What the walk took.
    brier, prior_brier
        Brier score of the ranking, and of the ranking before any look or answer: the sum over causes of (chance
        minus 1 if it was the one) squared; 0 is best, 2 worst.
    """

    symptom: str
    cause: str
    first: str
    stated: float
    minutes: float
    checks: int
    brier: float
    prior_brier: float

    @property
    def right(self) -> bool:
        """True if the cause that came first was the one."""
        return self.first == self.cause


@dataclass(frozen=True, slots=True)
class Bin:
    """Machines for whose first cause about the same chance was stated.

    Parameters
    ----------
    count
        How many.
    stated
        The mean stated chance.
    true
        How often it was right.
    error
        One standard error of that, were the stated chances true and the machines drawn one by one.
    """

    count: int
    stated: float
    true: float
    error: float

    @property
    def holds(self) -> bool:
        """True if stated and true are within two standard errors."""
        return abs(self.true - self.stated) <= 2 * self.error + 1e-12


@dataclass(frozen=True, slots=True)
class Calibration:
    """Stated chances against what turned out.

    Parameters
    ----------
    machines
        How many machines.
    bins
        Those of the ten bins that have any, lowest first.
    brier, prior_brier
        Mean Brier score with all looks and answers, and with the prior alone.
    right
        How often the first cause was the right one.
    minutes
        Mean minutes to a finding.
    """

    machines: int
    bins: tuple[Bin, ...]
    brier: float
    prior_brier: float
    right: float
    minutes: float

    @property
    def within(self) -> int:
        """How many bins are within two standard errors."""
        return sum(each.holds for each in self.bins)

    @property
    def allowance(self) -> float:
        """Standard errors within which all bins of 95 in 100 such tables lie, were the stated chances true.

        One bin lies within two standard errors 95 times in 100, so of ten bins one or another lies outside in
        4 tables of 10, however true the chances are. This is the bound for all bins at once (Šidák 1967).
        """
        return all_within(len(self.bins))

    @property
    def holds(self) -> bool:
        """True if all bins at once are within `allowance`: what to ask of machines that came by themselves."""
        return all(abs(each.true - each.stated) <= self.allowance * each.error + 1e-12 for each in self.bins)


def all_within(bins: int) -> float:
    """Return how many standard errors hold all of so many bins at once, 95 times in 100.

    References
    ----------
    Šidák, "Rectangular confidence regions for the means of multivariate normal distributions", Journal of the
    American Statistical Association 62:626-633, 1967.

    Examples
    --------
    >>> round(all_within(1), 2), round(all_within(10), 2)
    (1.96, 2.8)
    """
    each = 0.95 ** (1 / max(1, bins))
    return NormalDist().inv_cdf((1 + each) / 2)


def brier(chances: Mapping[str, float], truth: str) -> float:
    """Return the Brier score of one forecast over several causes.

    Examples
    --------
    >>> round(brier({"a": 0.7, "b": 0.2, "c": 0.1}, "a"), 6)
    0.14
    """
    return sum((chance - (cause == truth)) ** 2 for cause, chance in chances.items())


def calibrate(machines: Sequence[Machine]) -> Calibration:
    """Hold the stated chances of first causes against how often they were right.

    References
    ----------
    Brier, "Verification of forecasts expressed in terms of probability", Monthly Weather Review 78, 1950.
    """
    rows: list[list[Machine]] = [[] for _ in range(BINS)]
    for machine in machines:
        rows[min(BINS - 1, int(machine.stated * BINS))].append(machine)
    count = max(1, len(machines))
    return Calibration(
        machines=len(machines),
        bins=tuple(_bin(row) for row in rows if row),
        brier=sum(machine.brier for machine in machines) / count,
        prior_brier=sum(machine.prior_brier for machine in machines) / count,
        right=sum(machine.right for machine in machines) / count,
        minutes=sum(machine.minutes for machine in machines) / count,
    )


def _bin(machines: Sequence[Machine]) -> Bin:
    many = len(machines)
    variance = sum(machine.stated * (1 - machine.stated) for machine in machines)
    return Bin(
        count=many,
        stated=sum(machine.stated for machine in machines) / many,
        true=sum(machine.right for machine in machines) / many,
        error=float(variance**0.5 / many),
    )
