"""The bench over the kettle as a program of its own, for tests in a real terminal: `kettle_bench.py CASE`."""

from __future__ import annotations

import sys
from pathlib import Path

import yaml

from diagtree.case.journal import Journal
from diagtree.case.walker import Walker
from diagtree.library.library import join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.screens.bench import fits_terminal, run_bench

KETTLE = Path(__file__).parents[2] / "kettle"


def plain(name: str) -> object:
    """Read a file of the kettle."""
    return yaml.load((KETTLE / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


def main() -> int:
    """Put the case on the screen; say how it was left."""
    library = join(
        families=[Family.model_validate(plain("catalogue.yaml"))],
        conditions=[Conditions.model_validate(plain("conditions.yaml"))],
        trees=[Tree.model_validate(plain(f"{name}.yaml")) for name in ("no-heat", "slow-boil", "leaks")],
    )
    if not fits_terminal(sys.stdin, sys.stdout):
        print("line mode")
        return 0
    path = Path(sys.argv[1])
    with Journal.open(path) if path.exists() else Journal.create(path) as journal:
        walker = Walker(library, journal, complaints=["no-heat"])
        result = run_bench(walker)
    print(f"left: {result.left} {result.exit_code}")
    return result.exit_code


if __name__ == "__main__":
    sys.exit(main())
