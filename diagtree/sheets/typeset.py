"""Sets documents as PDF through typst. Texts go in as data, never as source: there they can only be texts."""

from __future__ import annotations

import atexit
import datetime
import json
import tempfile
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError
from diagtree.sheets.letters import FONT_FILES, font_bytes

if TYPE_CHECKING:
    import typst


class TypesetError(ExpectedError):
    """A document could not be set."""


def typeset(templates: tuple[str, ...], data: Mapping[str, object], date: str = "") -> bytes:
    """Set a document as PDF.

    Parameters
    ----------
    templates
        The names of templates in ``diagtree/sheets/templates``, one behind the other: the last reads
        ``sys.inputs.data``, those before define what it uses.
    data
        What the template prints: texts, numbers, lists and tables only.
    date
        The document's date, ISO 8601; the same data and date give the same bytes. Without one it has none.

    Returns
    -------
    bytes
        A PDF: tagged, PDF/UA-1, its fonts embedded.

    Raises
    ------
    TypesetError
        If it cannot be set.
    """
    import typst

    when = moment_of(date)
    home = files("diagtree.sheets") / "templates"
    source = b"\n".join((home / name).read_bytes() for name in templates)
    inputs = {
        "data": json.dumps(
            {**data, "date": [when.year, when.month, when.day] if when else None}, ensure_ascii=False
        )
    }
    try:
        made = typst.compile(
            source,
            format="pdf",
            font_paths=_fonts(),
            sys_inputs=inputs,
            pdf_standards=["ua-1"],
            timestamp=int(when.timestamp()) if when else 0,
        )
    except typst.TypstError as fault:
        raise TypesetError(
            f"The PDF could not be set: {fault.message}", "Write it as HTML instead, and print that."
        ) from fault
    if not isinstance(made, bytes):
        raise TypesetError("The PDF could not be set: it came out in several files.")
    return made


@cache
def _fonts() -> typst.Fonts:
    """Read the fonts that come along, and no others: a sheet looks the same on every machine."""
    import typst

    home = files("diagtree.sheets") / "fonts"
    if not isinstance(home, Path):
        # Inside a zipped wheel the fonts are no files; typst reads them late, so they stay to the end.
        folder = tempfile.TemporaryDirectory(prefix="diagtree-fonts-")
        atexit.register(folder.cleanup)
        home = Path(folder.name)
        for name in FONT_FILES:
            (home / name).write_bytes(font_bytes(name))
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[home])


def moment_of(date: str) -> datetime.datetime | None:
    """Read a point in time; a text that is none gives None.

    Examples
    --------
    >>> moment_of("2026-01-02T03:04:05+00:00").year, moment_of("some day")
    (2026, None)
    """
    try:
        when = datetime.datetime.fromisoformat(date)
    except ValueError:
        return None
    return when if when.tzinfo else when.replace(tzinfo=datetime.UTC)
