"""What several commands share: where library, plugins, workshop and cases come from."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from typing import Any

    from diagtree.case.view import View
    from diagtree.library.library import Library
    from diagtree.library.plugins import Plugins
    from diagtree.model.workshop import Workshop

TREES_VARIABLE = "DIAGTREE_TREES"
"""Own folders of trees and catalogues, separated as in PATH."""

WORKSHOP_VARIABLE = "DIAGTREE_WORKSHOP"
"""The workshop file to use when none is named."""


def program() -> str:
    """Tell how the program is called here, so that a command that is shown can be typed as it stands.

    Where it is not on the path (an environment that is not activated), it is what it was started by.
    """
    import shlex
    import shutil

    by = Path(sys.argv[0])
    if by.name != "diagtree" or shutil.which("diagtree"):
        return "diagtree"
    return shlex.quote(str(by))


def add_library_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe where the library comes from; goes with `library_from`."""
    group = parser.add_argument_group("library")
    group.add_argument(
        "--trees", metavar="DIR", action="append", default=[],
        help=f"a folder of your own trees and catalogues; may be given again (also: {TREES_VARIABLE})",
    )  # fmt: skip
    group.add_argument(
        "--block", metavar="PLUGIN", action="append", default=[],
        help="leave a plugin out, by its name; may be given again",
    )  # fmt: skip
    group.add_argument("--trace-plugins", action="store_true", help="print each call of a plugin's hook")


def add_workshop_arguments(parser: argparse._ActionsContainer) -> None:
    """Describe where the workshop's figures come from; goes with `workshop_from`."""
    parser.add_argument(
        "--workshop", metavar="FILE",
        help="the workshop file: rates, tax, wrenches, prices (also: "
        f"{WORKSHOP_VARIABLE}; else {default_workshop()}; else an invented one)",
    )  # fmt: skip


def user_folder() -> Path:
    """Tell the standard folder of the user's own trees and workshop file."""
    from platformdirs import user_config_path

    return user_config_path("diagtree", appauthor=False)


def kept_libraries() -> Path:
    """Tell where a library that was put together is kept for the next start."""
    from platformdirs import user_cache_path

    return user_cache_path("diagtree", appauthor=False) / "libraries"


def default_workshop() -> Path:
    """Tell where a workshop file is looked for when none is named."""
    return user_folder() / "workshop.yaml"


def standard_trees() -> Path:
    """Tell the standard folder of the user's own trees."""
    return user_folder() / "trees"


def named_in_environment() -> list[str]:
    """List the own folders that the environment names."""
    return [part for part in os.environ.get(TREES_VARIABLE, "").split(os.pathsep) if part]


def own_folders(named: list[str]) -> list[Path]:
    """List the folders of own trees: the user's standard one, the environment's, then the named ones.

    Raises
    ------
    diagtree.errors.ExpectedError
        If a folder that was asked for is not there.
    """
    from diagtree.errors import ExpectedError

    standard = standard_trees()
    folders = [standard] if standard.is_dir() else []
    asked = named_in_environment()
    for text in [*asked, *named]:
        folder = Path(text)
        if not folder.is_dir():
            where = f" (from {TREES_VARIABLE})" if text in asked and text not in named else ""
            raise ExpectedError(f"There is no folder '{text}'{where}.", "Make it, or name another.")
        folders.append(folder)
    return folders


def library_from(options: argparse.Namespace) -> Library:
    """Load the library that the options ask for, with the counts that the workshop learnt beside its own trees.

    What was left out, and what took the place of something else, is told on stderr.

    Raises
    ------
    diagtree.errors.ExpectedError
        If a folder that was asked for is not there.
    """
    return _told(_with_own_counts(_loaded(options), own_folders(options.trees)))


def authors_library_from(options: argparse.Namespace) -> Library:
    """Load the library as `library_from` does, but with its authors' counts alone."""
    return _told(_loaded(options))


def plugins_from(options: argparse.Namespace) -> Plugins:
    """Load the plugins that the options leave in, without a library made of them."""
    from diagtree.library.plugins import load_plugins

    return load_plugins(options.block, trace=_trace(options))


def _trace(options: argparse.Namespace) -> Callable[[str], None] | None:
    from diagtree.clean import clean

    def trace(line: str) -> None:
        print(f"plugins: {clean(line)}", file=sys.stderr)

    return trace if options.trace_plugins else None


def _loaded(options: argparse.Namespace) -> Library:
    from diagtree.library.loading import load_library

    return load_library(
        tree_folders=own_folders(options.trees),
        blocked=options.block,
        trace=_trace(options),
        keep_in=kept_libraries(),
    )


def _with_own_counts(library: Library, folders: list[Path]) -> Library:
    if not any(any(folder.rglob("*.counts")) for folder in folders):
        return library
    from dataclasses import replace

    from diagtree.learning.counts import counts_in, with_learnt_counts

    counts, problems = counts_in(folders)
    return with_learnt_counts(replace(library, problems=(*library.problems, *problems)), counts)


def _told(library: Library) -> Library:
    from diagtree.clean import clean

    for problem in library.problems:
        print(f"diagtree: left out: {clean(str(problem))}", file=sys.stderr)
    for notice in library.notices:
        print(f"diagtree: note: {clean(str(notice))}", file=sys.stderr)
    return library


def workshop_from(options: argparse.Namespace, library: Library) -> Workshop:
    """Read the workshop file that the options name, or the standard one, or take the invented one."""
    from diagtree.library.workshop_file import default_workshop as invented
    from diagtree.library.workshop_file import read_workshop

    named = options.workshop or os.environ.get(WORKSHOP_VARIABLE)
    if named:
        return read_workshop(Path(named), library)
    if default_workshop().is_file():
        return read_workshop(default_workshop(), library)
    return invented()


def cases_folder_from(options: argparse.Namespace) -> Path:
    """Tell which folder of cases is meant: the one that ``--cases`` names, or the usual one.

    Raises
    ------
    diagtree.errors.ExpectedError
        If the folder that was named is not there.
    """
    from diagtree.case.folder import cases_folder
    from diagtree.errors import ExpectedError

    if not options.cases:
        return cases_folder(os.environ)
    folder = Path(options.cases)
    if not folder.is_dir():
        raise ExpectedError(f"There is no folder '{folder}'.", "Name the folder that holds the cases.")
    return folder


def records_of(case: str) -> tuple[Path, Sequence[Mapping[str, Any]]]:
    """Read a case by its file or its name in the folder of cases; return its file and what stands in it.

    Raises
    ------
    diagtree.errors.ExpectedError
        If there is no such case, several fit, or it is damaged.
    """
    from diagtree.case.folder import cases_folder, find_case
    from diagtree.case.journal import read_journal, refuse_damage

    path = find_case(case, cases_folder(os.environ))
    contents = read_journal(path)
    refuse_damage(path, contents)
    return path, contents.records


def view_through(library: Library, records: Sequence[Mapping[str, Any]]) -> View:
    """See a case through the library."""
    from diagtree.case.keeper import read_case
    from diagtree.case.view import Memory, View

    return View(read_case(records), Memory(library))


def refuse_treeless(library: Library) -> None:
    """Refuse a library without any tree, where the command is about its trees.

    Raises
    ------
    diagtree.errors.ExpectedError
        If it has none.
    """
    from diagtree.errors import ExpectedError

    if not library.trees:
        raise ExpectedError("There is no tree here.", "Name a folder of trees: --trees DIR.")
