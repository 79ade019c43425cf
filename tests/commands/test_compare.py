"""diagtree compare: what a change does to kettles, told before it is made for good."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from diagtree.commands.main import main
from diagtree.learning.comparing import compare, walked
from diagtree.reasoning.appraisal import appraise
from diagtree.reasoning.simulate import simulate
from diagtree.testing import library_of

KETTLE = Path(__file__).parents[1] / "kettle"


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """Two folders with the same kettles, `old` and `new`."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.delenv("DIAGTREE_TREES", raising=False)
    for name in ("old", "new"):
        shutil.copytree(KETTLE, name)
    return tmp_path


def change(file, *pairs):
    path = Path(file)
    text = path.read_text(encoding="utf-8")
    for was, now in pairs:
        assert was in text
        text = text.replace(was, now)
    path.write_text(text, encoding="utf-8")


def compared():
    return compare(library_of(folders=[Path("old")]), library_of(folders=[Path("new")]))


def test_the_same_twice_differs_in_nothing(bench):
    found = compared()
    assert (found.trees, found.entries, found.torques, found.breaks) == ((), (), (), False)


def test_a_changed_final_check_is_told(bench):
    """What is checked before a machine is handed over was once compared by nobody."""
    change(
        "new/conditions.yaml",
        ("final-checks:\n", "final-checks:\n  plug: {title: The plug is whole, minutes: 1}\n"),
    )
    (entry,) = compared().entries
    assert (entry.kind, entry.name, entry.what) == ("final check", "plug", "added")


def test_moved_counts_show_where_the_machines_go(bench):
    change("new/no-heat.yaml", ("{fuse-blown: 18}", "{fuse-blown: 8}"), ("{scale: 11}", "{scale: 21}"))
    (tree,) = compared().trees
    causes = {one.name: (one.old, one.new) for one in tree.causes}
    assert causes["kettle/fuse-blown"] == pytest.approx((18, 8))
    assert causes["kettle/scale"] == pytest.approx((11, 21))
    findings = {one.name: (one.old, one.new) for one in tree.findings}
    assert findings["fuse: no"][1] < findings["fuse: no"][0]
    assert sum(one.new for one in tree.findings) == pytest.approx(100)
    assert not compared().breaks


def test_where_100_machines_end_is_where_simulated_ones_do(kettle):
    """Held against drawn machines: the share that ends after two checks, within four standard errors."""
    ends = walked(kettle, "no-heat").ends
    assert sum(ends.values()) == pytest.approx(100)
    machines = simulate(kettle, ["no-heat"], 4_000, 5, looks=False)
    drawn = 100 * sum(machine.checks == 2 for machine in machines) / len(machines)
    two_checks = ends["other-socket: yes"] + ends["hum: no"] + ends["hum: yes"]
    assert drawn == pytest.approx(two_checks, abs=4 * 100 * (0.25 / len(machines)) ** 0.5)


def test_minutes_and_right_findings_are_those_of_the_appraisal(kettle):
    for symptom in kettle.trees:
        ours, theirs = walked(kettle, symptom), appraise(kettle, symptom)
        assert (ours.minutes, ours.right) == pytest.approx((theirs.walked.expected, 100 * theirs.right))


def test_a_longer_check_shows_in_the_minutes(bench):
    change("new/no-heat.yaml", ("ask: Does the lamp come on?\n    how: Switch it on with water in it.\n    minutes: 1",
                                "ask: Does the lamp come on?\n    how: Switch it on with water in it.\n    minutes: 3"))  # fmt: skip
    (tree,) = compared().trees
    assert tree.minutes.new == pytest.approx(tree.minutes.old + 2)
    assert [(one.what, one.name, one.says) for one in tree.checks] == [
        ("changed", "lamp", ("minutes: 1, now 3",))
    ]


def test_a_worked_case_that_comes_out_otherwise_breaks(bench, capsys):
    change("new/no-heat.yaml", ("{fuse-blown: 18}", "{fuse-blown: 1, switch-worn: 17}"))
    assert main(["compare", "old/no-heat.yaml", "new/no-heat.yaml", "--block", "library"]) == 1
    out = capsys.readouterr().out
    assert "    broken: Fuse. 'kettle/switch-worn' comes first with " in out
    assert out.endswith("Worked cases that break: 1.\n")


def test_a_failing_case_that_is_taken_out_breaks_all_the_same(bench):
    change(
        "new/no-heat.yaml",
        ("{fuse-blown: 18}", "{fuse-blown: 1, switch-worn: 17}"),
        ("  - {title: Fuse, answers: {lamp: no, other-socket: no, fuse: no}, expect: fuse-blown}\n", ""),
    )
    (case,) = compared().trees[0].cases
    assert (case.what, case.title, case.breaks) == ("taken out", "Fuse", True)


def test_a_case_that_cannot_be_walked_any_more_says_why(bench):
    change("new/no-heat.yaml",
           ("      no: {says: No, found: {fuse-blown: 18}}", "      dead: {says: No, found: {fuse-blown: 18}}"),
           ("  - {title: Fuse, answers: {lamp: no, other-socket: no, fuse: no}, expect: fuse-blown}\n", ""))  # fmt: skip
    (case,) = compared().trees[0].cases
    assert case.told == "It cannot be walked any more: there is no answer 'no' to 'fuse'."
    assert not case.breaks


