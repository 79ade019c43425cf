"""Strengths of bolts and of what they are screwed into, each with where the figure comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from diagtree.errors import UnknownNameError


@dataclass(frozen=True, slots=True)
class BoltClass:
    """A property class.

    Parameters
    ----------
    name
        ``8.8``, ``A2-70``.
    proof
        Rp 0.2, MPa.
    strength
        Rm, MPa.
    basis
        Where the figures come from.
    """

    name: str
    proof: float
    strength: float
    basis: str

    @property
    def shear(self) -> float:
        """Shear strength, MPa: 0.6 Rm, the usual figure for steel."""
        return 0.6 * self.strength


_ISO = "ISO 898-1:2013"
_STAINLESS = "ISO 3506-1; from memory, agrees with published torques"
BOLT_CLASSES = {
    row.name: row
    for row in (
        BoltClass("4.6", 240, 400, f"{_ISO}; from memory"),
        BoltClass("5.6", 300, 500, f"{_ISO}; from memory"),
        BoltClass("5.8", 420, 520, f"{_ISO}; from memory"),
        BoltClass("6.8", 480, 600, f"{_ISO}; from memory"),
        BoltClass("8.8", 640, 800, _ISO),
        BoltClass("10.9", 940, 1040, _ISO),
        BoltClass("12.9", 1100, 1220, _ISO),
        BoltClass("A2-50", 210, 500, _STAINLESS),
        BoltClass("A2-70", 450, 700, _STAINLESS),
        BoltClass("A2-80", 600, 800, _STAINLESS),
        BoltClass("A4-50", 210, 500, _STAINLESS),
        BoltClass("A4-70", 450, 700, _STAINLESS),
        BoltClass("A4-80", 600, 800, _STAINLESS),
    )
}


@dataclass(frozen=True, slots=True)
class Material:
    """What a bolt is screwed into.

    Parameters
    ----------
    name
        ``6061-T6``.
    strength
        Rm, MPa.
    shear
        Shear strength, MPa.
    basis
        Where the figures come from.
    """

    name: str
    strength: float
    shear: float
    basis: str


_HANDBOOK = "Machinery's Handbook, properties of wrought aluminium alloys"
MATERIALS = {
    row.name: row
    for row in (
        Material("6061-T6", 310, 207, _HANDBOOK),
        Material("7075-T6", 560, 330, _HANDBOOK),
        Material("2014-T6", 483, 290, "from memory"),
        Material("6082-T6", 310, 200, "from memory"),
        Material("A356-T6", 228, 180, "from memory; cast aluminium"),
        Material("AZ91", 230, 140, "from memory; cast magnesium"),
        Material("steel", 370, 220, "from memory; plain structural steel"),
        Material("4130", 670, 400, "from memory; chromium-molybdenum steel, normalised"),
        Material("304", 515, 310, "from memory; stainless steel"),
        Material("Ti-6Al-4V", 900, 550, "from memory; titanium alloy"),
    )
}


def bolt_class(name: str) -> BoltClass:
    """Return a property class; raise `UnknownNameError` with near names if there is none.

    Examples
    --------
    >>> bolt_class("a2-70").proof
    450
    """
    return _find(BOLT_CLASSES, "property class", name)


def material(name: str) -> Material:
    """Return a material; raise `UnknownNameError` with near names if there is none.

    Examples
    --------
    >>> material("6061-t6").shear
    207
    """
    return _find(MATERIALS, "material", name)


_Row = TypeVar("_Row", BoltClass, Material)


def _find(rows: dict[str, _Row], kind: str, name: str) -> _Row:
    for known, row in rows.items():
        if known.lower() == name.strip().lower():
            return row
    raise UnknownNameError(kind, name, list(rows))
