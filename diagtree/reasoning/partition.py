r"""Exact sums over who stands behind what: several complaints, causes that they may share.

Each complaint s has one responsible cause, weighed :math:`A_s(c)`. A cause with chance p that is responsible for
the complaints R is paid for once, so it contributes :math:`p \prod_{s \in R} A_s(c)`; left alone it contributes 1.
With one sign :math:`z_s` for each complaint, :math:`z_s^2 = 0`, that is

.. math:: 1 - p + p \prod_s (1 + A_s z_s) = 1 - p + p \exp(\sum_s A_s z_s)
          = \exp \sum_R \kappa_{|R|}(p) \prod_{s \in R} A_s z_s

with the cumulants :math:`\kappa_n(p)` of a coin that falls to 1 with chance p. The product over all causes is one
exponential of the sum of their exponents, and its coefficient at all complaints is a sum over set partitions,
each block weighed by :math:`K_R = \sum_c \kappa_{|R|}(p_c) \prod_{s \in R} A_s(c)`. Cost: linear in causes.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping, Sequence

from diagtree.reasoning.vectors import plus, times

Sums = dict[int, list[float]]
"""For each set of complaints (a bit each): a value for each joint state of the conditions."""


@functools.cache
def stirling(n: int, k: int) -> int:
    """Return the number of ways to part n things into k heaps (Stirling, second kind).

    Examples
    --------
    >>> [stirling(4, k) for k in range(5)]
    [0, 1, 7, 6, 1]
    """
    if n == k:
        return 1
    return k * stirling(n - 1, k) + stirling(n - 1, k - 1) if 0 < k < n else 0


def cumulant(n: int, chance: float) -> float:
    """Return the n-th cumulant (n from 1) of a coin that falls to 1 with this chance.

    Examples
    --------
    >>> cumulant(1, 0.25), cumulant(2, 0.25), cumulant(3, 0.25)
    (0.25, 0.1875, 0.09375)
    """
    terms = [stirling(n, k) * math.factorial(k - 1) * chance**k for k in range(1, n + 1)]
    return math.fsum(terms[::2]) - math.fsum(terms[1::2])


def reciprocal(n: int, chance: float) -> float:
    """Return the n-th derivative at 0 of 1 / (1 - p + p exp t): what takes a cause out of a product again.

    Examples
    --------
    >>> reciprocal(0, 0.25), reciprocal(1, 0.25), reciprocal(2, 0.25)
    (1.0, -0.25, -0.125)
    """
    terms = [stirling(n, k) * math.factorial(k) * chance**k for k in range(n + 1)]
    return math.fsum(terms[::2]) - math.fsum(terms[1::2])


def subsets(of: int) -> list[int]:
    """Return all subsets of a set of bits, the empty one first.

    Examples
    --------
    >>> subsets(0b101)
    [0, 1, 4, 5]
    """
    found, part = [], of
    while True:
        found.append(part)
        if not part:
            return found[::-1]
        part = (part - 1) & of


def partition_sums(whole: int, blocks: Mapping[int, Sequence[float]], size: int) -> Sums:
    """Sum over all ways to part each subset of the complaints into blocks.

    Parameters
    ----------
    whole
        The complaints, a bit each.
    blocks
        For each block that occurs, its weight in each of `size` states.
    size
        How many states there are.

    Returns
    -------
    Sums
        For each subset of `whole` the sum of the products of its blocks, state by state.

    Examples
    --------
    >>> partition_sums(0b11, {0b01: [2.0], 0b10: [3.0], 0b11: [5.0]}, 1)[0b11]
    [11.0]
    """
    starting: dict[int, list[int]] = {}
    for block in blocks:
        starting.setdefault(block & -block, []).append(block)
    sums: Sums = {0: [1.0] * size}
    for part in subsets(whole)[1:]:
        # The block with the lowest complaint comes first, so that each partition is met once.
        total: list[float] | None = None
        for block in starting.get(part & -part, ()):
            if block & ~part:
                continue
            rest = part ^ block
            term = times(blocks[block], sums[rest]) if rest else list(blocks[block])
            total = term if total is None else plus(total, term)
        sums[part] = total if total is not None else [0.0] * size
    return sums


def with_certain(whole: int, sums: Sums, terms: Mapping[int, Sequence[float]]) -> Sums:
    """Multiply a cause that is known to be there into the sums.

    Parameters
    ----------
    whole
        The complaints, a bit each.
    sums
        The sums without it.
    terms
        Its weight when it is responsible for each set of complaints; the empty set included.
    """
    joined: Sums = {}
    for part in subsets(whole):
        total = times(terms[0], sums[part])
        for block, weight in terms.items():
            if block and not block & ~part:
                total = plus(total, times(weight, sums[part ^ block]))
        joined[part] = total
    return joined
