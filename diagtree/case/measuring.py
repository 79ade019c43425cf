"""From what was entered to the answer whose band holds the value."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from diagtree.clean import clean
from diagtree.errors import ExpectedError, in_words
from diagtree.library.library import Library
from diagtree.model.family import PlainReading
from diagtree.model.reading import Measured, Reading
from diagtree.model.tree import Check
from diagtree.units import UNITS, NotAQuantityError, parse, plain


class ReadingError(ExpectedError):
    """What was entered cannot be made into a value."""


@dataclass(frozen=True, slots=True)
class Entered:
    """What became of a reading.

    Parameters
    ----------
    measured
        The value, what is echoed back, and the question to put if the value is odd.
    answer
        The answer whose band holds the value.
    taken
        True if it was taken as the answer; False if it is odd and must be confirmed first.
    """

    measured: Measured
    answer: str
    taken: bool


def measure(library: Library, name: str, text: str) -> Measured:
    """Turn what was entered into a value with a unit.

    Raises
    ------
    ReadingError
        If it is no value, or nobody offers the reading, or its plugin fails.
    ExpectedError
        What a plugin says of a text that it cannot read.
    """
    reading = library.readings.get(name)
    if reading is not None:
        return _of_plugin(reading, text.strip())
    without_arithmetic = library.plain_readings.get(name)
    if without_arithmetic is None:
        raise ReadingError(f"There is no reading '{name}' here.", "Choose one of the answers instead.")
    return read_plain(without_arithmetic, text)


def _of_plugin(reading: Reading, text: str) -> Measured:
    """Take a plugin's reading at its word; where it fails, it is named, and the questions go on."""
    try:
        measured: object = reading.read(text)
        told = f"it returns {type(measured).__name__}, not a measured value"
    except ExpectedError:
        raise
    except Exception as error:  # a plugin may raise anything
        measured, told = None, in_words(error)
    if isinstance(measured, Measured):
        if isinstance(measured.value, Decimal) and measured.value.is_finite():
            return measured
        told = f"its value is {clean(repr(measured.value))}, not a decimal number"
    wrong = f"The reading '{reading.name}' failed: {told}."
    raise ReadingError(wrong, "Choose one of the answers instead. Its plugin must be mended.")


_NUMBER = re.compile(r"\s*([+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+))\s*(\D.*?)?\s*", re.DOTALL | re.ASCII)


def read_plain(reading: PlainReading, text: str) -> Measured:
    """Read a number that needs no arithmetic; its unit may be left out, or be another of the same kind.

    Raises
    ------
    ReadingError
        If there is no number, or the unit measures something else.

    Examples
    --------
    >>> water = PlainReading(title="Water temperature", unit="°C", example="97 °C", least=0, most=101)
    >>> read_plain(water, "97,5").says, read_plain(water, "203 °F").says
    ('97.5 °C', '95 °C')
    >>> read_plain(water, "970").odd
    'Water temperature 970 °C is more than 101 °C. Is that right?'
    """
    value = _value(reading, text.replace("\u2212", "-"))
    says = f"{plain(value)} {reading.unit}"
    odd = None
    if reading.least is not None and value < reading.least:
        odd = f"{reading.title} {says} is less than {reading.least} {reading.unit}. Is that right?"
    elif reading.most is not None and value > reading.most:
        odd = f"{reading.title} {says} is more than {reading.most} {reading.unit}. Is that right?"
    return Measured(value, says, odd)


def _value(reading: PlainReading, text: str) -> Decimal:
    example = f"Write it like this: {reading.example}"
    if reading.unit in UNITS:
        try:
            return parse(text, like=reading.unit).to(reading.unit).value
        except NotAQuantityError as error:
            raise ReadingError(error.wrong, example) from None
    match = _NUMBER.fullmatch(text)
    if match is None:
        raise ReadingError(f"'{text.strip()}' is no number.", example)
    number, unit = match.groups()
    if unit and unit.casefold() != reading.unit.casefold():
        raise ReadingError(f"'{unit}' is not the unit that is asked for here, {reading.unit}.", example)
    return Decimal(number.replace(",", "."))


def band_of(check: Check, value: Decimal) -> str:
    """Tell the answer whose band holds a value.

    Raises
    ------
    ReadingError
        If no band holds it.
    """
    for name, answer in check.answers.items():
        if (answer.from_ is None or value >= answer.from_) and (answer.below is None or value < answer.below):
            return name
    raise ReadingError(f"None of the answers covers {value}.", "Choose one of the answers instead.")
