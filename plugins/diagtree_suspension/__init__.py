"""Suspension: what can be wrong there and how it is put right; readings, where one must be computed."""

from __future__ import annotations

from importlib import import_module
from importlib.resources.abc import Traversable
from importlib.util import find_spec

from diagtree.library.hookspecs import hookimpl
from diagtree.library.offers import files_of, readings_in
from diagtree.model.reading import Reading


@hookimpl
def diagtree_families() -> list[Traversable]:
    """Offer the catalogue."""
    return files_of(__name__, "catalogue.yaml")


@hookimpl
def diagtree_readings() -> list[Reading]:
    """Offer the readings of ``readings.py``, if the family has any that need arithmetic."""
    name = f"{__name__}.readings"
    return readings_in(import_module(name)) if find_spec(name) else []
