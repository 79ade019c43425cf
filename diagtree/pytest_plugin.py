"""Worked cases as tests: ``pytest trees/`` runs each case of each tree, and tells a failure in the author's words.

A YAML file is taken if it begins with ``symptom:``. Its catalogues are those of the installed plugins, of the
folders that pytest was given, and of the file's own folder.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from diagtree.library.assembly import Assembly
    from diagtree.library.sheet import Sheet

_TREE = re.compile(rb"\A(?:\xef\xbb\xbf)?(?:[ \t]*(?:#[^\n]*)?\r?\n|---[ \t]*\r?\n)*symptom:")

_ASSEMBLIES: pytest.StashKey[dict[tuple[Path, ...], Assembly]] = pytest.StashKey()


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.Collector | None:
    """Take trees, and nothing else."""
    if file_path.suffix not in {".yaml", ".yml"}:
        return None
    try:
        with file_path.open("rb") as stream:
            begins = stream.read(20_000)
    except OSError:  # somebody else's file, which pytest was never asked to run
        return None
    return TreeFile.from_parent(parent, path=file_path) if _TREE.match(begins) else None


class TreeFile(pytest.File):
    """A tree: one test that it reads without fault, one for each worked case."""

    def collect(self) -> Iterator[pytest.Item]:
        """Yield the tests."""
        from diagtree.library.references import each

        yield TreeReads.from_parent(self, name="reads without fault")
        sheet = self.sheet()
        for place, (case, _) in enumerate(each(sheet.data.get("cases"), ("cases",))):
            title = (
                str(case.get("title"))
                if isinstance(case, dict) and case.get("title")
                else f"case {place + 1}"
            )
            yield TreeCase.from_parent(self, name=title, place=place)

    def assembly(self) -> Assembly:
        """Put together the tree and what it stands beside; once for all trees of a folder."""
        from diagtree.library.loading import assembled
        from diagtree.library.plugins import load_plugins

        given = [Path(argument.split("::")[0]) for argument in self.config.args]
        around = [one for one in given if one.is_dir() and one.resolve() in self.path.resolve().parents]
        folders = tuple(dict.fromkeys([*(one.resolve() for one in around), self.path.parent.resolve()]))
        known = self.config.stash.setdefault(_ASSEMBLIES, {})
        if folders not in known:
            known[folders] = assembled(load_plugins(), folders)
        if self.own_sheet(known[folders]) is not None:
            return known[folders]
        # A folder passes over links that lead out of it and hidden files; pytest does not.
        alone = (*folders, self.path.resolve())
        if alone not in known:
            known[alone] = assembled(load_plugins(), alone)
        return known[alone]

    def own_sheet(self, assembly: Assembly) -> Sheet | None:
        """Return this file as it was read; None if it is not among the files."""
        from diagtree.library.sources import shown

        wanted = shown(self.path.resolve())
        return next((sheet for sheet in assembly.sheets if sheet.source.document.file == wanted), None)

    def sheet(self) -> Sheet:
        """Return this file as it was read."""
        sheet = self.own_sheet(self.assembly())
        assert sheet is not None
        return sheet


class _FailedError(Exception):
    """What is told of a tree or a case that failed; no traceback of the program."""


class _TreeItem(pytest.Item):
    file: TreeFile

    def __init__(self, **more: Any) -> None:  # noqa: ANN401 - as pytest hands it on
        super().__init__(**more)
        assert isinstance(self.parent, TreeFile)
        self.file = self.parent

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> Any:  # noqa: ANN401
        """Tell the author's words only."""
        if isinstance(excinfo.value, _FailedError):
            return str(excinfo.value)
        return super().repr_failure(excinfo, style)


class TreeReads(_TreeItem):
    """The tree reads without fault."""

    def runtest(self) -> None:
        """Fail with all faults."""
        faults = sorted(set(self.file.sheet().faults))
        if faults:
            raise _FailedError("\n".join(map(str, faults)))

    def reportinfo(self) -> tuple[Path, int, str]:
        """Say where it stands."""
        return self.path, 0, f"{self.path.name}: reads without fault"


class TreeCase(_TreeItem):
    """One worked case comes out as its author expects."""

    def __init__(self, *, place: int, **more: Any) -> None:  # noqa: ANN401 - as pytest hands it on
        super().__init__(**more)
        self.place = place

    def runtest(self) -> None:
        """Fail with the story of the case."""
        from diagtree.proofread.cases import outcomes, own_library, places, story
        from diagtree.proofread.manuscript import Manuscript, Shelf

        sheet = self.file.sheet()
        if sheet.model is None:
            raise _FailedError("The tree has faults, so its cases cannot be tried.")
        manuscript = Manuscript(Shelf(self.file.assembly()), sheet)
        library, symptom, stands = own_library(manuscript), sheet.model.symptom, places(manuscript)
        if self.place not in stands:
            raise _FailedError("The case itself has a fault; see 'reads without fault'.")
        for outcome in outcomes(library, symptom):
            if stands[outcome.place] == self.place and not outcome.holds:
                raise _FailedError(story(library, symptom, outcome))

    def reportinfo(self) -> tuple[Path, int, str]:
        """Say where it stands."""
        line, _ = self.file.sheet().source.document.position(("cases", self.place))
        return self.path, line - 1, f"{self.path.name}: {self.name}"