def test_a_new_case_that_fails_breaks_and_one_that_is_put_right_does_not(bench):
    change("new/no-heat.yaml", ("expect: element-open}", "expect: scale}"))
    (case,) = compared().trees[0].cases
    assert (case.what, case.breaks) == ("broken", True)
    change("old/no-heat.yaml", ("expect: fuse-blown}", "expect: scale}"))
    mended = [one for one in compared().trees[0].cases if one.title == "Fuse"]
    assert [(one.what, one.breaks) for one in mended] == [("mended", False)]


def test_of_two_cases_with_the_same_answers_each_meets_its_own_and_is_told_once(bench):
    twin = "  - {title: Fuse, answers: {lamp: no, other-socket: no, fuse: no}, expect: fuse-blown}\n"
    for version in ("old", "new"):
        change(f"{version}/no-heat.yaml", (twin, twin + twin.replace("title: Fuse", "title: Fuse again")))
    change("new/no-heat.yaml", (twin, twin.replace("fuse-blown", "scale")))
    cases = [(case.title, case.what, case.breaks) for case in compared().trees[0].cases]
    assert cases == [("Fuse", "broken", True)]


def test_a_version_that_cannot_be_read_is_refused(bench, capsys):
    Path("old/no-heat.yaml").write_bytes(b"symptom: \xff\xfe")
    assert main(["compare", "old/no-heat.yaml", "new/no-heat.yaml", "--block", "library"]) == 1
    assert "old/no-heat.yaml" in capsys.readouterr().err


def test_a_version_that_may_not_be_read_is_refused_and_not_told_as_new(bench, capsys, monkeypatch):
    kept = Path.open

    def refused(path, *how, **others):
        if path.name == "no-heat.yaml" and path.parent.name == "old":
            raise PermissionError(13, "Permission denied")
        return kept(path, *how, **others)

    monkeypatch.setattr(Path, "open", refused)
    assert main(["compare", "old/no-heat.yaml", "new/no-heat.yaml", "--block", "library"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "old/no-heat.yaml: The file cannot be read: Permission denied." in said.err


def test_catalogue_entries_and_torques_are_told(bench, capsys):
    change(
        "new/catalogue.yaml",
        ("torque: {from: 1.0, to: 1.4}", "torque: {from: 1.2, to: 1.6}"),
        ("    out-of-100: 30", "    out-of-100: 20"),
        ("  bend-catch: {title: Bend the catch back, ", "  bend-the-catch: {title: Bend the catch back, "),
        ("remedies: [bend-catch]", "remedies: [bend-the-catch]"),
    )
    assert main(["compare", "old", "new", "--block", "library", "--block", "whole-bike"]) == 0
    out = capsys.readouterr().out
    assert "  changed: cause 'kettle/scale'\n    out-of-100: 30, now 20\n" in out
    assert "  removed: remedy 'kettle/bend-catch'\n" in out
    assert "  added: remedy 'kettle/bend-the-catch'\n" in out
    assert "    remedies: kettle/bend-catch, now kettle/bend-the-catch\n" in out
    assert (
        "Torques\n  kettle/base-screw\n    was: 1.0 to 1.4 N·m, dry and clean, right-hand M4x0.7\n"
        "    now: 1.2 to 1.6 N·m, dry and clean, right-hand M4x0.7\n"
    ) in out
    assert out.endswith("No worked case breaks.\n")


def test_a_tree_that_is_new_or_gone_is_told(bench):
    Path("new/leaks.yaml").unlink()
    Path("old/slow-boil.yaml").unlink()
    told = {
        tree.symptom: (tree.what, tree.minutes.old is None, tree.minutes.new is None)
        for tree in compared().trees
    }
    assert told == {"leaks": ("removed", False, True), "slow-boil": ("added", True, False)}


def test_the_two_versions_may_lie_side_by_side_in_an_own_folder(bench, capsys):
    shutil.copy("new/no-heat.yaml", "new/before.yaml")
    change("new/no-heat.yaml", ("minutes: 2", "minutes: 3"))
    words = ["new/before.yaml", "new/no-heat.yaml", "--trees", "new", "--block", "library", "--json"]
    assert main(["compare", *words]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["schema"], told["breaks"]) == (1, False)
    assert [(tree["symptom"], tree["what"]) for tree in told["trees"]] == [("no-heat", "changed")]


def test_a_version_with_faults_is_refused_with_all_of_them(bench, capsys):
    change("new/no-heat.yaml", ("next: hum", "next: humm"))
    assert main(["compare", "old/no-heat.yaml", "new/no-heat.yaml", "--block", "library"]) == 1
    assert "new/no-heat.yaml:15:35: checks > lamp > answers > yes > next: There is no check 'humm'" in (
        capsys.readouterr().err
    )


def test_a_version_that_is_not_there_is_named(bench, capsys):
    assert main(["compare", "old/none.yaml", "new/no-heat.yaml"]) == 2
    assert "There is no file or folder 'old/none.yaml'. Look at its name again." in capsys.readouterr().err
