"""Credible intervals of a share: quantiles of the beta distribution, without a statistics package."""

from __future__ import annotations

import math

MOST_TERMS = 10_000
_TINY = 1e-300
_CLOSE = 1e-15


def beta_below(x: float, a: float, b: float) -> float:
    """Return the chance that a beta-distributed share is x or less: the regularised incomplete beta function.

    Parameters
    ----------
    x
        A share from 0 to 1.
    a, b
        The distribution's shapes, above 0.

    References
    ----------
    NIST Digital Library of Mathematical Functions, 8.17(v): the continued fraction 8.17.22, worked out by the
    modified method of Lentz.

    Examples
    --------
    >>> round(beta_below(0.25, 1, 1), 12), round(beta_below(0.5, 3, 3), 12)
    (0.25, 0.5)
    """
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    # The fraction is quick on this side of the mean; on the other side the mirror image is taken.
    if x > (a + 1) / (a + b + 2):
        return 1 - beta_below(1 - x, b, a)
    log_front = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    return math.exp(log_front) * _fraction(x, a, b) / a


def _fraction(x: float, a: float, b: float) -> float:
    d = 1 - (a + b) * x / (a + 1)
    d = 1 / (d if abs(d) > _TINY else _TINY)
    c, value = 1.0, d
    for m in range(1, MOST_TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1 + term * d
            d = 1 / (d if abs(d) > _TINY else _TINY)
            c = 1 + term / c
            c = c if abs(c) > _TINY else _TINY
            value *= c * d
        if abs(c * d - 1) < _CLOSE:
            break
    return value


def beta_quantile(chance: float, a: float, b: float) -> float:
    """Return the share that a beta-distributed one stays at or under with a given chance; found by halving.

    Examples
    --------
    >>> round(beta_quantile(0.25, 1, 1), 12)
    0.25
    """
    low, high = 0.0, 1.0
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            return middle
        if beta_below(middle, a, b) < chance:
            low = middle
        else:
            high = middle


def interval(a: float, b: float, out_of_100: float = 90) -> tuple[float, float]:
    """Return the ends between which a beta-distributed share lies so many times out of 100, as often under as over.

    A shape of 0 stands for a share that is certainly 0 (or 1).

    Examples
    --------
    >>> [round(end, 6) for end in interval(4.6, 25.4)]
    [0.061477, 0.271713]
    """
    if a <= 0:
        return 0.0, 0.0
    if b <= 0:
        return 1.0, 1.0
    tail = (1 - out_of_100 / 100) / 2
    return beta_quantile(tail, a, b), beta_quantile(1 - tail, a, b)
