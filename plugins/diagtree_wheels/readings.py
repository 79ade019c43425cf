"""Readings of wheels and tyres: spoke tension from its note or its deflection, tyre size, pressure in range."""

from __future__ import annotations

import math
import re
from decimal import Decimal

from diagtree.library.entered import NotAReadingError, alike, quoted, taken_apart
from diagtree.model.reading import Measured, Reading
from diagtree.units import plain, value_in

DENSITY = 7900.0
"""Of stainless spoke steel, kg/m3."""
ELASTICITY = 200e9
"""Young's modulus of spoke steel, Pa."""
_USUAL_DIAMETER = 2.0
_MOST = 2500.0
"""A spoke of 2 mm yields at about this tension, N: a reading beyond it is odd."""

_COMMA = r"(?:(?<!\d),|,(?!\d))"
"""A comma between two digits belongs to their number."""
_ONE = r"(?:[^,]|(?<=\d),(?=\d))+?"
_THICK = rf"(?:{_COMMA}\s*(?P<thick>{_ONE}))?"
_PITCH = re.compile(rf"(?P<pitch>{_ONE}hz)\s*(?:over|{_COMMA})\s*(?P<length>{_ONE}){_THICK}", re.I)
_BENT = re.compile(
    rf"(?P<force>{_ONE})\s*{_COMMA}\s*(?P<depth>{_ONE})\s*over\s*(?P<span>{_ONE}){_THICK}", re.I
)
_RANGE = re.compile(
    r"(?P<now>.+?)\s+(?:in|of)\s+(?P<least>[\d.,]+)\s*(?P<unit>[a-z]*)\s*(?:-|to)\s*(?P<most>.+)", re.I
)


def _stiffness(diameter: float) -> float:
    """Return a round wire's bending stiffness E I, N m2, from its diameter in metres."""
    return ELASTICITY * math.pi * diameter**4 / 64


def tension_by_pitch(pitch: float, length: float, diameter: float = _USUAL_DIAMETER) -> float:
    """Return the tension of a plucked spoke, N.

    Parameters
    ----------
    pitch
        The lowest note, Hz.
    length
        Free length, mm: from the nipple to the elbow, or to the last crossing that touches.
    diameter
        Thickness of the long middle part, mm.

    Notes
    -----
    A stiff string with hinged ends: f = (1/2L) sqrt(T/mu) sqrt(1 + pi^2 E I / (T L^2)), so that
    T = mu (2 L f)^2 - pi^2 E I / L^2 (Euler-Bernoulli beam under tension; without E I it is Mersenne's law).

    Examples
    --------
    >>> round(tension_by_pitch(350, 292))
    1019
    """
    metres, thick = length / 1000, diameter / 1000
    mass = DENSITY * math.pi * thick**2 / 4
    return mass * (2 * metres * pitch) ** 2 - math.pi**2 * _stiffness(thick) / metres**2


def tension_by_deflection(
    force: float, depth: float, span: float, diameter: float = _USUAL_DIAMETER
) -> float:
    """Return the tension of a spoke that is pushed aside midway between two rests, N.

    Parameters
    ----------
    force
        The push, N.
    depth
        How far it moves aside, mm.
    span
        Between the rests, mm.
    diameter
        Thickness of the spoke there, mm.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If the spoke moves further than it would with no tension at all.

    Notes
    -----
    A beam on two rests under tension with a force at its middle: depth = F S / (4 T) (1 - tanh u / u) with
    u = (S/2) sqrt(T / E I). It lies between the bare beam, F S^3 / (48 E I), and the bare string, F S / (4 T).
    Solved by halving; the depth falls steadily as the tension rises.

    Examples
    --------
    >>> round(tension_by_deflection(40, 0.9, 100))
    800
    """
    stiff = _stiffness(diameter / 1000)
    reach, wanted = span / 1000, depth / 1000
    if wanted >= force * reach**3 / (48 * stiff):
        raise NotAReadingError(
            f"A spoke of {diameter:g} mm does not move {depth:g} mm aside under {force:g} N, even if slack.",
            "Measure force, depth and span once more.",
        )

    def depth_at(tension: float) -> float:
        turn = reach / 2 * math.sqrt(tension / stiff)
        return force * reach / (4 * tension) * (1 - math.tanh(turn) / turn)

    low, high = 1e-6, 1e6
    for _ in range(200):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if depth_at(middle) > wanted else (low, middle)
    return math.sqrt(low * high)


