"""Tightening a bolt: preload and torque by VDI 2230-1.

References
----------
VDI 2230-1:2001 and later: the assembly preload uses up 90 % of the proof strength, tension and torsion
together. The edition of 1986 used other strengths and gives other numbers: tables of the two do not mix.
ISO 273 (clearance holes), ISO 4014 (bearing faces): from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from diagtree.errors import UnknownNameError
from diagtree.mechanics.threads import Thread

USED_UP = 0.9
"""Share of the proof strength that assembly uses up."""

_HOLE_AND_FACE = {
    3.0: (3.4, 4.57), 4.0: (4.5, 5.88), 5.0: (5.5, 6.88), 6.0: (6.6, 8.88), 8.0: (9.0, 11.63),
    10.0: (11.0, 14.63), 12.0: (13.5, 16.63),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Friction:
    """A state of thread and head.

    Parameters
    ----------
    name
        ``lubricated``.
    usual
        Coefficient that an estimate reckons with.
    low, high
        The class's limits.
    basis
        Where they come from.
    """

    name: str
    usual: float
    low: float
    high: float
    basis: str


_VDI = "VDI 2230-1, friction class"
FRICTIONS = {
    row.name: row
    for row in (
        Friction("anti-seize", 0.10, 0.08, 0.16, f"{_VDI} B"),
        Friction("lubricated", 0.12, 0.08, 0.16, f"{_VDI} B"),
        Friction("threadlocker", 0.16, 0.14, 0.24, f"{_VDI} C"),
        Friction("dry", 0.18, 0.14, 0.24, f"{_VDI} C"),
        Friction("dry stainless or aluminium", 0.30, 0.30, 0.40, f"{_VDI} E"),
    )
}
"""How threads are met with in a workshop, and their coefficients of friction."""


def friction(name: str) -> Friction:
    """Return a state of the thread; raise `UnknownNameError` if there is none of that name."""
    if name not in FRICTIONS:
        raise UnknownNameError("state of a thread", name, list(FRICTIONS))
    return FRICTIONS[name]


def bearing_diameter(thread: Thread) -> float:
    """Return the mean diameter of the ring under the head, D_Km = (d_w + d_h)/2, mm.

    Where the tables end, hole and face are taken in proportion: 1.1 d and 1.43 d.
    """
    hole, face = _HOLE_AND_FACE.get(thread.diameter, (1.1 * thread.diameter, 1.43 * thread.diameter))
    return (hole + face) / 2


def preload(thread: Thread, proof: float, mu_thread: float) -> float:
    """Return the assembly preload, N.

    F = 0.9 Rp A_s / sqrt(1 + 3 (1.5 (d2/d0) (P/(pi d2) + 1.155 mu))^2)

    Parameters
    ----------
    thread
        The thread.
    proof
        Rp 0.2, MPa.
    mu_thread
        Coefficient of friction in the thread.

    Examples
    --------
    >>> from diagtree.mechanics.threads import parse
    >>> round(preload(parse("M8"), 640, 0.12))
    18628
    """
    d2, d0 = thread.pitch_diameter, thread.stress_diameter
    torsion = 1.5 * (d2 / d0) * (thread.pitch / (math.pi * d2) + 2 / math.sqrt(3) * mu_thread)
    return USED_UP * proof * thread.stress_area / math.sqrt(1 + 3 * torsion**2)


def torque(
    thread: Thread, force: float, mu_thread: float, mu_head: float, bearing: float | None = None
) -> float:
    """Return the torque that gives a preload, N·m.

    M = F (0.16 P + 0.58 d2 mu_thread + mu_head D_Km/2), the form that the guideline prints; its two
    figures stand for 1/(2 pi) and 1/(2 cos 30 degrees) and make the torque half a per cent higher at most.

    Parameters
    ----------
    thread
        The thread.
    force
        Preload, N.
    mu_thread, mu_head
        Coefficients of friction in the thread and under the head.
    bearing
        D_Km, mm; by default that of a hexagon head in a medium clearance hole.

    Examples
    --------
    >>> from diagtree.mechanics.threads import parse
    >>> m6 = parse("M6")
    >>> round(torque(m6, preload(m6, 640, 0.12), 0.12, 0.12), 2)
    10.15
    """
    ring = bearing_diameter(thread) if bearing is None else bearing
    arm = 0.16 * thread.pitch + 0.58 * thread.pitch_diameter * mu_thread + mu_head * ring / 2
    return force * arm / 1000


def force_at(
    thread: Thread, moment: float, mu_thread: float, mu_head: float, bearing: float | None = None
) -> float:
    """Return the preload that a torque gives, N: `torque` turned round.

    Examples
    --------
    >>> from diagtree.mechanics.threads import parse
    >>> round(force_at(parse("M6"), 10.15, 0.12, 0.12) / 1000, 2)
    10.18
    """
    return moment / torque(thread, 1.0, mu_thread, mu_head, bearing)


def short_form(factor: float, diameter: float, force: float) -> float:
    """Return the torque by the short form T = K D F, N·m.

    Parameters
    ----------
    factor
        K: 0.20 dry zinc, 0.18 oiled, 0.12 to 0.17 with anti-seize. Sources differ: it is a range.
    diameter
        Nominal, mm.
    force
        Preload, N.

    Examples
    --------
    >>> short_form(0.2, 8, 18600)
    29.76
    """
    return factor * diameter * force / 1000
