"""Will the thread strip? Shear areas and strip loads.

References
----------
FED-STD-H28/2B and Machinery's Handbook: shear area of the internal thread,
A_n = (pi/P) L Ds_min (P/2 + (Ds_min - En_max)/sqrt 3), and of the external thread in the same form.
"""

from __future__ import annotations

import math

from diagtree.mechanics.threads import Thread


def internal_area(
    thread: Thread,
    engaged: float,
    bolt_diameter: float | None = None,
    nut_pitch_diameter: float | None = None,
) -> float:
    """Return the shear area of the internal thread (hole or nut), mm2.

    Parameters
    ----------
    thread
        The thread.
    engaged
        Length of thread engaged, mm.
    bolt_diameter
        Least major diameter of the bolt, mm; by default its limit at 6g.
    nut_pitch_diameter
        Largest pitch diameter of the hole, mm; by default its limit at 6H.

    Examples
    --------
    >>> from diagtree.mechanics.threads import parse
    >>> round(internal_area(parse("M6"), 1.0), 2)
    12.19
    """
    outer = thread.least_bolt_diameter if bolt_diameter is None else bolt_diameter
    pitch = thread.most_nut_pitch_diameter if nut_pitch_diameter is None else nut_pitch_diameter
    return math.pi / thread.pitch * engaged * outer * (thread.pitch / 2 + (outer - pitch) / math.sqrt(3))


def external_area(thread: Thread, engaged: float) -> float:
    """Return the shear area of the bolt's own thread by basic dimensions, mm2.

    Examples
    --------
    >>> from diagtree.mechanics.threads import parse
    >>> round(external_area(parse("M5"), 1.0), 2)
    9.74
    """
    inner = thread.minor_diameter
    slope = (thread.pitch_diameter - inner) / math.sqrt(3)
    return math.pi / thread.pitch * engaged * inner * (thread.pitch / 2 + slope)


def strip_load(area: float, shear: float) -> float:
    """Return the load at which a thread strips, N: shear strength (MPa) times area (mm2)."""
    return shear * area


def engagement_for(
    thread: Thread, force: float, shear: float, bolt_diameter: float, nut_pitch_diameter: float
) -> float:
    """Return the length of thread that carries a force before it strips, mm.

    Examples
    --------
    >>> from diagtree.mechanics.threads import parse
    >>> round(engagement_for(parse("M10"), 69_600, 130, 9.968, 9.206), 2)
    21.55
    """
    return force / strip_load(internal_area(thread, 1.0, bolt_diameter, nut_pitch_diameter), shear)
