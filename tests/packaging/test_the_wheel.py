"""What is built is what is here: the wheel's files, and the library that a zipped wheel loads."""

import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """Build the wheel from this checkout."""
    into = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(into)],
        cwd=ROOT,
        check=True,
        capture_output=True,
        timeout=120,
    )
    (built,) = into.glob("*.whl")
    return built


def yaml_here():
    """Each YAML file of the checkout, under the name that it has in the wheel."""
    trees = {
        f"diagtree_library/{file.relative_to(ROOT).as_posix()}" for file in (ROOT / "trees").rglob("*.yaml")
    }
    plugins = ROOT / "plugins"
    return trees | {file.relative_to(plugins).as_posix() for file in plugins.rglob("*.yaml")}


def test_the_wheel_carries_each_yaml_file_of_trees_and_plugins_and_no_other(wheel):
    packed = {name for name in zipfile.ZipFile(wheel).namelist() if name.endswith((".yaml", ".yml"))}
    assert packed == yaml_here()
    assert packed, "there is something to carry"


def test_the_wheel_carries_each_module_and_no_tests(wheel):
    packed = {name for name in zipfile.ZipFile(wheel).namelist() if name.endswith(".py")}
    engine = {file.relative_to(ROOT).as_posix() for file in (ROOT / "diagtree").rglob("*.py")}
    plugins = {file.relative_to(ROOT / "plugins").as_posix() for file in (ROOT / "plugins").rglob("*.py")}
    assert packed == engine | plugins
    assert "diagtree/py.typed" in zipfile.ZipFile(wheel).namelist()


def test_the_wheel_carries_the_schemas_for_editors(wheel):
    packed = {name for name in zipfile.ZipFile(wheel).namelist() if name.endswith(".schema.json")}
    here = {
        file.relative_to(ROOT).as_posix()
        for file in (ROOT / "diagtree" / "library" / "schemas").glob("*.json")
    }
    assert packed == here
    assert len(here) == 4


def test_trees_are_data_only():
    assert list((ROOT / "trees").rglob("*.py")) == []


SHOW = """
import json, sys
sys.path.insert(0, sys.argv[1])
import diagtree, diagtree_library
from diagtree.library.loading import load_library
library = load_library()
print(json.dumps({
    "from": [diagtree.__file__, diagtree_library.__file__],
    "trees": sorted(library.trees), "causes": sorted(library.causes),
    "readings": sorted(library.readings), "problems": len(library.problems),
}))
"""


def shown(*arguments):
    ran = subprocess.run(
        [sys.executable, "-I", "-c", SHOW, *arguments], check=True, capture_output=True, text=True, timeout=60
    )
    return json.loads(ran.stdout)


def test_a_zipped_wheel_loads_the_same_library_as_the_checkout(wheel):
    packed, here = shown(str(wheel)), shown(str(ROOT))
    assert all(str(wheel) in place for place in packed.pop("from"))
    here.pop("from")
    assert packed == here
    assert here["causes"]