def read_pitch(text: str) -> Measured:
    """Read a spoke's tension from its note.

    Parameters
    ----------
    text
        ``350 Hz over 292 mm``, and the spoke's thickness if it is not 2 mm: ``350 Hz over 292 mm, 1.8 mm``.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If it is not a pitch over a length, or makes no tension.

    Examples
    --------
    >>> read_pitch("350 Hz over 292 mm").says
    'about 1020 N (104 kgf)'
    """
    match = taken_apart(text, _PITCH, "a pitch over a length", "350 Hz over 292 mm")
    length, thick = _mm(match["length"]), _mm(match["thick"]) if match["thick"] else _USUAL_DIAMETER
    return _tension(tension_by_pitch(float(value_in(match["pitch"], "Hz")), length, thick))


def read_deflection(text: str) -> Measured:
    """Read a spoke's tension from how far it is pushed aside.

    Parameters
    ----------
    text
        Push, depth and span: ``40 N, 0.9 mm over 100 mm``, then the thickness if it is not 2 mm.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If it is not a force, a depth and a span, or fits no spoke.

    Examples
    --------
    >>> read_deflection("40 N, 0.9 mm over 100 mm").says
    'about 800 N (82 kgf)'
    """
    match = taken_apart(text, _BENT, "a push, a depth and a span", "40 N, 0.9 mm over 100 mm")
    thick = _mm(match["thick"]) if match["thick"] else _USUAL_DIAMETER
    force = float(value_in(match["force"], "N"))
    depth, span = _mm(match["depth"]), _mm(match["span"])
    if force <= 0:
        raise NotAReadingError(f"'{match['force']}' pushes nothing aside.", "Write a force over 0 N.")
    return _tension(tension_by_deflection(force, depth, span, thick))


def _mm(text: str) -> float:
    value = float(value_in(text, "mm"))
    if value < 0.01:
        raise NotAReadingError(f"{quoted(text)} is no length to reckon with.", "Write more than 0 mm.")
    return value


def _tension(newtons: float) -> Measured:
    if newtons <= 0:
        raise NotAReadingError(
            "A spoke so low in pitch has no tension.", "Pluck it again near its middle, or call it slack."
        )
    says = f"about {round(newtons, -1):.0f} N ({newtons / 9.80665:.0f} kgf)"
    odd = "No spoke stands that much. Was it an octave too high?" if newtons > _MOST else None
    return Measured(Decimal(f"{newtons:.1f}"), says, odd)


def read_pressure(text: str) -> Measured:
    """Read where a tyre's pressure lies in its marked range: 0 % at its lower end, 100 % at its upper.

    Parameters
    ----------
    text
        The pressure and the range on the sidewall: ``2.1 bar in 2.5-4.5 bar``, ``60 psi in 50-85 psi``.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If it is not a pressure and a range.

    Examples
    --------
    >>> read_pressure("2.1 bar in 2.5-4.5 bar").says
    'under the range by 0.4 bar'
    >>> read_pressure("60 psi in 50-85 psi").value
    Decimal('28.6')
    """
    match = taken_apart(text, _RANGE, "a pressure in a range", "2.1 bar in 2.5-4.5 bar")
    least, top = alike(f"{match['least']} {match['unit']}", match["most"], "bar")
    now, _ = alike(match["now"], match["most"], "bar")
    if top <= least:
        raise NotAReadingError(
            f"{quoted(text)} has a range that does not rise.",
            "Write the lower end first: '2.1 bar in 2.5-4.5 bar'.",
        )
    share = round(100 * (now - least) / (top - least), 1)
    if share < 0:
        return Measured(share, f"under the range by {plain(round(least - now, 2))} bar")
    if share > 100:
        over = f"over the range by {plain(round(now - top, 2))} bar"
        return Measured(
            share, over, "That is over the mark on the tyre. Let air out first. Is it read right?"
        )
    return Measured(share, f"within the range, {plain(round(share, 0))} % of the way up")


SPOKE_TENSION_BY_PITCH = Reading(
    name="wheels/spoke-tension-by-pitch",
    title="Spoke tension from its note",
    unit="N",
    example="350 Hz over 292 mm",
    read=read_pitch,
    basis="computed: stiff string with hinged ends, steel of 7900 kg/m3 and 200 GPa; an estimate",
)
SPOKE_TENSION_BY_DEFLECTION = Reading(
    name="wheels/spoke-tension-by-deflection",
    title="Spoke tension from how far a push moves it",
    unit="N",
    example="40 N, 0.9 mm over 100 mm",
    read=read_deflection,
    basis="computed: beam on two rests under tension, steel of 200 GPa; an estimate",
)
TYRE_PRESSURE = Reading(
    name="wheels/tyre-pressure",
    title="Tyre pressure within its marked range",
    unit="%",
    example="2.1 bar in 2.5-4.5 bar",
    read=read_pressure,
    basis="computed from the range on the sidewall, ISO 5775-1 (marking)",
)
