"""Which letters the font that comes along can print; others are shown by their number, so none is lost."""

from __future__ import annotations

import struct
from functools import cache
from importlib.resources import files

FONT = "Liberation Sans"
FONT_FILES = ("LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf")


@cache
def font_bytes(name: str) -> bytes:
    """Return a font file that comes along."""
    return (files("diagtree.sheets") / "fonts" / name).read_bytes()


@cache
def covered() -> frozenset[int]:
    """Return the code points that each of the font's weights has a glyph for."""
    return frozenset.intersection(*(frozenset(_glyphs(font_bytes(name))) for name in FONT_FILES))


def printable(text: str) -> str:
    r"""Show letters that the font lacks by their number.

    Examples
    --------
    >>> printable("Größe, Ωμ, Привет, 5 N·m")
    'Größe, Ωμ, Привет, 5 N·m'
    >>> print(printable("漢"))
    \u6f22
    """
    if text.isascii():
        return text
    return "".join(
        letter if ord(letter) in covered() or letter == "\n" else _number(letter) for letter in text
    )


def _number(letter: str) -> str:
    code = ord(letter)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


@cache
def _advances(name: str) -> dict[int, float]:
    """Read how far each code point moves the pen, in parts of the font's size (tables cmap, hhea, hmtx)."""
    font = font_bytes(name)
    per_em = struct.unpack_from(">H", font, _table(font, b"head") + 18)[0]
    count = struct.unpack_from(">H", font, _table(font, b"hhea") + 34)[0]
    widths = struct.unpack_from(f">{2 * count}H", font, _table(font, b"hmtx"))[::2]
    return {code: widths[min(glyph, count - 1)] / per_em for code, glyph in _glyphs(font).items()}


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Tell how wide a text is when it is set in the font that comes along.

    Parameters
    ----------
    text
        One line.
    size
        Of the letters, in points.
    bold
        True for the bold weight.

    Returns
    -------
    float
        Points, without kerning: never less than what is set but for rounding.

    Examples
    --------
    >>> round(text_width("N·m 12", 10.0), 2)
    32.78
    """
    advances = _advances(FONT_FILES[1 if bold else 0])
    return size * sum(advances.get(ord(letter), 0.6) for letter in printable(text))


def _table(font: bytes, wanted: bytes) -> int:
    tables = struct.unpack_from(">H", font, 4)[0]
    return int(
        next(
            offset
            for tag, _, offset, _ in (struct.unpack_from(">4sIII", font, 12 + 16 * n) for n in range(tables))
            if tag == wanted
        )
    )


def _glyphs(font: bytes) -> dict[int, int]:
    """Read the character map of a TrueType font (OpenType specification, table cmap, format 4)."""
    start = _table(font, b"cmap")
    for place in range(struct.unpack_from(">H", font, start + 2)[0]):
        platform, encoding, offset = struct.unpack_from(">HHI", font, start + 4 + 8 * place)
        if (platform, encoding) == (3, 1) and struct.unpack_from(">H", font, start + offset)[0] == 4:
            return _format_4(font, start + offset)
    raise ValueError("the font has no Unicode character map of format 4")


def _format_4(font: bytes, at: int) -> dict[int, int]:
    count = struct.unpack_from(">H", font, at + 6)[0] // 2
    row = f">{count}H"
    ends = struct.unpack_from(row, font, at + 14)
    starts = struct.unpack_from(row, font, at + 16 + 2 * count)
    deltas = struct.unpack_from(row, font, at + 16 + 4 * count)
    offsets_at = at + 16 + 6 * count
    offsets = struct.unpack_from(row, font, offsets_at)
    found = {}
    for place, (first, last, delta, offset) in enumerate(zip(starts, ends, deltas, offsets, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if offset:
                glyph = struct.unpack_from(">H", font, offsets_at + 2 * place + offset + 2 * (code - first))[
                    0
                ]
            # In a segment without an offset the code itself is moved; with one, the glyph that was looked up.
            if glyph := (glyph + delta) & 0xFFFF if glyph or not offset else 0:
                found[code] = glyph
    return found
