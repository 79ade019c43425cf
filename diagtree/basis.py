"""Where a figure comes from: each figure on a sheet carries its basis."""

from __future__ import annotations

import enum


class BasisKind(enum.Enum):
    """How far a figure can be trusted, most trusted first."""

    MARK = "mark on the part"
    STANDARD = "standard"
    HANDBOOK = "handbook"
    COMPUTED = "computed"
    COMMON_PRACTICE = "common practice"
    WORKSHOP = "workshop"
    FROM_MEMORY = "from memory"
    INVENTED = "invented"


_STANDARD_STARTS = (
    "ISO ",
    "EN ",
    "DIN ",
    "VDI ",
    "IEC ",
    "ASTM ",
    "SAE ",
    "FED-STD",
    "49 CFR",
    "16 CFR",
    "NIST ",
)
_PLAIN = {
    kind.value: kind
    for kind in (BasisKind.MARK, BasisKind.COMMON_PRACTICE, BasisKind.FROM_MEMORY, BasisKind.INVENTED)
}


def kind_of(basis: str) -> BasisKind:
    """Tell the kind of a basis from its text.

    Parameters
    ----------
    basis
        What an author wrote, for example ``common practice`` or ``ISO 4210-2:2023, 4.3``. A note may
        follow a plain kind after a semicolon.

    Returns
    -------
    BasisKind
        The kind; a text that is no standard and no plain kind names a handbook.

    Examples
    --------
    >>> kind_of("common practice; the thread is unsure").value
    'common practice'
    >>> kind_of("49 CFR 571.116, S5.1.1").value
    'standard'
    >>> kind_of("computed from VDI 2230").value
    'computed'
    """
    text = " ".join(basis.split())
    head = text.split(";")[0].strip().lower()
    if head in _PLAIN:
        return _PLAIN[head]
    if head.startswith("computed"):
        return BasisKind.COMPUTED
    if head.startswith("workshop"):
        return BasisKind.WORKSHOP
    if text.upper().startswith(_STANDARD_STARTS):
        return BasisKind.STANDARD
    return BasisKind.HANDBOOK
