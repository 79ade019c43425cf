"""The floors in the docs are those of the import contract, and every room of the engine stands on one."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
OUTSIDE = {"__init__", "__main__", "testing", "pytest_plugin"}
"""The package's face, and what plugin authors use from outside."""


def contract() -> list[set[str]]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = settings["tool"]["importlinter"]["contracts"][0]["layers"]
    return [{name.strip().removeprefix("diagtree.") for name in layer.split("|")} for layer in layers][::-1]


def told() -> dict[int, set[str]]:
    floors: dict[int, set[str]] = {}
    for row in re.findall(
        r"^\| (\d+) \| ([^|]+) \|", (ROOT / "docs/architecture.md").read_text("utf-8"), re.M
    ):
        floors.setdefault(int(row[0]), set()).update(re.findall(r"`(\w+)/?`", row[1]))
    return floors


def test_the_floors_that_are_told_are_those_of_the_contract():
    floors = contract()
    # The two lowest layers of the contract are one floor for a reader: the errors, and what stands on them.
    expected = [floors[0] | floors[1], *floors[2:]]
    assert [told()[number] for number in sorted(told())] == expected


def test_every_room_stands_on_a_floor():
    engine = ROOT / "diagtree"
    rooms = {path.stem for path in engine.glob("*.py")} | {
        path.name for path in engine.iterdir() if (path / "__init__.py").is_file()
    }
    assert rooms - OUTSIDE == set().union(*contract())
