"""Loads the library: asks the plugins, reads the files, follows the references, joins it all."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from importlib.resources.abc import Traversable
from pathlib import Path

from diagtree.library.assembly import Assembly, assemble
from diagtree.library.kept import keep, key_of, take
from diagtree.library.library import Library, Problem
from diagtree.library.plugins import Plugins, load_plugins
from diagtree.library.sources import Source, read_files, yaml_files
from diagtree.model.reading import Reading
from diagtree.model.words import REFERENCE_PATTERN

OWN = "own"
"""The origin of files that no plugin offered."""


def load_library(
    tree_folders: Iterable[Path] = (),
    blocked: Iterable[str] = (),
    trace: Callable[[str], None] | None = None,
    also: Mapping[str, object] | None = None,
    keep_in: Path | None = None,
) -> Library:
    """Load the bundled library, what installed plugins add, and the user's own folders.

    Parameters
    ----------
    tree_folders
        Own folders (or single files) of trees, catalogues and conditions; they come last, so that an own
        tree takes the place of a bundled one of the same name, which is told in ``notices``.
    blocked
        Names of plugins that stay outside.
    trace
        Is given a line for each call of a plugin's hook.
    also
        More plugins by name, already imported.
    keep_in
        A folder in which libraries are kept from start to start; None to read every file each time.

    Returns
    -------
    Library
        What holds together. A broken plugin or file is named in ``problems`` and the rest works.

    Examples
    --------
    >>> library = load_library(also={})
    >>> library.machine.one != ""
    True
    """
    plugins = load_plugins(blocked, also, trace)
    if keep_in is None:
        return assembled(plugins, tree_folders).library
    problems: list[Problem] = []
    files, readings = _offered(plugins, tree_folders, problems)
    key = key_of(files, [reading.name for reading in readings])
    with no_collecting():
        kept = take(keep_in, key) if key is not None and not problems and not plugins.problems else None
    if kept is not None:
        return replace(kept, readings={reading.name: reading for reading in readings})
    library = _read(plugins, files, readings, problems).put_together().library
    if key is not None and not library.problems:
        # What a reading computes is code, and comes from its plugin each time.
        keep(keep_in, key, replace(library, readings={}))
    return library


@dataclass
class Collected:
    """What plugins and folders offer, read but not yet put together.

    Parameters
    ----------
    sources
        The files.
    readings
        The readings of plugins.
    problems
        What could not be had, and why.
    """

    sources: list[Source]
    readings: list[Reading]
    problems: list[Problem]

    def put_together(self) -> Assembly:
        """Validate and join it all."""
        with no_collecting():
            return assemble(self.sources, self.readings, self.problems)


def assembled(plugins: Plugins, tree_folders: Iterable[Path] = ()) -> Assembly:
    """Put together what plugins and folders offer, with each file's positions and faults."""
    return collected(plugins, tree_folders).put_together()


def collected(plugins: Plugins, tree_folders: Iterable[Path] = ()) -> Collected:
    """Read what plugins and folders offer; a file that a plugin offers too is read once, as the user's own."""
    problems: list[Problem] = []
    files, readings = _offered(plugins, tree_folders, problems)
    return _read(plugins, files, readings, problems)


def _read(
    plugins: Plugins, files: list[tuple[Traversable, str]], readings: list[Reading], problems: list[Problem]
) -> Collected:
    with no_collecting():
        sources = list(read_files(files, problems))
    return Collected(sources, readings, [*plugins.problems, *problems])


def _offered(
    plugins: Plugins, tree_folders: Iterable[Path], problems: list[Problem]
) -> tuple[list[tuple[Traversable, str]], list[Reading]]:
    """List the files with the origin of each, and the readings."""
    files: list[tuple[Traversable, str]] = []
    wants = "files (importlib.resources Traversable)"
    for hook in ("diagtree_families", "diagtree_conditions"):
        files += [(file, name) for name, file in plugins.ask(hook, Traversable, wants)]
    wants = "folders (importlib.resources Traversable)"
    for name, folder in plugins.ask("diagtree_tree_folders", Traversable, wants):
        files += [(file, name) for file in yaml_files(folder, problems)]
    own = {file.resolve(): file for folder in tree_folders for file in _paths(folder, problems)}
    if own:
        files = [(file, at) for file, at in files if not (isinstance(file, Path) and file.resolve() in own)]
    return [*files, *((file, OWN) for file in own.values())], list(_readings(plugins))


def _paths(folder: Path, problems: list[Problem]) -> list[Path]:
    return [file for file in yaml_files(folder, problems) if isinstance(file, Path)]


def _readings(plugins: Plugins) -> Iterator[Reading]:
    import re

    seen: dict[str, str] = {}
    for plugin, reading in plugins.ask(
        "diagtree_readings", Reading, "readings (diagtree.model.reading.Reading)"
    ):
        where = f"plugin '{plugin}'"
        if not re.fullmatch(REFERENCE_PATTERN, reading.name) or "/" not in reading.name:
            told = f"the reading '{reading.name}' needs its family in its name. Write 'family/name'."
            plugins.problems.append(Problem(where, told))
        elif reading.name in seen:
            told = f"the reading '{reading.name}' is plugin '{seen[reading.name]}'s already. Choose another name."
            plugins.problems.append(Problem(where, told))
        else:
            seen[reading.name] = plugin
            yield reading


@contextmanager
def no_collecting() -> Iterator[None]:
    """Keep the garbage collector from walking over a bulk of data that all stays: it costs more than reading."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
