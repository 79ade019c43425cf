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
    return frozenset.intersection(*(frozenset(_code_points(font_bytes(name))) for name in FONT_FILES))


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


def _code_points(font: bytes) -> list[int]:
    """Read the character map of a TrueType font (OpenType specification, table cmap, format 4)."""
    tables = struct.unpack_from(">H", font, 4)[0]
    start = next(
        offset
        for tag, _, offset, _ in (struct.unpack_from(">4sIII", font, 12 + 16 * n) for n in range(tables))
        if tag == b"cmap"
    )
    for place in range(struct.unpack_from(">H", font, start + 2)[0]):
        platform, encoding, offset = struct.unpack_from(">HHI", font, start + 4 + 8 * place)
        if (platform, encoding) == (3, 1) and struct.unpack_from(">H", font, start + offset)[0] == 4:
            return list(_format_4(font, start + offset))
    raise ValueError("the font has no Unicode character map of format 4")


def _format_4(font: bytes, at: int) -> list[int]:
    count = struct.unpack_from(">H", font, at + 6)[0] // 2
    row = f">{count}H"
    ends = struct.unpack_from(row, font, at + 14)
    starts = struct.unpack_from(row, font, at + 16 + 2 * count)
    deltas = struct.unpack_from(row, font, at + 16 + 4 * count)
    offsets_at = at + 16 + 6 * count
    offsets = struct.unpack_from(row, font, offsets_at)
    found = []
    for place, (first, last, delta, offset) in enumerate(zip(starts, ends, deltas, offsets, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            if offset == 0:
                glyph = (code + delta) & 0xFFFF
            else:
                glyph = struct.unpack_from(">H", font, offsets_at + 2 * place + offset + 2 * (code - first))[
                    0
                ]
            if glyph:
                found.append(code)
    return found
