"""Reading the bundled library against the least that any reader has to do, in the same run."""

import contextlib
import gc
import time
from statistics import median

import pytest
import yaml

from diagtree.library.assembly import assemble
from diagtree.library.loading import assembled, no_collecting
from diagtree.library.plugins import load_plugins
from diagtree.library.sources import read_source

MOST = 1.3


@pytest.fixture(scope="module")
def files():
    """Each bundled file's bytes, what it says as texts, and its model."""
    sheets = assembled(load_plugins()).sheets
    found = [(s.source.document.text.encode(), s.data, s.source.model) for s in sheets if s.model is not None]
    assert sum(len(raw) for raw, _, _ in found) > 20_000, "there is a library to read"
    return found


def bare(files):
    """What cannot be avoided: the common loader in C, and the models built from texts."""
    for raw, data, model in files:
        yaml.load(raw, Loader=yaml.CSafeLoader)
        with contextlib.suppress(ValueError):  # a file of which an entry was left out
            model.model_validate(data)


def ours(files):
    with no_collecting():
        return assemble([read_source(raw, "a.yaml", "bundled") for raw, _, _ in files])


def timed(work, *arguments):
    gc.collect()
    # The time of this process alone: whatever else runs on the machine slows neither side.
    began = time.process_time()
    work(*arguments)
    return time.process_time() - began


def test_reading_the_library_stays_near_the_bare_loader_and_models(benchmark, files):
    ours(files)
    bare(files)
    pairs = [(timed(ours, files), timed(bare, files)) for _ in range(9)]
    ratio = median(mine / theirs for mine, theirs in pairs)
    benchmark.extra_info["ratio to yaml.load(CSafeLoader) and bare validation"] = round(ratio, 3)
    benchmark.pedantic(ours, args=(files,), rounds=5)
    assert ratio <= MOST
