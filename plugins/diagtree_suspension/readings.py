"""Readings of the suspension: sag, pressure at another temperature, and what a spring has really lost."""

from __future__ import annotations

import re
from decimal import Decimal

from diagtree.library.entered import NotAReadingError, alike, quoted, taken_apart, two
from diagtree.model.reading import Measured, Reading
from diagtree.units import Quantity, parse, plain, value_in

ATMOSPHERE = Decimal("101.325")
"""Standard atmosphere, kPa: a gauge shows what is above it."""
ABSOLUTE_ZERO = Decimal("-273.15")
"""Degrees Celsius."""
_AT = re.compile(r"(?P<pressure>.+?)\s*(?:\bat\b|@)\s*(?P<temperature>.+)", re.I)
_THEN = r"[,;]?\s*\b(?:then|now|to)\b|;|(?<!\d),|,(?!\d)"


def sag_per_cent(sag: Decimal, travel: Decimal) -> Decimal:
    """Return the sag in per cent of the travel; of a shock, in per cent of its stroke.

    Examples
    --------
    >>> sag_per_cent(Decimal(45), Decimal(150))
    Decimal('30.0')
    """
    return (100 * sag / travel).quantize(Decimal("0.1"))


def pressure_at(pressure: Decimal, temperature: Decimal, other: Decimal) -> Decimal:
    """Return what a gauge would show at another temperature, the volume being the same.

    The absolute pressure follows the absolute temperature: p2 = (p1 + 101.325) T2/T1 - 101.325.

    Parameters
    ----------
    pressure
        Above the atmosphere, kPa.
    temperature, other
        Degrees Celsius.

    Examples
    --------
    >>> round(pressure_at(Decimal(600), Decimal(25), Decimal(5)), 2)
    Decimal('552.95')
    """
    then, now = temperature - ABSOLUTE_ZERO, other - ABSOLUTE_ZERO
    return (pressure + ATMOSPHERE) * now / then - ATMOSPHERE


def read_sag(text: str) -> Measured:
    """Read the sag from two lengths, or in per cent.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If there are not two lengths, or the sag is more than the travel.
    diagtree.units.NotAQuantityError
        If one of them is no length.

    Examples
    --------
    >>> read_sag("45 mm of 150 mm").says
    '30 % of the travel'
    """
    if text.strip().endswith("%"):
        return _sag(value_in(text, "%"), text)
    sag, travel = alike(*two(text, "of", "a sag of a travel", "45 mm of 150 mm"), "mm")
    if travel <= 0:
        raise NotAReadingError("The travel cannot be nothing.", "Read it on the fork or in its paper.")
    return _sag(sag_per_cent(sag, travel), text)


def _sag(value: Decimal, text: str) -> Measured:
    if not 0 <= value <= 100:
        raise NotAReadingError(
            f"{quoted(text)} is not a part of the travel.", "Write the sag first, then the travel."
        )
    odd = "That is more than half of the travel. Was the rider bouncing?" if value > 50 else None
    return Measured(value, f"{plain(round(value, 1))} % of the travel", odd)


def read_pressure(text: str) -> Measured:
    """Read a pressure at a temperature, and what it is at another one: ``80 psi at 20 °C, 0 °C``.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If it is not a pressure with two temperatures.
    diagtree.units.NotAQuantityError
        If one of them cannot be read.

    Examples
    --------
    >>> read_pressure("80 psi at 20 °C, 0 °C").says
    '73.5 psi at 0 °C, 5.07 bar'
    """
    first, rest = _halves(text, "80 psi at 20 °C, 0 °C")
    pressure, temperature = _pressure_at_temperature(first, "80 psi at 20 °C, 0 °C")
    other = _temperature(rest)
    kpa = pressure_at(pressure.to("kPa").value, temperature, other)
    shown = Quantity(kpa, "kPa").to(pressure.unit)
    bar = Quantity(kpa, "kPa").to("bar").value
    tail = "" if pressure.unit == "bar" else f", {plain(round(bar, 2))} bar"
    odd = "That is more than a fork takes. Is the unit right?" if bar > 25 else None
    return Measured(
        bar,
        f"{plain(round(shown.value, 1))} {shown.unit} at {plain(round(other, 1))} °C{tail}",
        _cold(other) or odd,
    )


