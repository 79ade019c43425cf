"""The bundled symptom trees: says where they are."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from diagtree.library.hookspecs import hookimpl


@hookimpl
def diagtree_tree_folders() -> list[Traversable]:
    """Offer the trees: beside this file in an installed wheel, at the top of a checkout otherwise."""
    here = files(__name__)
    packed = here / "trees"
    if packed.is_dir():
        return [packed]
    if isinstance(here, Path):
        checkout = here.parent.parent / "trees"
        if checkout.is_dir():
            return [checkout]
    return []
