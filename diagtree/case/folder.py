"""The folder in which cases are kept: where it is, what is in it, and what a new one is called."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from diagtree.case.case import Case
from diagtree.case.disk import DISK, Disk
from diagtree.case.journal import read_journal, refuse_damage
from diagtree.case.keeper import read_case
from diagtree.errors import ExpectedError

ENDING = ".case"
VARIABLE = "DIAGTREE_CASES"


def cases_folder(environ: Mapping[str, str]) -> Path:
    """Tell where cases are kept: where ``DIAGTREE_CASES`` says, else in the user's data folder.

    Examples
    --------
    >>> cases_folder({"DIAGTREE_CASES": "/tmp/bench"}).as_posix()
    '/tmp/bench'
    """
    if environ.get(VARIABLE):
        return Path(environ[VARIABLE]).expanduser()
    from platformdirs import user_data_path

    return user_data_path("diagtree", appauthor=False) / "cases"


def new_path(folder: Path, when: str, name: str) -> Path:
    """Tell a free name for a new case: the day, then the label or the complaint.

    Parameters
    ----------
    folder
        Where cases are kept; it need not be there yet.
    when
        ISO 8601.
    name
        The label or the complaint, as it was entered.

    Examples
    --------
    >>> new_path(Path("/nowhere"), "2026-01-02T03:04:05+00:00", "Mrs. Ödön's blue one!").name
    '2026-01-02-mrs-odon-s-blue-one.case'
    >>> new_path(Path("/nowhere"), "2026-01-02T03:04:05+00:00", "").name
    '2026-01-02.case'
    """
    import unicodedata

    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].rstrip("-")
    stem = "-".join(part for part in (when[:10], words) if part)
    path = folder / f"{stem}{ENDING}"
    number = 2
    while path.exists():
        path = folder / f"{stem}-{number}{ENDING}"
        number += 1
    return path


def called(path: Path, folder: Path) -> str:
    """Tell what to type for a case: its bare name if it is in the folder of cases, else its file.

    Examples
    --------
    >>> called(Path("/tmp/bench/2026-01-02-blue.case"), Path("/tmp/bench"))
    '2026-01-02-blue'
    >>> called(Path("blue.case"), Path("/tmp/bench"))
    'blue.case'
    """
    return path.stem if path.parent == folder and path.suffix == ENDING else str(path)


def chosen(text: str, folder: Path) -> Path:
    """Tell which file is meant: a file here, a case in the folder by its bare name, else a file to be made here.

    Parameters
    ----------
    text
        What was typed after ``--case``.
    folder
        Where cases are kept.
    """
    here = Path(text)
    kept = folder / f"{text}{ENDING}"
    bare = here.name == text and here.suffix != ENDING
    return kept if bare and not here.exists() and kept.is_file() else here


@dataclass(frozen=True, slots=True)
class Listed:
    """One case in the folder.

    Parameters
    ----------
    path
        Its file.
    case
        What it tells; empty if it cannot be read.
    trouble
        Why it cannot be read, or an empty text.
    """

    path: Path
    case: Case
    trouble: str = ""


def list_cases(folder: Path, disk: Disk = DISK) -> list[Listed]:
    """List the cases in a folder, the one touched last first; one that cannot be read says why."""
    if not folder.is_dir():
        return []
    found = [look_at(path, disk) for path in sorted(folder.glob(f"*{ENDING}")) if path.is_file()]
    return sorted(found, key=lambda each: each.case.updated, reverse=True)


def look_at(path: Path, disk: Disk = DISK) -> Listed:
    """Read one case without opening it for writing."""
    try:
        contents = read_journal(path, disk)
        refuse_damage(path, contents)
        return Listed(path, read_case(contents.records))
    except ExpectedError as error:
        return Listed(path, Case(), str(error))
