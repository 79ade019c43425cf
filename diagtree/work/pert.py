"""Minutes from three figures: low, likely and high (PERT).

Mean (a + 4 m + b)/6. For a sum of independent jobs the classic rule takes the variance ((b - a)/6)^2 of each,
adds means and variances, and reads the sum as normal. For single draws the beta distribution on (a, b) with
shape 4 is used, whose mean is the same. Percentiles of single jobs are never added up.

References
----------
D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, "Application of a technique for research and development
program evaluation", Operations Research 7 (1959) 646-669.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import Decimal
from statistics import NormalDist

Three = tuple[Decimal, Decimal, Decimal]
"""Low, likely, high, in minutes."""


def mean(minutes: Three) -> Decimal:
    """Return the expected minutes.

    Examples
    --------
    >>> mean((Decimal(5), Decimal(8), Decimal(17)))
    Decimal('9')
    """
    low, likely, high = minutes
    return (low + 4 * likely + high) / 6


def variance(minutes: Three) -> float:
    """Return the classic variance, ((high - low)/6)^2, in minutes squared.

    Examples
    --------
    >>> variance((Decimal(5), Decimal(8), Decimal(17)))
    4.0
    """
    return float((minutes[2] - minutes[0]) / 6) ** 2


def shape(minutes: Three) -> tuple[float, float]:
    """Return the two parameters of the beta distribution on (low, high): 1 + 4 (m - a)/(b - a) and its mirror.

    Raises
    ------
    ValueError
        If low and high are the same: then there is nothing to draw.

    Examples
    --------
    >>> shape((Decimal(10), Decimal(15), Decimal(30)))
    (2.0, 4.0)
    """
    low, likely, high = (float(figure) for figure in minutes)
    if low == high:
        raise ValueError("low and high are the same: nothing to draw")
    return 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)


def total_at(jobs: Iterable[Three], confidence: float) -> float:
    """Return the minutes that a row of independent jobs does not pass, with this confidence.

    Parameters
    ----------
    jobs
        Low, likely and high minutes of each.
    confidence
        Out of 100, between 0 and 100.

    Examples
    --------
    >>> jobs = [(Decimal(10), Decimal(15), Decimal(30)), (Decimal(20), Decimal(25), Decimal(60)),
    ...         (Decimal(5), Decimal(10), Decimal(15))]
    >>> round(total_at(jobs, 80), 3)
    63.095
    """
    rows = list(jobs)
    expected = float(sum((mean(row) for row in rows), Decimal(0)))
    spread = math.sqrt(sum(variance(row) for row in rows))
    return expected + NormalDist().inv_cdf(confidence / 100) * spread