def read_air_lost(text: str) -> Measured:
    """Read how much air is gone between two days, the temperature taken out: ``80 psi at 20 °C then 70 psi at 5 °C``.

    Raises
    ------
    diagtree.library.entered.NotAReadingError
        If these are not two pressures with their temperatures.
    diagtree.units.NotAQuantityError
        If one of them cannot be read.

    Examples
    --------
    >>> read_air_lost("80 psi at 20 °C then 73.5 psi at 0 °C").says
    'nothing lost: the cold alone makes it 73.5 psi'
    """
    example = "80 psi at 20 °C then 70 psi at 5 °C"
    first, rest = _halves(text, example)
    pressure, temperature = _pressure_at_temperature(first, example)
    later, other = _pressure_at_temperature(rest, example)
    expected = pressure_at(pressure.to("kPa").value, temperature, other)
    if expected <= 0:
        raise NotAReadingError("There was no pressure to lose.", f"Write it like '{example}'.")
    lost = 100 * (1 - later.to("kPa").value / expected)
    alone = f"{plain(round(Quantity(expected, 'kPa').to(later.unit).value, 1))} {later.unit}"
    if abs(lost) < Decimal("0.5"):
        says = (
            f"nothing lost: the cold alone makes it {alone}"
            if other < temperature
            else f"nothing lost: {alone} expected"
        )
    elif lost > 0:
        says = f"{plain(round(lost, 1))} % lost: {alone} expected"
    else:
        says = f"{plain(round(-lost, 1))} % more than expected: {alone}"
    odd = "It has gained air. Was it pumped in between?" if lost < -5 else None
    return Measured(lost, says, _cold(temperature) or _cold(other) or odd)


def _halves(text: str, example: str) -> tuple[str, str]:
    parts = [part.strip() for part in re.split(_THEN, text, flags=re.I)]
    if len(parts) != 2 or not all(parts):
        raise NotAReadingError(f"{quoted(text)} does not tell both.", f"Write it like '{example}'.")
    return parts[0], parts[1]


def _pressure_at_temperature(text: str, example: str) -> tuple[Quantity, Decimal]:
    match = taken_apart(text, _AT, "a pressure with its temperature", example)
    return parse(match["pressure"], like="bar"), _temperature(match["temperature"])


def _temperature(text: str) -> Decimal:
    """Read a temperature, in degrees Celsius."""
    value = value_in(text, "°C")
    if value <= ABSOLUTE_ZERO:
        raise NotAReadingError(
            f"Nothing is as cold as {quoted(text)}.", "Look at the figure and its unit again."
        )
    return value


def _cold(temperature: Decimal) -> str | None:
    if not -40 <= temperature <= 60:
        return "Nobody works at that temperature. Is the unit right?"
    return None


SAG = Reading(
    name="suspension/sag",
    title="Sag in per cent of the travel",
    unit="%",
    example="45 mm of 150 mm",
    read=read_sag,
    basis="computed: 100 sag/travel; 20 to 30 % is common practice",
)
AIR_PRESSURE = Reading(
    name="suspension/air-pressure",
    title="Pressure at another temperature",
    unit="bar",
    example="80 psi at 20 °C, 0 °C",
    read=read_pressure,
    basis="computed: constant volume, 101.325 kPa outside",
)
AIR_LOST = Reading(
    name="suspension/air-lost",
    title="Air lost between two readings, temperature taken out",
    unit="%",
    example="80 psi at 20 °C then 70 psi at 5 °C",
    read=read_air_lost,
    basis="computed: constant volume, 101.325 kPa outside",
)
