"""A kit for those who write trees and plugins: load just what is under test, and hold it to its promises.

Used by this project's own tests too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from diagtree.errors import UnknownNameError
from diagtree.library.assembly import assemble
from diagtree.library.library import Library
from diagtree.library.loading import OWN, collected
from diagtree.library.plugins import load_plugins
from diagtree.library.sources import read_source
from diagtree.proofread.cases import outcomes, story
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.proofreader import faults_in
from diagtree.proofread.rulebook import rulebook


def library_of(
    plugins: Mapping[str, object] | None = None, folders: Iterable[Path] = (), installed: bool = False
) -> Library:
    """Load a library of plugins and folders alone.

    Parameters
    ----------
    plugins
        Modules or objects with hooks, by name.
    folders
        Folders or files of trees, catalogues and conditions.
    installed
        True to have the installed plugins beside them.

    Returns
    -------
    Library
        See its ``problems`` for what was left out.

    Examples
    --------
    >>> library_of().trees
    {}
    """
    loaded = load_plugins(also=plugins, points=None if installed else ())
    return collected(loaded, folders).put_together().library


def faults_of(
    text: str, beside: Mapping[str, str] | None = None, rules: Iterable[str] | None = None
) -> list[str]:
    """Proofread a text as if it stood in a file.

    Parameters
    ----------
    text
        A tree, a catalogue or conditions.
    beside
        Other files, by name, that it stands beside.
    rules
        The names of the rules to apply; all if None. Faults in reading are told with any of them.

    Returns
    -------
    list of str
        Each fault with line and column, what to do, and its rule.

    Raises
    ------
    UnknownNameError
        If there is no rule of a name.

    Examples
    --------
    >>> faults_of("checks: {lamp: {ask: Is it on}}", rules=["question-without-mark"])[-1]
    '1:22: checks > lamp > ask: The question does not end with a question mark. Add it. [question-without-mark]'
    """
    sources = [read_source(other.encode(), name, OWN) for name, other in (beside or {}).items()]
    shelf = Shelf(assemble([*sources, read_source(text.encode(), "text.yaml", OWN)]))
    book = {rule.name: rule for rule in rulebook()}
    wanted = list(book if rules is None else rules)
    for name in wanted:
        if name not in book:
            raise UnknownNameError("rule", name, sorted(book))
    faults = faults_in(shelf.manuscripts[-1], [book[name] for name in wanted])
    return [f"{fault.line}:{fault.column}: {fault.message} [{fault.rule}]" for fault in faults]


def assert_nothing_left_out(library: Library) -> None:
    """Fail, naming each problem, if anything was left out of a library."""
    if library.problems:
        raise AssertionError("left out of the library:\n" + "\n".join(map(str, library.problems)))


def assert_cases_hold(library: Library, symptom: str) -> None:
    """Fail, telling where the answers led, if a worked case of a tree does not come out as its author expects."""
    failed = [story(library, symptom, one) for one in outcomes(library, symptom) if not one.holds]
    if failed:
        raise AssertionError("\n\n".join(failed))
