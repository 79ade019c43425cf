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
from diagtree.errors import ExpectedError, UnknownNameError

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
    """Tell which file is meant: a file here, a case in the folder by its name, else a file to be made here.

    Parameters
    ----------
    text
        What was typed after ``--case``.
    folder
        Where cases are kept; the day in front of a case's name may be left out.

    Raises
    ------
    ExpectedError
        If several cases in the folder have that name on different days.
    """
    here = Path(text)
    if here.name != text or here.suffix == ENDING or here.exists():
        return here
    kept = folder / f"{text}{ENDING}"
    if kept.is_file():
        return kept
    same = [path for path in kept_cases(folder) if path.stem[len(_DAY) :] == text]
    return only_one(text, same) if same else here


_DAY = "2026-01-02-"
"""What stands in front of a case's name; what people remember is the rest."""


def kept_cases(folder: Path) -> list[Path]:
    """List the files of the cases in a folder, by name: the oldest first."""
    return sorted(folder.glob(f"*{ENDING}")) if folder.is_dir() else []


def find_case(name: str, folder: Path) -> Path:
    """Find a case that is there: by its file, by its name in the folder, or by a part of that.

    Parameters
    ----------
    name
        What was typed. In the folder the day may be left out, and what comes behind the beginning.
    folder
        Where cases are kept.

    Raises
    ------
    UnknownNameError
        If there is none; near names are listed.
    ExpectedError
        If several fit; they are listed.
    """
    for path in (Path(name), folder / name, folder / f"{name}{ENDING}"):
        if path.is_file():
            return path
    known = kept_cases(folder)
    rest = {path: path.stem[len(_DAY) :] for path in known}
    for same in (
        [path for path in known if rest[path] == name],
        [path for path in known if rest[path].startswith(name) or path.stem.endswith(f"-{name}")],
    ):
        if same:
            return only_one(name, same)
    raise UnknownNameError("case", name, [path.stem for path in known])


def only_one(name: str, same: list[Path]) -> Path:
    """Return the one case that fits a name.

    Raises
    ------
    ExpectedError
        If several do; they are listed.
    """
    if len(same) > 1:
        listed = ", ".join(path.stem for path in same)
        raise ExpectedError(f"'{name}' fits {len(same)} cases.", f"Choose one of: {listed}.")
    return same[0]


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
    listed = [look_at(path, disk) for path in kept_cases(folder) if path.is_file()]
    return sorted(listed, key=lambda each: each.case.updated, reverse=True)


def look_at(path: Path, disk: Disk = DISK) -> Listed:
    """Read one case without opening it for writing."""
    try:
        contents = read_journal(path, disk)
        refuse_damage(path, contents)
        return Listed(path, read_case(contents.records))
    except ExpectedError as error:
        return Listed(path, Case(), str(error))
