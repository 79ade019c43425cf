"""Units and their exact conversions; quantities as people write them.

Every factor is exact (a fraction made from the definitions of the inch, the pound, standard gravity and the
bar: NIST SP 811, appendix B), and a value is a `Decimal`. A conversion is done in fractions and rounded
once, to 28 significant digits. Physics further up works in plain floats: see `diagtree.mechanics`.

References
----------
NIST Special Publication 811 (2008), appendix B.8: factors for units listed alphabetically.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from diagtree.errors import ExpectedError

_INCH = Fraction("0.0254")
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")
_POUND_FORCE = _POUND * _GRAVITY


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: ``value * scale + offset`` is the value in the dimension's own SI unit.

    Parameters
    ----------
    symbol
        As it is printed: ``N·m``.
    dimension
        ``torque``, ``length``, ``pressure`` ...
    scale, offset
        Exact.
    """

    symbol: str
    dimension: str
    scale: Fraction
    offset: Fraction = Fraction(0)


def _units(dimension: str, scales: dict[str, Fraction | int]) -> list[Unit]:
    return [Unit(symbol, dimension, Fraction(scale)) for symbol, scale in scales.items()]


UNITS: dict[str, Unit] = {
    unit.symbol: unit
    for unit in [
        *_units(
            "length",
            {
                "mm": Fraction(1, 1000),
                "cm": Fraction(1, 100),
                "m": 1,
                "in": _INCH,
                "ft": 12 * _INCH,
            },
        ),
        *_units(
            "torque",
            {
                "N·m": 1,
                "N·cm": Fraction(1, 100),
                "lbf·in": _POUND_FORCE * _INCH,
                "lbf·ft": _POUND_FORCE * 12 * _INCH,
                "kgf·cm": _GRAVITY / 100,
                "kgf·m": _GRAVITY,
            },
        ),
        *_units(
            "pressure",
            {"Pa": 1, "kPa": 1000, "MPa": 10**6, "bar": 10**5, "psi": _POUND_FORCE / _INCH**2},
        ),
        *_units("force", {"N": 1, "kN": 1000, "lbf": _POUND_FORCE, "kgf": _GRAVITY}),
        *_units("mass", {"g": Fraction(1, 1000), "kg": 1, "lb": _POUND, "oz": _POUND / 16}),
        *_units("volume", {"ml": Fraction(1, 10**6), "l": Fraction(1, 1000)}),
        *_units("time", {"s": 1, "min": 60, "h": 3600}),
        *_units("frequency", {"Hz": 1, "kHz": 1000}),
        *_units("ratio", {"%": Fraction(1, 100)}),
        *_units("angle", {"°": 1}),
        *_units("stiffness", {"N/mm": 1000, "lbf/in": _POUND_FORCE / _INCH}),
        Unit("K", "temperature", Fraction(1)),
        Unit("°C", "temperature", Fraction(1), Fraction("273.15")),
        Unit("°F", "temperature", Fraction(5, 9), Fraction("459.67") * Fraction(5, 9)),
    ]
}
"""All known units by the symbol that is printed."""

_SPELLINGS = {
    "N·m": ("nm", "n m", "n.m", "n*m", "n-m", "newton metre", "newton metres", "newton meter", "newton meters"),
    "N·cm": ("ncm", "n cm", "n.cm"),
    "lbf·in": ("lbf in", "lbf.in", "lb in", "lb.in", "lb·in", "lb-in", "in lb", "in-lb", "in-lbs",
               "in lbs", "in·lbf", "in lbf", "inlb", "inch pounds", "inch-pounds"),
    "lbf·ft": ("lbf ft", "lbf.ft", "lb ft", "lb.ft", "lb·ft", "lb-ft", "ft lb", "ft-lb", "ft-lbs",
               "ft lbs", "ft·lbf", "ft lbf", "ftlb", "foot pounds", "foot-pounds"),
    "kgf·cm": ("kgf cm", "kgf.cm", "kg cm", "kg·cm", "kg-cm", "kgcm", "kgfcm"),
    "kgf·m": ("kgf m", "kg m", "kg·m", "kgf.m"),
    "mm": ("millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("centimetre", "centimetres"),
    "m": ("metre", "metres"),
    "in": ('"', "″", "inch", "inches", "in.", "''"),
    "ft": ("foot", "feet", "′", "'"),
    "psi": ("lb/in2", "lbf/in2", "p.s.i."),
    "bar": ("bars",),
    "°C": ("c", "degc", "deg c", "celsius", "℃", "° c"),
    "°F": ("f", "degf", "deg f", "fahrenheit", "℉", "° f"),
    "°": ("deg", "degree", "degrees"),
    "%": ("percent", "per cent", "pct"),
    "min": ("minute", "minutes", "mins"),
    "s": ("second", "seconds", "sec"),
    "h": ("hour", "hours"),
    "Hz": ("hertz",),
    "kg": ("kilo", "kilos"),
    "lb": ("lbs", "pound", "pounds"),
    "ml": ("millilitre", "millilitres", "cc", "cm3"),
    "l": ("litre", "litres"),
}  # fmt: skip
# "Mpa" and "mPa" differ in case only, but nobody pumps in millipascals: case is never asked for.
_BY_SPELLING = {symbol.lower(): symbol for symbol in UNITS} | {
    spelling: symbol for symbol, spellings in _SPELLINGS.items() for spelling in spellings
}

_FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8",
}  # fmt: skip
_QUANTITY = re.compile(
    r"""\s*(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>\d+)(?:\s+|\s*-\s*|\s+and\s+))? (?P<top>\d+)\s*/\s*(?P<bottom>\d+)
      | (?P<number>\d+(?:[.,]\d*)?|[.,]\d+) )
    \s*(?P<unit>\D.*?)?\s*""",
    re.VERBOSE | re.ASCII,
)
_LIKE_PLAIN = str.maketrans({"\u2212": "-", "\u2044": "/"})
"""A minus and a fraction's stroke as word processors set them."""
_MOST_TEXT = 80
_MOST = 10**12
"""Nothing is measured by such a number; arithmetic on more digits would come to a standstill."""


