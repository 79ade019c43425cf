"""Loads the library: asks the plugins, reads the files, checks the references, joins it all."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.resources.abc import Traversable
from pathlib import Path

import yaml
from pydantic import ValidationError

from diagtree.library.library import Library, Problem, join
from diagtree.library.plugins import load_plugins
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.reading import Reading
from diagtree.model.tree import Tree


def load_library(tree_folders: Iterable[Path] = (), blocked: Iterable[str] = ()) -> Library:
    """Load the bundled library, what installed plugins add, and own folders."""
    plugins = load_plugins(blocked)
    files = [f for _, f in plugins.ask("diagtree_families", Traversable, "files (Traversable)")]
    files += [f for _, f in plugins.ask("diagtree_conditions", Traversable, "files (Traversable)")]
    readings = [r for _, r in plugins.ask("diagtree_readings", Reading, "readings")]
    folders: list[Traversable] = [f for _, f in plugins.ask("diagtree_tree_folders", Traversable, "folders")]
    for folder in [*folders, *tree_folders]:
        files += _under(folder)
    families, conditions, trees = [], [], []
    problems = list(plugins.problems)
    for file in files:
        try:
            data = yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
            if "symptom" in data:
                trees.append(Tree.model_validate(data))
            elif "family" in data:
                families.append(Family.model_validate(data))
            else:
                conditions.append(Conditions.model_validate(data))
        except (OSError, ValueError, ValidationError, yaml.YAMLError, TypeError) as error:
            problems.append(Problem(str(file), str(error)))
    return join(families, conditions, trees, readings, problems)


def _under(folder: Traversable) -> list[Traversable]:
    found: list[Traversable] = []
    for entry in sorted(folder.iterdir(), key=lambda one: one.name):
        if entry.is_dir():
            found += _under(entry)
        elif entry.name.endswith(".yaml") and entry.is_file():
            found.append(entry)
    return found
