"""The hooks: what a plugin may say to the program.

A plugin is a module or package that an installed distribution names in the entry-point group ``diagtree``.
It marks a function of the hook's name with `hookimpl`:

>>> @hookimpl
... def diagtree_families():
...     return []

Each hook is called when what it offers is needed, for one plugin at a time. A plugin that raises, or that
returns something else than its hook asks for, is named among the library's problems; the others still work.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import pluggy

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from diagtree.library.offers import Rule, SheetWriter
    from diagtree.model.reading import Reading

PROJECT = "diagtree"

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)
"""Marks a plugin's function as its answer to the hook of the same name."""


@hookspec
def diagtree_families() -> Iterable[Traversable]:
    """Offer component families.

    Called when the library is loaded, before trees are read.

    Returns
    -------
    iterable of Traversable
        YAML files, each with one family's catalogue (`diagtree.model.family.Family`). A package's own files
        come from ``importlib.resources.files(__name__)`` or `diagtree.library.offers.files_of`.

    Notes
    -----
    Each file is read strictly and joined with the others. Entries of a family that exists already are added
    to it. An entry with a fault is left out with all that depends on it, and told.
    """
    raise NotImplementedError


@hookspec
def diagtree_conditions() -> Iterable[Traversable]:
    """Offer conditions, quick looks, final checks, cautions and a glossary.

    Called when the library is loaded, before trees are read.

    Returns
    -------
    iterable of Traversable
        YAML files in the form of `diagtree.model.conditions.Conditions`.

    Notes
    -----
    The quick looks are asked at the start of a diagnosis; the states of the conditions make causes more or
    less likely.
    """
    raise NotImplementedError


@hookspec
def diagtree_tree_folders() -> Iterable[Traversable]:
    """Offer folders of symptom trees.

    Called when the library is loaded, after the families.

    Returns
    -------
    iterable of Traversable
        Folders. Every file in and under them that ends in ``.yaml`` or ``.yml`` is read.

    Notes
    -----
    A file with ``symptom:`` is a tree, one with ``family:`` and no symptom is a catalogue, one with neither holds
    conditions. A tree for a symptom that has one already takes its place, and that is told.
    """
    raise NotImplementedError


@hookspec
def diagtree_readings() -> Iterable[Reading]:
    """Offer readings that need arithmetic: what was entered is turned into a value with a unit.

    Called when the library is loaded, before trees are read.

    Returns
    -------
    iterable of diagtree.model.reading.Reading
        Each with its full name, ``family/name``.

    Notes
    -----
    A check with ``reading: name`` takes a measurement; the bands of its answers are in the reading's unit.
    Readings without arithmetic need no Python: see ``readings:`` in a catalogue.
    """
    raise NotImplementedError


@hookspec
def diagtree_proofreading_rules() -> Iterable[Rule]:
    """Offer proofreading rules.

    Called when trees and catalogues are proofread.

    Returns
    -------
    iterable of diagtree.library.offers.Rule
        Each rule's name is the fault that it finds.

    Notes
    -----
    The rules run after the built-in ones, over the same files, and their faults are printed in the same way.
    A rule with the name of a built-in rule is refused.
    """
    raise NotImplementedError


@hookspec
def diagtree_sheet_writers() -> Iterable[SheetWriter]:
    """Offer forms in which sheets can be written.

    Called when a sheet is about to be written.

    Returns
    -------
    iterable of diagtree.library.offers.SheetWriter
        Each with the name under which it is asked for.

    Notes
    -----
    A writer is given the same data model of the paper as the built-in forms, and returns bytes. The program
    puts them into the file.
    """
    raise NotImplementedError
