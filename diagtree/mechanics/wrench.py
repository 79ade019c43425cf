"""The torque wrench: setting it with an adapter, and what it may be off by.

References
----------
TM 9-254 and aircraft maintenance practice: setting with an adapter. ISO 6789 type II class A: tolerance.
"""

from __future__ import annotations

import math

from diagtree.errors import ExpectedError


class AdapterError(ExpectedError):
    """An adapter that takes all the wrench's leverage away."""


def setting(torque: float, length: float, adapter: float, angle: float = 0.0) -> float:
    """Return what to set a wrench to when an adapter makes it longer or shorter.

    Y = T L / (L + E cos angle). At 90 degrees the adapter changes nothing.

    Parameters
    ----------
    torque
        Wanted at the fastener, in any unit.
    length
        L, from the centre of the wrench's square to the middle of the grip.
    adapter
        E, from the square's centre to the fastener's centre, in the unit of ``length``; negative if the
        adapter points back towards the grip.
    angle
        Between adapter and wrench, degrees.

    Returns
    -------
    float
        In the unit of ``torque``.

    Raises
    ------
    AdapterError
        If the wrench has no length, or the adapter reaches back to the grip.

    Examples
    --------
    >>> round(setting(135, 10, 1.5), 2), setting(20, 12, 3), round(setting(40, 300, 50, 90), 6)
    (117.39, 16.0, 40.0)
    """
    reach = length + adapter * math.cos(math.radians(angle))
    if length <= 0 or reach <= 0:
        raise AdapterError(
            "With this adapter the wrench has no leverage.",
            "Give the length from the square to the middle of the grip, and a shorter adapter.",
        )
    return torque * length / reach


def tolerance(torque: float) -> float:
    """Return what a wrench of type II class A may be off by, as a share of the torque in N·m (ISO 6789).

    Examples
    --------
    >>> tolerance(10), tolerance(40)
    (0.06, 0.04)
    """
    return 0.06 if torque <= 10 else 0.04


def within(torque: float) -> tuple[float, float]:
    """Return the least and most torque that a wrench set to this value may give, N·m.

    Examples
    --------
    >>> [round(value, 2) for value in within(5)], [round(value, 1) for value in within(40)]
    ([4.7, 5.3], [38.4, 41.6])
    """
    off = tolerance(torque)
    return torque * (1 - off), torque * (1 + off)