class NotAQuantityError(ExpectedError):
    """A text that is no number with a unit."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit.

    Examples
    --------
    >>> print(parse("40 N·m").to("lbf·ft").rounded(4))
    29.5025 lbf·ft
    """

    value: Decimal
    unit: str

    @property
    def dimension(self) -> str:
        """What it measures: ``length``."""
        return UNITS[self.unit].dimension

    def to(self, unit: str) -> Quantity:
        """Return the same quantity in another unit of its dimension.

        Raises
        ------
        NotAQuantityError
            If the unit is unknown or measures something else.
        """
        return Quantity(convert(self.value, self.unit, unit), UNITS[_symbol(unit)].symbol)

    def rounded(self, places: int) -> Quantity:
        """Return it rounded half up to so many decimals."""
        from decimal import ROUND_HALF_UP

        return Quantity(self.value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP), self.unit)

    def __str__(self) -> str:
        gap = "" if self.unit in {"°", "%"} else " "
        return f"{plain(self.value)}{gap}{self.unit}"


def convert(value: Decimal | int | float, unit: str, to: str) -> Decimal:
    """Convert a value from one unit to another, exactly but for the last of 28 digits.

    Parameters
    ----------
    value
        In ``unit``.
    unit, to
        Symbols or other spellings; both must measure the same thing.

    Raises
    ------
    NotAQuantityError
        If a unit is unknown, or the two measure different things.

    Examples
    --------
    >>> convert(1, "lbf·ft", "N·m")
    Decimal('1.3558179483314004')
    >>> round(convert(30, "psi", "kPa"), 3)
    Decimal('206.843')
    """
    source, target = UNITS[_symbol(unit)], UNITS[_symbol(to)]
    if source.dimension != target.dimension:
        raise NotAQuantityError(
            f"{source.symbol} measures {source.dimension} and {target.symbol} measures {target.dimension}.",
            f"Write a {target.dimension}, for example in {target.symbol}.",
        )
    exact = (Fraction(value) * source.scale + source.offset - target.offset) / target.scale
    return Decimal(exact.numerator) / Decimal(exact.denominator)


def parse(text: str, like: str | None = None) -> Quantity:
    """Read a number with its unit as people write it.

    Parameters
    ----------
    text
        ``306.4 mm``, ``12 1/16 in``, ``40 N·m``, ``30psi``, ``1/2"``. A decimal comma is read as a point, and
        blanks of all kinds as one.
    like
        A unit: what must be measured, and the unit of a bare number.

    Raises
    ------
    NotAQuantityError
        If it is no number with a unit, or measures something else than ``like``.

    Examples
    --------
    >>> parse("12 1/16 in").to("mm").value
    Decimal('306.3875')
    >>> parse("-2,5 bar")
    Quantity(value=Decimal('-2.5'), unit='bar')
    >>> parse("5", like="N·m").unit
    'N·m'
    """
    shown = " ".join(text[:_MOST_TEXT].split())
    wanted = UNITS[_symbol(like)] if like is not None else None
    mend = (
        "Write it like '306.4 mm' or '12 1/16 in'."
        if wanted is None
        else f"Write it like '5 {wanted.symbol}'."
    )
    for sign, spelt in _FRACTIONS.items():
        text = text.replace(sign, f" {spelt}")
    text = " ".join(text.translate(_LIKE_PLAIN).split())
    match = _QUANTITY.fullmatch(text) if len(text) <= _MOST_TEXT else None
    # A digit in what should be a unit is a second number: "1.5.2 mm", "5 mm 3", "1e3 mm".
    if match is None or (re.search(r"\d", match["unit"] or "") and not _is_unit(match["unit"])):
        raise NotAQuantityError(f"'{shown}' is not a number with a unit.", mend)
    number = _number(match, shown)
    if match["unit"] is not None:
        quantity = Quantity(number, _symbol(match["unit"]))
    elif wanted is not None:
        quantity = Quantity(number, wanted.symbol)
    else:
        raise NotAQuantityError(f"'{shown}' has no unit.", "Write it like '306.4 mm' or '30 psi'.")
    if wanted is not None and quantity.dimension != wanted.dimension:
        told = f"'{shown}' is {_one(quantity.dimension)}; {_one(wanted.dimension)} is wanted."
        raise NotAQuantityError(told, mend)
    return quantity


