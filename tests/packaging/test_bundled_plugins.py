"""The folders of bundled plugins, the entry-point table and what is installed say the same."""

import tomllib
from importlib import import_module
from importlib.metadata import entry_points
from pathlib import Path

import pytest

from diagtree.library.plugins import GROUP, load_plugins

ROOT = Path(__file__).parent.parent.parent
TABLE = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["entry-points"][GROUP]
FOLDERS = sorted(folder.name for folder in (ROOT / "plugins").iterdir() if (folder / "__init__.py").is_file())


def test_each_folder_has_its_line_in_the_table_and_each_line_its_folder():
    assert sorted(TABLE.values()) == FOLDERS
    assert {name: f"diagtree_{name.replace('-', '_')}" for name in TABLE} == TABLE


def test_what_is_installed_is_what_the_table_says():
    """If this fails: ``pip install -e .`` again; a new line in the table counts only then."""
    installed = {point.name: point.value for point in entry_points(group=GROUP)}
    assert installed.items() >= TABLE.items()


def test_every_bundled_plugin_comes_in_by_the_door_for_all():
    plugins = load_plugins()
    assert set(TABLE) <= set(plugins.names)
    assert plugins.problems == []


@pytest.mark.parametrize("package", FOLDERS)
def test_every_bundled_plugin_says_what_it_is_and_answers_a_hook(package):
    module = import_module(package)
    assert module.__doc__
    hooks = [name for name in vars(module) if name.startswith("diagtree_")]
    assert hooks
    assert all(getattr(module, name).__doc__ for name in hooks)


@pytest.mark.parametrize("package", FOLDERS)
def test_every_yaml_file_beside_a_plugin_is_offered_by_it(package):
    module = import_module(package)
    here = {file.name for file in (ROOT / "plugins" / package).glob("*.yaml")}
    offered = {
        file.name
        for name in ("diagtree_families", "diagtree_conditions")
        if hasattr(module, name)
        for file in getattr(module, name)()
    }
    assert offered == here


@pytest.mark.parametrize("package", FOLDERS)
def test_every_readings_module_beside_a_plugin_is_offered_by_it(package):
    module = import_module(package)
    has_module = (ROOT / "plugins" / package / "readings.py").is_file()
    offered = list(module.diagtree_readings()) if hasattr(module, "diagtree_readings") else []
    assert bool(offered) == has_module
