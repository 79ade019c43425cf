"""Worked cases run by pytest, the kit for authors, and what is told when a case fails."""

import subprocess
import sys
from importlib.metadata import entry_points
from pathlib import Path

import pytest

from diagtree import testing
from diagtree.errors import UnknownNameError
from diagtree.library.hookspecs import hookimpl
from diagtree.proofread.cases import outcomes, story

KETTLE = Path(__file__).parent.parent / "kettle"


@pytest.fixture
def mine(tmp_path):
    for name in ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "leaks.yaml"):
        (tmp_path / name).write_bytes((KETTLE / name).read_bytes())
    return tmp_path


def pytest_in(folder, *words):
    installed = {point.value for point in entry_points(group="pytest11")}
    load = [] if "diagtree.pytest_plugin" in installed else ["-p", "diagtree.pytest_plugin"]
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-v", *load, *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=120)


def test_each_worked_case_is_a_test_and_a_failure_tells_where_it_went(mine):
    text = (mine / "no-heat.yaml").read_text()
    text = text.replace("fuse: no}, expect: fuse-blown", "fuse: yes}, expect: fuse-blown")
    (mine / "no-heat.yaml").write_text(text)
    (mine / "notes.yaml").write_text("shopping: [milk]\n")
    ran = pytest_in(mine, ".")
    assert ran.returncode == 1
    assert "4 passed" in ran.stdout
    assert "1 failed" in ran.stdout
    assert "no-heat.yaml::reads without fault PASSED" in ran.stdout
    assert "no-heat.yaml::Burnt out PASSED" in ran.stdout
    assert "leaks.yaml::case 1 PASSED" in ran.stdout
    assert "notes.yaml" not in ran.stdout
    told = ran.stdout[ran.stdout.index("Fuse: ") :]
    assert "'kettle/switch-worn' comes first" in told
    assert (
        "Where the answers led:\n"
        "  Does the lamp come on?  Stays dark\n"
        "  Does it work from another socket?  Still dead\n"
        "  Does the fuse let current through?  Yes\n"
        "  Is the flex hurt anywhere?  (the case does not answer 'flex')\n"
        "\n"
        "Where 'kettle/fuse-blown' is found:\n"
        "  lamp: no, other-socket: no, fuse: no  (count 18)\n"
    ) in told
    assert "Traceback" not in ran.stdout


def test_a_tree_with_faults_fails_with_all_of_them(mine):
    text = (mine / "leaks.yaml").read_text()
    text = text.replace("lid-loose: 24", "lid-lose: 24").replace("minutes: 2", "minutes: two")
    (mine / "leaks.yaml").write_text(text)
    ran = pytest_in(mine, "leaks.yaml")
    assert ran.returncode == 1
    assert "2 failed" in ran.stdout
    assert "leaks.yaml:8:14: checks > where > minutes: 'two' is not a number." in ran.stdout
    assert "There is no cause 'kettle/lid-lose'. Did you mean 'lid-loose'?" in ran.stdout
    assert "The tree has faults, so its cases cannot be tried." in ran.stdout


def test_a_file_that_its_folder_passes_over_is_tried_all_the_same(mine):
    """A folder passes over hidden files and links that lead out of it; pytest was pointed at this one."""
    (mine / "leaks.yaml").rename(mine / "__leaks.yaml")
    ran = pytest_in(mine, "__leaks.yaml")
    assert "2 passed" in ran.stdout, ran.stdout


def test_two_trees_of_one_name_are_each_tried_with_their_own_cases(mine):
    text = (mine / "leaks.yaml").read_text()
    (mine / "leaks-too.yaml").write_text(
        text.replace("cases:", "cases:\n  - {answers: {where: dry}, expect: flex-damaged}")
    )
    ran = pytest_in(mine, "leaks-too.yaml", "leaks.yaml")
    assert "leaks.yaml::case 1 PASSED" in ran.stdout
    assert "leaks-too.yaml::case 2 PASSED" in ran.stdout


def test_the_kettles_own_cases_hold():
    library = testing.library_of(folders=[KETTLE])
    testing.assert_nothing_left_out(library)
    for symptom in library.trees:
        testing.assert_cases_hold(library, symptom)
        assert list(outcomes(library, symptom))