def value_in(text: str, unit: str) -> Decimal:
    """Read a quantity as people write it, and return its value in a unit; a bare number is in that unit.

    Raises
    ------
    NotAQuantityError
        If it is no number with a unit, or measures something else.

    Examples
    --------
    >>> value_in("2 1/2 in", "mm"), value_in("25", "mm")
    (Decimal('63.5'), Decimal('25'))
    """
    return parse(text, like=unit).to(unit).value


def _one(dimension: str) -> str:
    return f"an {dimension}" if dimension == "angle" else f"a {dimension}"


def _number(match: re.Match[str], shown: str) -> Decimal:
    sign = -1 if match["sign"] == "-" else 1
    if match["number"] is not None:
        written = match["number"]
        # A nought before the comma begins no thousand.
        if re.fullmatch(r"[1-9]\d{0,2},\d{3}", written):
            raise NotAQuantityError(
                f"'{shown}' can be read in two ways.", "Write it without the comma, or with a point."
            )
        value = Decimal(written.replace(",", "."))
    elif int(match["bottom"]) == 0:
        raise NotAQuantityError(f"'{shown}' divides by nothing.", "Write it like '12 1/16 in'.")
    else:
        exact = Fraction(int(match["top"]), int(match["bottom"])) + int(match["whole"] or 0)
        value = Decimal(exact.numerator) / Decimal(exact.denominator)
    if value >= _MOST:
        raise NotAQuantityError(f"'{shown}' is more than anybody measures.", "Look at the figure again.")
    return sign * value


_DOTS = str.maketrans({"⋅": "·", "∙": "·", "•": "·", "²": "2"})


def _spelt(spelling: str) -> str:
    return " ".join(spelling.lower().translate(_DOTS).split())


def _is_unit(spelling: str) -> bool:
    wanted = _spelt(spelling)
    return wanted in _BY_SPELLING or wanted.replace(" ", "") in _BY_SPELLING


def _symbol(spelling: str) -> str:
    if spelling in UNITS:
        return spelling
    wanted = _spelt(spelling)
    symbol = _BY_SPELLING.get(wanted) or _BY_SPELLING.get(wanted.replace(" ", ""))
    if symbol is None:
        import difflib

        near = difflib.get_close_matches(wanted, list(_BY_SPELLING), n=1, cutoff=0.5)
        raise NotAQuantityError(
            f"The unit '{spelling}' is not known.",
            f"Did you mean '{_BY_SPELLING[near[0]]}'?" if near else f"Known are: {', '.join(UNITS)}.",
        )
    return symbol


def plain(value: Decimal) -> str:
    """Write a decimal without an exponent, without trailing zeros, and nothing as nothing: never ``-0``.

    Examples
    --------
    >>> plain(Decimal("40.00")), plain(Decimal("1E+2")), plain(Decimal("0.50"))
    ('40', '100', '0.5')
    """
    if not value:
        return "0"
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def beside(least: Decimal, most: Decimal | None = None) -> str:
    """Write a torque or a range of torques, given in N·m, in the other units that wrenches are marked in.

    Under 20 N·m that is lbf·in, to the whole; from there on lbf·ft, to a tenth.

    Examples
    --------
    >>> beside(Decimal(4), Decimal(6)), beside(Decimal(40))
    ('35-53 lbf·in', '29.5 lbf·ft')
    """
    top = least if most is None else most
    unit, places = ("lbf·in", 0) if top < 20 else ("lbf·ft", 1)
    low, high = (plain(Quantity(convert(v, "N·m", unit), unit).rounded(places).value) for v in (least, top))
    return f"{low} {unit}" if low == high else f"{low}-{high} {unit}"
