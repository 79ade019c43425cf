"""Proofreading a thousand trees against reading them, in the same run."""

import gc
import time
from pathlib import Path

import pytest

from diagtree.library.assembly import assemble
from diagtree.library.loading import no_collecting
from diagtree.library.sources import read_source
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.proofreader import proofread
from diagtree.proofread.rulebook import built_in

KETTLE = Path(__file__).parent.parent / "kettle"
MOST = 1.5
COUNT = 1_000


@pytest.fixture(scope="module")
def files():
    trees = [
        (KETTLE / f"{name}.yaml").read_text(encoding="utf-8") for name in ("no-heat", "slow-boil", "leaks")
    ]
    found = [((KETTLE / name).read_bytes(), name) for name in ("catalogue.yaml", "conditions.yaml")]
    for number in range(COUNT):
        lines = trees[number % 3].split("\n")
        lines[0] = f"symptom: complaint-{number}"
        lines[1] = f"title: Complaint {number}"
        lines = [line for line in lines if not line.startswith("also-called")]
        found.append(("\n".join(lines).encode(), f"{number}.yaml"))
    return found


def test_a_thousand_trees_are_proofread_within_one_and_a_half_times_reading_them(benchmark, files):
    every = list(built_in())
    # A worked case is a diagnosis of its own: what those cost is told apart.
    rules = [rule for rule in every if rule.name != "case-fails"]
    ratios, with_cases = [], []
    for _ in range(3):
        gc.collect()
        with no_collecting():
            # The time of this process alone: whatever else runs on the machine slows neither side.
            began = time.process_time()
            shelf = Shelf(assemble([read_source(raw, name, "own") for raw, name in files]))
            read = time.process_time()
            faults = proofread(shelf, rules)
            done = time.process_time()
            proofread(shelf, every)
            ratios.append((done - read) / (read - began))
            with_cases.append((time.process_time() - done) / (read - began))
    benchmark.extra_info["proofreading over reading"] = round(min(ratios), 3)
    benchmark.extra_info["the same with worked cases tried"] = round(min(with_cases), 3)
    benchmark.pedantic(proofread, args=(shelf, rules), rounds=1)
    assert len(shelf.trees) == COUNT
    assert faults
    assert min(ratios) <= MOST
