"""What each learner has practised: an append-only file a learner, every move safe before the next one.

The file is a journal like a case's (`diagtree.case.journal`): numbered lines with checksums, synced one by
one, locked while it is open. Its first line names the learner; then comes for each machine ``began``, its
moves, and ``finished`` with the points. A machine without ``finished`` was left, and can be taken up again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from diagtree import __version__
from diagtree.case.disk import DISK, Disk
from diagtree.case.journal import Journal, read_journal, refuse_damage
from diagtree.case.log import Log
from diagtree.errors import CannotWriteError, DamagedFileError, ExpectedError
from diagtree.library.library import Library
from diagtree.practice.debrief import Debrief
from diagtree.practice.machine import Machine

ENDING = ".practice"
VARIABLE = "DIAGTREE_PRACTICE"
FORMAT = 1
MOVES = frozenset({"checked", "named", "told", "gave-up"})


def practice_folder(environ: Mapping[str, str]) -> Path:
    """Tell where histories are kept: where ``DIAGTREE_PRACTICE`` says, else in the user's data folder.

    Examples
    --------
    >>> practice_folder({"DIAGTREE_PRACTICE": "/tmp/class"}).as_posix()
    '/tmp/class'
    """
    if environ.get(VARIABLE):
        return Path(environ[VARIABLE]).expanduser()
    from platformdirs import user_data_path

    return user_data_path("diagtree", appauthor=False) / "practice"


def path_of(folder: Path, learner: str) -> Path:
    """Tell the file of a learner.

    Raises
    ------
    ExpectedError
        If nothing of the name can stand in a file's name.

    Examples
    --------
    >>> path_of(Path("/class"), "Sam O'Neill").as_posix()
    '/class/sam-o-neill.practice'
    """
    import unicodedata

    plain = unicodedata.normalize("NFKC", learner).casefold()
    stem = re.sub(r"[\W_]+", "-", plain).strip("-")[:60].rstrip("-")
    if not stem:
        raise ExpectedError(f"'{learner}' is no name for a learner.", "Use letters or figures.")
    return folder / f"{stem}{ENDING}"


@dataclass(frozen=True, slots=True)
class Game:
    """One machine in a history.

    Parameters
    ----------
    began
        When, ISO 8601.
    level, seed, complaints
        What it was drawn with.
    trees
        The identity of each complaint's tree.
    wanted
        True if the complaints were asked for, False if they were drawn.
    moves
        What was done, in order.
    finished
        The facts of its end; None while it is not finished.
    """

    began: str
    level: str
    seed: int
    complaints: tuple[str, ...]
    trees: Mapping[str, str]
    wanted: bool
    moves: tuple[Mapping[str, Any], ...] = ()
    finished: Mapping[str, Any] | None = None

    @property
    def points(self) -> int | None:
        """The points out of 100; None while it is not finished."""
        return None if self.finished is None else int(self.finished["points"])

    def fits(self, library: Library) -> bool:
        """Tell whether the trees are still the same."""
        return all(
            symptom in library.trees and library.identity(symptom) == self.trees.get(symptom)
            for symptom in self.complaints
        )


@dataclass(frozen=True, slots=True)
class History:
    """All that a learner has practised, first to last."""

    learner: str
    games: tuple[Game, ...]

    @property
    def finished(self) -> tuple[Game, ...]:
        """The machines that were brought to their end."""
        return tuple(game for game in self.games if game.finished is not None)

    @property
    def left(self) -> Game | None:
        """The last machine, if it was left before its end."""
        return self.games[-1] if self.games and self.games[-1].finished is None else None


def read_history(records: Sequence[Mapping[str, Any]]) -> History:
    """Tell the history that a journal's records tell.

    Raises
    ------
    DamagedFileError
        If they are no history, or a newer version wrote them.
    """
    if not records or records[0].get("kind") != "learner":
        raise DamagedFileError("This is no practice history: it does not begin as one does.")
    if not isinstance(records[0].get("format"), int) or records[0]["format"] > FORMAT:
        raise DamagedFileError(
            f"The history was written by a newer diagtree ({records[0].get('program')}).",
            "Open it with that version.",
        )
    games: list[Game] = []
    try:
        for record in records[1:]:
            if record["kind"] == "began":
                games.append(_began(record))
            elif record["kind"] in MOVES:
                games[-1] = _with(games[-1], move=record)
            elif record["kind"] == "finished":
                games[-1] = _with(games[-1], finished=record)
        return History(str(records[0]["name"]), tuple(games))
    except (KeyError, IndexError, TypeError, ValueError):
        raise DamagedFileError("This practice history does not tell what any version has written.") from None


def _began(record: Mapping[str, Any]) -> Game:
    return Game(
        began=str(record["when"]),
        level=str(record["level"]),
        seed=int(record["seed"]),
        complaints=tuple(map(str, record["complaints"])),
        trees=dict(record["trees"]),
        wanted=bool(record["wanted"]),
    )


def _with(
    game: Game, move: Mapping[str, Any] | None = None, finished: Mapping[str, Any] | None = None
) -> Game:
    if finished is not None:
        int(finished["points"])
    moves = game.moves if move is None else (*game.moves, move)
    return Game(game.began, game.level, game.seed, game.complaints, game.trees, game.wanted, moves, finished)


def open_history(folder: Path, learner: str, when: str, disk: Disk = DISK) -> Journal:
    """Open a learner's file to go on with it; a new one is made.

    Raises
    ------
    CaseInUseError
        If another window has it open.
    DamagedFileError
        If a line is not as it was written.
    CannotWriteError
        If it cannot be written.
    """
    path = path_of(folder, learner)
    if path.exists() and path.stat().st_size > 0:
        journal = Journal.open(path, disk)
        if journal.records:
            return journal
    else:
        try:
            journal = Journal.open(path, disk) if path.exists() else Journal.create(path, disk)
        except CannotWriteError as error:
            raise CannotWriteError(error.wrong, f"Choose another folder with {VARIABLE}.") from None
    journal.append(
        {"kind": "learner", "when": when, "format": FORMAT, "program": __version__, "name": learner}
    )
    return journal


def begin(log: Log, library: Library, machine: Machine, wanted: bool, when: str) -> None:
    """Keep that a machine was begun."""
    log.append(
        {
            "kind": "began",
            "when": when,
            "level": machine.level.name,
            "seed": machine.seed,
            "complaints": list(machine.complaints),
            "trees": {symptom: library.identity(symptom) for symptom in machine.complaints},
            "wanted": wanted,
        }
    )


def finish(log: Log, machine: Machine, end: Debrief, when: str) -> None:
    """Keep how a machine ended."""
    log.append(
        {
            "kind": "finished",
            "when": when,
            "points": end.score.total,
            "minutes": end.minutes,
            "least": None if end.least is None else end.least.minutes,
            "engine": end.engine.minutes,
            "checks": len(end.worths),
            "causes": dict(machine.causes),
            "named": {one.symptom: one.named for one in end.results},
            "right": sum(one.verdict.right for one in end.results),
        }
    )


def look_up(folder: Path, learner: str, disk: Disk = DISK) -> History:
    """Read a learner's history without opening it for writing.

    Raises
    ------
    ExpectedError
        If there is none.
    DamagedFileError
        If a line is not as it was written.
    """
    path = path_of(folder, learner)
    if not path.is_file():
        raise ExpectedError(f"'{learner}' has practised nothing yet.", "See: diagtree practise --learners")
    contents = read_journal(path, disk)
    refuse_damage(path, contents)
    return read_history(contents.records)


def learners(folder: Path, disk: Disk = DISK) -> list[tuple[str, History | str]]:
    """List all learners by name, each with the history or with why it cannot be read."""
    found: list[tuple[str, History | str]] = []
    for path in sorted(folder.glob(f"*{ENDING}")) if folder.is_dir() else ():
        try:
            contents = read_journal(path, disk)
            refuse_damage(path, contents)
            history = read_history(contents.records)
            found.append((history.learner, history))
        except ExpectedError as error:
            found.append((path.stem, str(error)))
    return found


def most_missed(games: Iterable[Game], most: int = 5) -> list[tuple[str, int, int]]:
    """Tell the causes that were missed most: cause, how often missed, how often met; the most missed first.

    A cause behind two complaints of one machine is met twice.
    """
    met: dict[str, int] = {}
    missed: dict[str, int] = {}
    for game in games:
        ended = game.finished or {}
        named = ended.get("named", {})
        for symptom, cause in ended.get("causes", {}).items():
            met[cause] = met.get(cause, 0) + 1
            if named.get(symptom) != cause:
                missed[cause] = missed.get(cause, 0) + 1
    ranked = sorted(missed, key=lambda cause: (-missed[cause], met[cause], cause))
    return [(cause, missed[cause], met[cause]) for cause in ranked[:most]]
