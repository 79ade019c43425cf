"""The workshop file: read as strictly as a tree, and written with a comment on each line."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from diagtree.errors import ExpectedError
from diagtree.library.document import Document, read_document
from diagtree.library.fault import Fault, FaultyFileError, did_you_mean, in_words
from diagtree.library.library import Library
from diagtree.library.references import SINGULAR, in_workshop
from diagtree.library.sources import bytes_of, shown
from diagtree.library.validation import validated
from diagtree.model.workshop import Workshop

_TEXT = """\
# The workshop: what it charges, what it owns, what it knows better than the catalogues.
# All figures here are invented. Put in your own; take out a line to have the invented figure back.

title: Our workshop
currency: EUR

# One hour of labour, before tax.
rate: 60.00
# Tax on labour, parts and consumables, out of 100.
tax: 20
# true if the part prices below and in the catalogues include the tax.
prices-include-tax: false
# Totals are rounded to a multiple of this, half up.
rounding: 0.05

# How many of 100 jobs should come in at or under the quoted price.
confidence: 80
# What a come-back costs: the talk, the stand, the goodwill.
come-back: 35.00
# Rags, gloves and cleaner for each bill.
consumables: 2.00
# How much is done if nobody says otherwise: roadworthy, service or full.
brief: service

# Torque wrenches: the ends of their scales in N·m, and whether they measure to the left as well.
# length: from the centre of the square to the middle of the grip, mm, for work with an adapter.
wrenches:
  - {title: Small torque wrench, from: 2, to: 20, length: 200}
  - {title: Large torque wrench, from: 10, to: 100, left: true, length: 420}

# Your own prices, by the part's full name:
#   part-prices:
#     family/part: 24.00
part-prices: {}

# Your own torque values in N·m, by the fastener's full name, each with where it comes from:
#   torques:
#     family/fastener: {from: 5, to: 6, target: 5.5, basis: the maker's sheet in the drawer}
torques: {}

# Where the figures in this file come from.
basis: invented
"""


def workshop_text() -> str:
    """Return a commented workshop file with invented values, ready to be changed.

    Examples
    --------
    >>> print(workshop_text().splitlines()[3])
    title: Our workshop
    """
    return _TEXT


def default_workshop() -> Workshop:
    """Return the invented workshop that is used where nobody wrote a file.

    Examples
    --------
    >>> [(wrench.to, wrench.left) for wrench in default_workshop().wrenches]
    [(Decimal('20'), False), (Decimal('100'), True)]
    """
    return workshop_from(_TEXT.encode(), "workshop.yaml")


def read_workshop(path: Path, library: Library | None = None) -> Workshop:
    """Read a workshop file.

    Parameters
    ----------
    path
        The file.
    library
        If given, part prices and torques must name its parts and fasteners.

    Raises
    ------
    diagtree.errors.ExpectedError
        If the file cannot be read.
    diagtree.library.fault.FaultyFileError
        If anything in it is wrong: all faults, each with line, column and what to do.
    """
    try:
        raw = bytes_of(path)
    except OSError as error:
        why = error.strerror or type(error).__name__
        mend = "Write one with: diagtree workshop --to FILE."
        raise ExpectedError(f"The workshop file '{path}' cannot be read: {why}.", mend) from error
    return workshop_from(raw, shown(path), library)


def workshop_from(raw: bytes, file: str, library: Library | None = None) -> Workshop:
    """Build a workshop from a file's bytes; see `read_workshop`."""
    document = read_document(raw, file, begins="title: Our workshop")
    if document.data is None:
        raise FaultyFileError(document.faults)
    workshop, found = validated(Workshop, document)
    faults = [*document.faults, *found]
    if library is not None:
        faults += _unknown_names(document, library, {fault.path for fault in faults})
    if faults or workshop is None:
        raise FaultyFileError(sorted(faults))
    return workshop


def _unknown_names(document: Document, library: Library, told: set[str]) -> Iterator[Fault]:
    """Yield each part and fastener that the library does not have, but for names that are told already."""
    for kind, name, path, of_key in in_workshop(document.data):
        known = getattr(library, kind)
        if name not in known and in_words(path) not in told:
            mend = did_you_mean(name, known, "Take it out.")
            yield document.fault(path, f"There is no {SINGULAR[kind]} '{name}'.", mend, of_key)
