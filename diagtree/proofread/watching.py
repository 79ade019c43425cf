"""Watching files while their author writes: after each save only what changed is read again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from diagtree.library.fault import Fault
from diagtree.library.loading import OWN, Collected
from diagtree.library.offers import Rule
from diagtree.library.sources import Source, bytes_of, read_source, shown, yaml_files
from diagtree.proofread.manuscript import Manuscript, Shelf
from diagtree.proofread.proofreader import proofread

_Stamp = tuple[int, int, int]


class Watch:
    """Files under watch, and the library that they stand in.

    Parameters
    ----------
    collected
        Everything that plugins and folders offer.
    paths
        The files and folders under watch.
    rules
        The rules to apply.
    """

    def __init__(self, collected: Collected, paths: Iterable[Path], rules: Sequence[Rule]) -> None:
        self._collected = collected
        self._paths = tuple(paths)
        self._rules = rules
        self._stamps = self._look()
        self.shelf = Shelf(collected.put_together())

    def _look(self) -> dict[Path, _Stamp]:
        stamps: dict[Path, _Stamp] = {}
        for path in self._paths:
            for file in yaml_files(path, []) if path.exists() else ():
                if isinstance(file, Path):
                    try:
                        stat = file.stat()
                    except OSError:  # between listing and looking it went away
                        continue
                    stamps[file] = (stat.st_mtime_ns, stat.st_size, stat.st_ino)
        return stamps

    @property
    def watched(self) -> list[Manuscript]:
        """The manuscripts under watch."""
        names = {shown(file) for file in self._stamps}
        return [one for one in self.shelf.manuscripts if one.document.file in names]

    def faults(self) -> list[Fault]:
        """Return the faults of all files under watch."""
        return proofread(self.shelf, self._rules, self.watched)

    def changed(self) -> bool:
        """Look once; read again what was saved, came or went, and tell whether anything did."""
        stamps = self._look()
        if stamps == self._stamps:
            return False
        touched = {file for file in stamps if stamps[file] != self._stamps.get(file)}
        again: dict[str, Source] = {}
        for file in sorted(touched):
            try:
                raw = bytes_of(file)
            except OSError:  # caught in the middle of a save: to the next look it is new
                del stamps[file]
                continue
            again[shown(file)] = read_source(raw, shown(file), OWN)
        gone = {shown(file) for file in self._stamps if file not in stamps}
        sources = [
            again.pop(one.document.file, one)
            for one in self._collected.sources
            if one.document.file not in gone
        ]
        self._collected.sources = [*sources, *again.values()]
        self._stamps = stamps
        self.shelf = Shelf(self._collected.put_together())
        return True
