"""The program as it is installed, from outside the checkout: run by CI against the wheel, and by the normal run."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest


def diagtree(*words: str, env_path: str | None = None, **more):
    environment = {**os.environ, "PYTHONWARNINGS": "error", "TERM": "dumb"}
    if env_path is not None:
        environment["PATH"] = env_path
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


ANSWERS = """\
complaints: [tight-steering]
label: the blue one
looks: {where-kept: shed, how-much-ridden: hardly, last-work: at-home, bolt-rust: some, chain-surface: black,
  tyre-wear: like-new, cable-ends: capped, bolt-heads: clean, lever-paint: sound}
answers:
  tight-steering: {tyre-press: firm, swing: stiff-all-round, headset-kind: threadless, slacken-test: frees}
"""


@pytest.fixture
def answers(tmp_path):
    path = tmp_path / "answers.yaml"
    path.write_text(ANSWERS, encoding="utf-8")
    return path


def test_from_complaint_to_job_sheet(answers):
    result = diagtree("diagnose", "--answers", str(answers), "--no-input")
    assert (result.returncode, result.stderr) == (0, "")
    assert "Slacken and re-set the preload" in result.stdout
    assert "TORQUE ROUND" in result.stdout


def test_the_result_for_programs_has_a_schema_number(answers):
    result = diagtree("diagnose", "--answers", str(answers), "--no-input", "--json")
    told = json.loads(result.stdout)
    assert told["schema"] == 1
    assert told["complaints"][0]["causes"][0]["cause"] == "headset/over-tight"


def test_a_missing_answer_is_named(answers):
    answers.write_text(ANSWERS.replace(", slacken-test: frees", ""), encoding="utf-8")
    result = diagtree("diagnose", "--answers", str(answers), "--no-input")
    assert result.returncode == 2
    assert "There is no answer for the check 'slacken-test' of 'tight-steering'" in result.stderr


@pytest.mark.parametrize("form", ["svg", "png", "dot", "pdf"])
def test_a_tree_is_drawn_without_any_system_package(form: str, tmp_path):
    file = tmp_path / f"tree.{form}"
    result = diagtree("draw", "seized-chain", "--to", str(file), env_path="")
    assert result.returncode == 0, result.stderr
    assert file.stat().st_size > 1000


@pytest.mark.parametrize("form", ["txt", "md", "html", "pdf", "json"])
def test_the_sheet_is_written_in_each_form(form: str, answers, tmp_path):
    file = tmp_path / f"sheet.{form}"
    result = diagtree("diagnose", "--answers", str(answers), "--no-input", "--to", str(file))
    assert result.returncode == 0, result.stderr
    assert file.stat().st_size > 1000


def test_a_folder_that_cannot_be_made_is_told_before_the_first_question(tmp_path):
    (tmp_path / "file").write_text("")
    result = diagtree("diagnose", "tight-steering", "--case", str(tmp_path / "file" / "a.case"))
    assert result.returncode == 6
    assert "Question" not in result.stdout
    assert result.stderr.startswith("diagtree: ")
