"""Chances and money in words and figures for the sheet."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")


def odds(chance: float) -> str:
    """Say a chance as a mechanic would.

    Parameters
    ----------
    chance
        From 0 to 1.

    Examples
    --------
    >>> [odds(p) for p in (0.001, 0.03, 1 / 6, 0.25, 0.42, 0.66, 0.93, 0.97, 0.999)]
    ['under 1 in 100', '3 in 100', '1 in 6', '1 in 4', '4 in 10', '7 in 10', '9 in 10', '97 in 100', 'almost certain']
    """
    if chance < 0.0095:
        return "under 1 in 100"
    if 0.045 <= chance < 0.36:
        return f"1 in {round(1 / chance)}"
    if 0.36 <= chance < 0.945:
        return f"{round(chance * 10)} in 10"
    return f"{round(chance * 100)} in 100" if chance < 0.995 else "almost certain"


def money(amount: Decimal) -> Decimal:
    """Round to cents, half up.

    Examples
    --------
    >>> money(Decimal("2.345"))
    Decimal('2.35')
    """
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def to_multiple(amount: Decimal, multiple: Decimal) -> Decimal:
    """Round to the nearest multiple, half up.

    Examples
    --------
    >>> to_multiple(Decimal("10.024"), Decimal("0.05")), to_multiple(Decimal("10.025"), Decimal("0.05"))
    (Decimal('10.00'), Decimal('10.05'))
    """
    return (amount / multiple).to_integral_value(rounding=ROUND_HALF_UP) * multiple


def what_with_part(cause: str, part: str | None) -> str:
    """Name a cause with its part, unless its title names it already.

    Examples
    --------
    >>> what_with_part("Flex damaged", "Flex and plug"), what_with_part("Perished", "Seal")
    ('Flex damaged', 'Seal: Perished')
    """
    if part is None or not part.split() or part.lower().split()[0] in cause.lower().split():
        return cause
    return f"{part}: {cause}"


def share_out(total: Decimal, weights: list[float], unit: Decimal = CENT) -> list[Decimal]:
    """Share a sum by weights, in whole units, so that the shares add up to it exactly.

    The unit that is left over goes where most was cut off (largest remainder).

    Parameters
    ----------
    total
        A multiple of ``unit``, not negative.
    weights
        Not negative, at least one above zero.

    Examples
    --------
    >>> share_out(Decimal("1.00"), [1, 1, 1])
    [Decimal('0.34'), Decimal('0.33'), Decimal('0.33')]
    """
    whole = int(total / unit)
    scale = whole / sum(weights)
    shares = [int(weight * scale) for weight in weights]
    left = whole - sum(shares)
    by_remainder = sorted(range(len(weights)), key=lambda i: (shares[i] - weights[i] * scale, i))
    for step in range(abs(left)):
        shares[by_remainder[step % len(shares)]] += 1 if left > 0 else -1
    return [share * unit for share in shares]
