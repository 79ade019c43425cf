"""The whole bike: how it has lived, the quick looks, and what is checked on each before it leaves."""

from __future__ import annotations

from importlib.resources.abc import Traversable

from diagtree.library.hookspecs import hookimpl
from diagtree.library.offers import Rule, files_of


@hookimpl
def diagtree_conditions() -> list[Traversable]:
    """Offer the conditions, quick looks, final checks, cautions and the glossary."""
    return files_of(__name__, "conditions.yaml")


@hookimpl
def diagtree_families() -> list[Traversable]:
    """Offer what belongs to no single family: cleaners, greases, the wash before the work."""
    return files_of(__name__, "catalogue.yaml")


@hookimpl
def diagtree_proofreading_rules() -> list[Rule]:
    """Offer the rules that know bicycles."""
    # Only proofreading needs them: no start of the program pays for it.
    from diagtree_whole_bike.proofreading import RULES

    return list(RULES)