def test_a_case_that_cannot_be_says_why(mine):
    text = (
        (mine / "leaks.yaml")
        .read_text()
        .replace("{where: top}, expect: lid-loose", "{where: top}, expect: seal-perished")
    )
    (mine / "leaks.yaml").write_text(text)
    library = testing.library_of(folders=[mine])
    (outcome,) = outcomes(library, "leaks")
    assert not outcome.holds
    assert outcome.told.startswith("'kettle/lid-loose' comes first with ")
    with pytest.raises(AssertionError, match="Where the answers led:"):
        testing.assert_cases_hold(library, "leaks")
    assert story(library, "leaks", outcome).splitlines()[-2:] == [
        "  where: below  (count 70)",
        "  where: dry, flex-look: sound  (count 4)",
    ]


def test_the_kit_loads_a_plugin_alone_and_names_what_was_left_out():
    class Plugin:
        @staticmethod
        @hookimpl
        def diagtree_families():
            return [KETTLE / "catalogue.yaml"]

    library = testing.library_of({"kettle": Plugin})
    assert set(library.families) == {"kettle"}
    testing.assert_nothing_left_out(library)
    broken = testing.library_of(folders=[KETTLE / "leaks.yaml"])
    with pytest.raises(AssertionError, match="There is no family 'kettle'"):
        testing.assert_nothing_left_out(broken)


def test_the_kit_proofreads_a_text_beside_others():
    catalogue = (KETTLE / "catalogue.yaml").read_text()
    text = "symptom: x\ntitle: X\nfamily: kettle\nfirst: a\nchecks:\n  a:\n    ask: On?\n    minutes: 1\n    answers:\n      no: {says: No, found: {scale: 50}}\n      yes: {says: Yes, found: {lid-loose: 50}}\n"
    assert testing.faults_of(text, {"catalogue.yaml": catalogue}, ["loop", "counts-not-100"]) == []
    assert testing.faults_of(
        text.replace("50}}\n      yes", "40}}\n      yes"), {"c.yaml": catalogue}, ["counts-not-100"]
    ) == [
        (
            "5:1: checks: The counts in this tree add up to 90, not to 100. "
            "Think of 100 with this complaint; --fix scales them. [counts-not-100]"
        )
    ]


def test_the_kit_refuses_a_rule_that_is_not_there():
    """A rule misspelt in a plugin's test finds nothing, so the test could never fail."""
    with pytest.raises(UnknownNameError, match=r"There is no rule 'lop'\. Did you mean 'loop'"):
        testing.faults_of("symptom: x\n", rules=["lop"])


def test_the_kit_takes_rules_from_any_iterable():
    text = "checks: {lamp: {ask: Is it on, answers: {a: {says: A}}}}"
    rules = ["question-without-mark", "no-healthy-answer"]
    assert testing.faults_of(text, rules=iter(rules)) == testing.faults_of(text, rules=rules)
    assert {fault.rpartition("[")[2] for fault in testing.faults_of(text, rules=iter(rules))} == {
        "reading]",
        "question-without-mark]",
        "no-healthy-answer]",
    }


def test_an_author_may_say_yes_where_true_is_meant():
    """The models take 'yes' for true, so the rules must too."""
    text = (
        "checks: {lamp: {ask: Is it on?, answers: {a: {says: A, healthy: yes}, b: {says: B, healthy: %s}}}}"
    )
    rules = ["no-healthy-answer", "all-healthy"]
    assert not [fault for fault in testing.faults_of(text % "no", rules=rules) if "healthy]" in fault]
    assert [fault for fault in testing.faults_of(text % "True", rules=rules) if "all-healthy]" in fault]


def test_a_reading_with_one_limit_speaks_of_that_one():
    catalogue = """\
family: kettle
title: Kettle
readings:
  heat: {title: Heat, unit: °C, example: 20 °C, most: 101}
"""
    tree = "family: kettle\nchecks: {heat: {reading: heat, answers: {a: {below: 900}, b: {from: 900}}}}\n"
    told = testing.faults_of(tree, {"catalogue.yaml": catalogue}, ["band-out-of-range"])
    assert [fault for fault in told if "band-out" in fault] == [
        f"2:{column}: checks > heat > answers > {way}: 900 is more than the most of this reading, 101. "
        "Mend the band or the reading. [band-out-of-range]"
        for column, way in ((53, "a > below"), (69, "b > from"))
    ]
