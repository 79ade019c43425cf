"""Show what a change does: findings, minutes, worked cases and torques of two versions."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.learning.comparing import Comparison, Moved, TreeChange
    from diagtree.library.library import Library
    from diagtree.library.plugins import Plugins

EXAMPLES = """\
  diagtree compare dead-before.yaml my-trees/dead.yaml   two versions of a tree
  diagtree compare before/ my-trees/                     two versions of a folder
  diagtree compare before/ my-trees/ --json              for programs
"""

SCHEMA = 1
"""Rises when the JSON form changes."""

LEAST = 0.05
"""Figures that move less are not told in words."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments

    parser.add_argument("old", metavar="OLD", help="a tree, a catalogue or a folder, as it was")
    parser.add_argument("new", metavar="NEW", help="the same as it is now")
    parser.add_argument("--json", action="store_true", help="print it for programs")
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Compare; return the exit status: 1 if a worked case fails that did not fail before."""
    import dataclasses

    from diagtree.clean import clean
    from diagtree.commands.common import own_folders, plugins_from
    from diagtree.commands.outgoing import write_json, write_out
    from diagtree.errors import ExpectedError
    from diagtree.learning.comparing import compare

    paths = [Path(options.old), Path(options.new)]
    for path in paths:
        if not path.exists():
            raise ExpectedError(f"There is no file or folder '{path}'.", "Look at its name again.")
    plugins = plugins_from(options)
    folders = own_folders(options.trees)
    old = _library(plugins, folders, paths[0], paths[1])
    new = _library(plugins, folders, paths[1], paths[0])
    found = compare(old, new)
    if options.json:
        write_json({"schema": SCHEMA, "breaks": found.breaks, **dataclasses.asdict(found)})
    else:
        write_out("\n".join(clean(line) for line in in_words(found, old, new)))
    return 1 if found.breaks else 0


def _library(plugins: Plugins, folders: Sequence[Path], path: Path, other: Path) -> Library:
    """Load the library with one version in it and the other left out."""
    from diagtree.errors import ExpectedError
    from diagtree.learning.draft import catalogues_beside
    from diagtree.library.fault import FaultyFileError
    from diagtree.library.loading import collected
    from diagtree.library.sources import yaml_files

    def files(place: Path) -> set[Path]:
        return {file.resolve() for file in yaml_files(place, []) if isinstance(file, Path)}

    mine = files(path)
    beside = [] if path.is_dir() else [one for one in catalogues_beside(path) if one.resolve() not in mine]
    together = collected(plugins, [*folders, *beside, path])
    for problem in together.problems:
        # What cannot be read would look like what was taken out.
        if Path(problem.where).resolve() in {*mine, path.resolve()}:
            raise ExpectedError(str(problem))
    left_out = files(other) - mine
    together.sources = [one for one in together.sources if Path(one.document.file).resolve() not in left_out]
    assembly = together.put_together()
    faults = [fault for fault in assembly.faults if Path(fault.file).resolve() in mine]
    if faults:
        raise FaultyFileError(faults)
    return assembly.library


def in_words(found: Comparison, old: Library, new: Library) -> list[str]:
    """Tell a comparison, tree by tree, then the catalogues and the torques."""
    lines: list[str] = []
    for tree in found.trees:
        lines += [*_tree_lines(tree, old, new), ""]
    if found.entries:
        lines.append("Catalogues and conditions")
        for change in found.entries:
            lines.append(f"  {change.what}: {change.kind} '{change.name}'")
            lines += [f"    {said}" for said in change.says]
        lines.append("")
    if found.torques:
        lines.append("Torques")
        for name, before, after in found.torques:
            lines += [f"  {name}", f"    was: {before}", f"    now: {after}"]
        lines.append("")
    if not lines:
        return ["Nothing differs that counts."]
    broken = [case for tree in found.trees for case in tree.cases if case.breaks]
    lines.append(f"Worked cases that break: {len(broken)}." if broken else "No worked case breaks.")
    return lines


def _tree_lines(tree: TreeChange, old: Library, new: Library) -> list[str]:
    def title(cause: str) -> str:
        known = new.causes.get(cause) or old.causes.get(cause)
        return known.title if known else cause

    lines = [f"{tree.title} ({tree.symptom}), {tree.what}"]
    lines += _table(
        "on average",
        (tree.minutes, tree.right),
        {"minutes": "minutes to a finding", "right": "of 100 come out right"},
    )
    lines += _table("of 100, behind it:", tree.causes, {one.name: title(one.name) for one in tree.causes})
    lines += _table("of 100, the walk ends at:", tree.findings, {})
    if tree.checks:
        lines.append("  Checks")
        for change in tree.checks:
            said = f": {'; '.join(change.says)}" if change.says else ""
            lines.append(f"    {change.what}: {change.name}{said}")
    if tree.cases:
        lines.append("  Worked cases")
        lines += [f"    {case.what}: {case.title}. {case.told}" for case in tree.cases]
    return lines


def _table(heading: str, rows: Iterable[Moved], titles: dict[str, str]) -> list[str]:
    told = [one for one in rows if abs((one.new or 0.0) - (one.old or 0.0)) >= LEAST]
    if not told:
        return []
    rows_told = [f"  {_figure(one.old)}{_figure(one.new)}  {titles.get(one.name, one.name)}" for one in told]
    return [f"  {'was':>7}{'now':>7}  {heading}", *rows_told]


def _figure(value: float | None) -> str:
    return f"{'-':>7}" if value is None else f"{value:7.1f}"
