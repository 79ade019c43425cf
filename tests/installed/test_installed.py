"""The program as it is installed, from outside the checkout: run by CI against the wheel, and by the normal run."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest


def diagtree(*words: str, **more):
    environment = {**os.environ, "PYTHONWARNINGS": "error", "TERM": "dumb"}
    return subprocess.run(
        [sys.executable, "-m", "diagtree", *words],
        capture_output=True, text=True, timeout=60, env=environment, stdin=subprocess.DEVNULL, **more,
    )  # fmt: skip


def test_help_names_every_command():
    result = diagtree("--help")
    assert result.returncode == 0
    assert "diagnose" in result.stdout
    assert result.stderr == ""


def test_an_unknown_symptom_lists_near_ones():
    result = diagtree("diagnose", "no-brake", "--no-input")
    assert result.returncode == 2
    assert result.stderr.startswith("diagtree: There is no symptom 'no-brake'. Did you mean 'no-brakes'")
    assert result.stderr.count("\n") == 1


def test_an_unknown_command_lists_near_ones():
    result = diagtree("diagnos")
    assert result.returncode == 2
    assert result.stderr == "diagtree: There is no command 'diagnos'. Did you mean 'diagnose'?\n"


@pytest.mark.parametrize("symptom", ["no-brakes", "notchy-cranks", "tight-steering", "seized-chain"])
def test_the_bundled_trees_are_found(symptom: str):
    from diagtree.library.loading import load_library

    library = load_library()
    assert symptom in library.trees
    assert library.problems == ()
