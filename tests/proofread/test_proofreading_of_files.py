"""Proofreading from the command line: what is told, in which form, what is mended, and how soon."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from diagtree.commands import main as door
from diagtree.commands import proofread as command
from diagtree.library.assembly import assemble
from diagtree.library.loading import collected
from diagtree.library.offers import Rule
from diagtree.library.plugins import load_plugins
from diagtree.library.sources import read_source
from diagtree.lines import cells
from diagtree.proofread.edits import Edit, applied, mended
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.report import as_text
from diagtree.proofread.rulebook import built_in, contents_in_markdown, page_in_markdown, rulebook
from diagtree.proofread.watching import Watch

ROOT = Path(__file__).parent.parent.parent
KETTLE = Path(__file__).parent.parent / "kettle"

FAULTY = """\
symptom: hums
title: It hums
family: kettle
first: lamp
checks:
  lamp:
    minutes: 1
    # what the customer sees
    ask: Does the lamp come on
    how: Use lamp #5 from the rack
    answers:
      no: {says: Stays dark, found: {fuse-blown: 30}}
      yes: {says: Comes on, found: {scale: 30}, healthy: true}
cases:
  - {answers: {lamp: yes}, expect: scale}
  - {kind: misleading, answers: {lamp: yes}, expect: scale}
"""


@pytest.fixture
def mine(tmp_path, monkeypatch):
    """An own folder with the kettle and a faulty tree, and the program standing in it."""
    for name in ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "slow-boil.yaml", "leaks.yaml"):
        (tmp_path / name).write_bytes((KETTLE / name).read_bytes())
    (tmp_path / "hums.yaml").write_text(FAULTY, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "no-config"))
    monkeypatch.setitem(door.COMMANDS, "proofread", "Find faults.")
    return tmp_path


def run(capsys, *words):
    status = door.main(["proofread", *words])
    output = capsys.readouterr()
    return status, output.out, output.err


def test_faults_are_told_with_their_line_and_a_caret(mine, capsys):
    status, out, err = run(capsys, "--trees", ".", "hums.yaml")
    assert status == 1
    assert out == (
        "hums.yaml:5:1: checks: The counts in this tree add up to 60, not to 100. "
        "Think of 100 with this complaint; --fix scales them. [counts-not-100]\n"
        "    checks:\n"
        "    ^\n"
        "hums.yaml:7:5: checks > lamp > minutes: 'minutes:' is out of order. "
        "The order is: ask, how, minutes, answers. [key-order]\n"
        "        minutes: 1\n"
        "        ^\n"
        "hums.yaml:9:10: checks > lamp > ask: The question does not end with a question mark. Add it. "
        "[question-without-mark]\n"
        "        ask: Does the lamp come on\n"
        "             ^\n"
        "hums.yaml:10:19: Everything from '#' on is lost: '#5 from the rack'. "
        "Put the whole text in quotes. [lost-hash]\n"
        "        how: Use lamp #5 from the rack\n"
        "                      ^\n"
    )
    assert err == "4 faults in 1 file.\n"


def test_json_carries_everything(mine, capsys):
    status, out, _ = run(capsys, "--trees", ".", "hums.yaml", "--json", "--rule", "question-without-mark")
    assert status == 1
    assert json.loads(out) == {
        "schema": 1,
        "files": ["hums.yaml"],
        "faults": [
            {
                "file": "hums.yaml", "line": 9, "column": 10, "rule": "question-without-mark",
                "path": ["checks", "lamp", "ask"],
                "text": "The question does not end with a question mark.", "mend": "Add it.",
            }
        ],
    }  # fmt: skip


def test_sarif_has_what_the_standard_asks_for(mine, capsys):
    """OASIS SARIF 2.1.0: 3.13 sarifLog, 3.14 run, 3.27 result, 3.30 region (lines and columns from 1)."""
    _, out, _ = run(capsys, "--trees", ".", "hums.yaml", "--sarif")
    log = json.loads(out)
    assert log["version"] == "2.1.0"
    (the_run,) = log["runs"]
    rules = the_run["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == [
        "counts-not-100",
        "key-order",
        "lost-hash",
        "question-without-mark",
    ]
    assert all(rule["shortDescription"]["text"] and rule["help"]["text"] for rule in rules)
    for result in the_run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
        place = result["locations"][0]["physicalLocation"]
        assert place["artifactLocation"]["uri"] == "hums.yaml"
        assert place["region"]["startLine"] >= 1
        assert place["region"]["startColumn"] >= 1


def test_a_file_without_faults_is_fine(mine, capsys):
    (mine / "hums.yaml").write_text(
        "symptom: x\ntitle: X\nfamily: kettle\nfirst: a\nchecks: {}\n", encoding="utf-8"
    )
    assert run(capsys, "--trees", ".", "hums.yaml", "--rule", "loop")[0] == 1, (
        "a fault in reading is never skipped"
    )
    status, out, err = run(capsys, "--trees", ".", "leaks.yaml", "--rule", "loop")
    assert (status, out, err) == (0, "", "No faults in 1 file.\n")


def test_a_folder_stands_for_all_its_files(mine, capsys):
    status, _, err = run(capsys, ".", "--rule", "question-without-mark")
    assert status == 1
    assert err == "1 fault in 1 of 6 files.\n"


def test_a_file_that_cannot_be_opened_is_not_without_faults(mine, capsys):
    (mine / "gone.yaml").symlink_to(mine / "nowhere.yaml")
    status, _, err = run(capsys, ".", "--rule", "loop")
    assert status == 1
    assert "gone.yaml: The file cannot be read: No such file or directory." in err


def test_windows_line_ends_survive_mending(mine, capsys):
    (mine / "hums.yaml").write_bytes(b"\xef\xbb\xbf" + FAULTY.replace("\n", "\r\n").encode())
    run(capsys, "--trees", ".", "hums.yaml", "--fix")
    mended_file = (mine / "hums.yaml").read_bytes()
    assert mended_file.count(b"\r\n") == mended_file.count(b"\n") == FAULTY.count("\n")
    assert b'how: "Use lamp #5 from the rack"\r\n' in mended_file


def test_a_byte_order_mark_survives_mending(mine, capsys):
    (mine / "hums.yaml").write_bytes(b"\xef\xbb\xbf" + FAULTY.encode())
    run(capsys, "--trees", ".", "hums.yaml", "--fix")
    mended_file = (mine / "hums.yaml").read_bytes()
    assert mended_file.startswith(b"\xef\xbb\xbfsymptom: hums\n")
    assert b'lamp #5 from the rack"' in mended_file


def test_a_link_stays_a_link_when_the_file_behind_it_is_mended(mine, capsys):
    (mine / "there").mkdir()
    (mine / "hums.yaml").replace(mine / "there" / "hums.yaml")
    (mine / "hums.yaml").symlink_to(mine / "there" / "hums.yaml")
    run(capsys, "hums.yaml", "--fix")
    assert (mine / "hums.yaml").is_symlink()
    assert "ask: Does the lamp come on\n    how: " in (mine / "there" / "hums.yaml").read_text(
        encoding="utf-8"
    )


def test_the_files_of_an_installed_plugin_are_not_mended(mine):
    shelf = Shelf(
        assemble(
            [
                read_source((KETTLE / "catalogue.yaml").read_bytes(), "catalogue.yaml", "own"),
                read_source(FAULTY.encode(), str(mine / "hums.yaml"), "kettle"),
            ]
        )
    )
    assert not command._fix(shelf.manuscripts, list(built_in()))
    assert (mine / "hums.yaml").read_text(encoding="utf-8") == FAULTY


def test_counts_are_scaled_as_they_are_written(mine, capsys):
    """A count of 5e1 once became 61e1, and quotes were lost."""
    text = FAULTY.replace("fuse-blown: 30", "fuse-blown: 2e1").replace("scale: 30", 'scale: "20"')
    (mine / "hums.yaml").write_text(text, encoding="utf-8")
    run(capsys, "hums.yaml", "--fix", "--rule", "counts-not-100")
    assert (mine / "hums.yaml").read_text(encoding="utf-8") == text.replace("2e1", "50").replace(
        '"20"', '"50"'
    )


def test_no_count_is_scaled_where_one_cannot_be():
    """Written as a block, a count has no place in one line."""
    text = FAULTY.replace(
        "yes: {says: Comes on, found: {scale: 30}, healthy: true}",
        "yes:\n        says: Comes on\n        found:\n          scale: >-\n            30\n        healthy: true",
    )
    (manuscript,) = Shelf(assemble([read_source(text.encode(), "hums.yaml", "own")])).manuscripts
    rules = [rule for rule in built_in() if rule.name == "counts-not-100"]
    assert list(rules[0].finds(manuscript))
    assert mended(manuscript, rules) == (text, [])


@pytest.mark.parametrize(
    ("row", "better", "lost"),
    [
        ("how: Use lamp #5 # from the rack", 'how: "Use lamp #5" # from the rack', "#5"),
        ("how: It's lamp #5, isn't it", "how: \"It's lamp #5, isn't it\"", "#5, isn't it"),
        ("how: Use lamp five # that is #5", None, None),
        ("how: 'Use lamp #5' # that is #5", None, None),
        ("# how: Use lamp #5", None, None),
    ],
)
def test_a_comment_stays_a_comment(row, better, lost):
    """A comment that spoke of '#5' was once made a part of the text before it."""
    text = f"symptom: hums\nchecks:\n  lamp:\n    ask: On?\n    {row}\n"
    (manuscript,) = Shelf(assemble([read_source(text.encode(), "hums.yaml", "own")])).manuscripts
    rules = [rule for rule in built_in() if rule.name == "lost-hash"]
    told = [fault.text for fault in rules[0].finds(manuscript)]
    assert told == ([f"Everything from '#' on is lost: '{lost}'."] if lost else [])
    assert mended(manuscript, rules)[0] == text.replace(row, better or row)


def test_a_wrong_worked_case_never_brings_the_program_down(mine, capsys):
    text = FAULTY.replace(
        "{answers: {lamp: yes}, expect: scale}",
        "{answers: {lamp: [no, {}]}, looks: {lime: [a]}, expect: [a]}",
        1,
    )
    (mine / "hums.yaml").write_text(text, encoding="utf-8")
    status, out, err = run(capsys, "hums.yaml")
    assert status == 1
    assert "cases > 1 > answers > lamp: A list stands where a text must stand." in out
    assert "itself" not in err


def test_each_of_two_trees_of_one_name_is_held_against_its_own_cases(mine, capsys):
    """The later tree takes the earlier one's place, and has other cases: once that was the end of it."""
    first = FAULTY.replace("expect: scale", "expect: fuse-blown", 1)
    (mine / "hums.yaml").write_text(first, encoding="utf-8")
    more = FAULTY + "  - {answers: {lamp: no}, expect: fuse-blown}\n"
    (mine / "more-hums.yaml").write_text(more, encoding="utf-8")
    status, out, err = run(capsys, "--trees", ".", ".", "--rule", "case-fails")
    assert status == 1
    (told,) = [line for line in out.splitlines() if "case-fails" in line]
    assert told == (
        "hums.yaml:15:36: cases > 1 > expect: 'kettle/scale' comes first with 93 in 100; "
        "'kettle/fuse-blown' has 7 in 100. Mend the tree or the case. [case-fails]"
    )
    assert "takes the place of the one in hums.yaml" in err


def test_a_wide_letter_takes_two_cells_over_the_caret():
    text = "symptom: hums\nchecks: {lamp: {how: \u6f22\u5b57, ask: On}}\n"
    manuscripts = Shelf(assemble([read_source(text.encode(), "a.yaml", "own")])).manuscripts
    (fault,) = next(rule for rule in built_in() if rule.name == "question-without-mark").finds(manuscripts[0])
    row, caret = as_text([fault], manuscripts).splitlines()[1:]
    assert row.endswith("ask: On}}")
    assert cells(row[: row.index("On}}")]) == caret.index("^")


def test_sarif_names_a_file_with_blanks_as_a_uri(mine, capsys):
    """OASIS SARIF 2.1.0, 3.4.3: the uri property is a URI reference (RFC 3986), which has no blanks."""
    (mine / "hums.yaml").rename(mine / "it hums.yaml")
    _, out, _ = run(capsys, "it hums.yaml", "--sarif", "--rule", "key-order")
    (result,) = json.loads(out)["runs"][0]["results"]
    assert result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == "it%20hums.yaml"


def test_a_path_that_is_not_there_is_told(mine, capsys):
    assert run(capsys, "hum.yaml") == (
        2, "", "diagtree: There is no file or folder 'hum.yaml'. Look at its name again.\n",
    )  # fmt: skip


def test_an_unknown_rule_lists_near_ones(mine, capsys):
    status, _, err = run(capsys, ".", "--skip", "lop")
    assert status == 2
    assert err == "diagtree: There is no rule 'lop'. Did you mean 'loop'?\n"


def test_a_rule_explains_itself(mine, capsys):
    status, out, _ = run(capsys, "--explain", "loop")
    assert status == 0
    assert out.startswith("loop: Answers lead round in a circle.\n")
    _, out, _ = run(capsys, "--explain", "all")
    assert {line.split()[0] for line in out.splitlines()} >= {rule.name for rule in built_in()}


def test_fix_mends_counts_quotes_and_order_and_nothing_else(mine, capsys):
    status, _, err = run(capsys, "--trees", ".", "hums.yaml", "--fix")
    assert (
        (mine / "hums.yaml").read_text(encoding="utf-8")
        == """\
symptom: hums
title: It hums
family: kettle
first: lamp
checks:
  lamp:
    # what the customer sees
    ask: Does the lamp come on
    how: "Use lamp #5 from the rack"
    minutes: 1
    answers:
      no: {says: Stays dark, found: {fuse-blown: 50}}
      yes: {says: Comes on, found: {scale: 50}, healthy: true}
cases:
  - {answers: {lamp: yes}, expect: scale}
  - {kind: misleading, answers: {lamp: yes}, expect: scale}
"""
    )
    assert status == 1, "the question mark is the author's to set"
    assert err == "mended: hums.yaml: counts-not-100, key-order, lost-hash\n1 fault in 1 file.\n"


def test_mending_twice_changes_nothing_more(mine, capsys):
    run(capsys, "--trees", ".", "hums.yaml", "--fix")
    before = (mine / "hums.yaml").read_bytes()
    _, _, err = run(capsys, "--trees", ".", "hums.yaml", "--fix")
    assert (mine / "hums.yaml").read_bytes() == before
    assert "mended" not in err


def test_an_edit_that_would_change_more_than_it_says_is_not_made():
    source = read_source(FAULTY.encode(), "hums.yaml", "own")
    shelf = Shelf(assemble([source]))

    def lies(manuscript):
        at = FAULTY.index("Stays dark")
        yield Edit(at, at + 5, "Is", ("title",))

    def breaks(manuscript):
        yield Edit(0, 0, "- ")

    for mends in (lies, breaks):
        rule = Rule("rash", "Rash.", lambda manuscript: [], mends=mends)
        assert mended(shelf.manuscripts[0], [rule]) == (FAULTY, [])


def test_edits_that_overlap_are_made_one_after_the_other():
    assert applied("abcdef", [Edit(1, 3, "X"), Edit(2, 4, "Y"), Edit(5, 6, "Z")]) == "aXdeZ"


def test_a_plugin_brings_a_rule_and_cannot_take_a_name():
    from diagtree.library.hookspecs import hookimpl

    class Plugin:
        @staticmethod
        @hookimpl
        def diagtree_proofreading_rules():
            return [Rule("too-blue", "It is blue.", lambda m: []), Rule("loop", "Another.", lambda m: [])]

    plugins = load_plugins(also={"blue": Plugin})
    names = [rule.name for rule in rulebook(plugins)]
    assert names.count("loop") == 1
    assert names[-1] == "too-blue"
    assert "plugin 'blue': the rule 'loop' is there already. Choose another name." in map(
        str, plugins.problems
    )


def test_the_pages_in_the_docs_are_the_rules_own():
    """If this fails: write_pages(Path("docs/rules"), load_plugins()) from diagtree.proofread.rulebook."""
    folder = ROOT / "docs" / "rules"
    rules = rulebook(load_plugins())
    assert len(rules) > len(list(built_in())), "those of the bundled plugins have a page too"
    assert {file.stem for file in folder.glob("*.md")} == {rule.name for rule in rules} | {"README"}
    assert (folder / "README.md").read_text(encoding="utf-8") == contents_in_markdown(rules)
    for rule in rules:
        assert (folder / f"{rule.name}.md").read_text(encoding="utf-8") == page_in_markdown(rule)


def saved(file, text):
    """Save as editors do: into a new file that takes the old one's place."""
    new = file.with_suffix(".new")
    new.write_text(text, encoding="utf-8")
    new.replace(file)


def test_watching_tells_what_a_save_changed_within_a_fifth_of_a_second(mine):
    watch = Watch(collected(load_plugins(), [mine]), [mine / "hums.yaml"], list(built_in()))
    assert [fault.rule for fault in watch.faults()][:1] == ["counts-not-100"]
    assert not watch.changed()
    took = []
    for text, count in [
        (FAULTY.replace("come on", "come on?"), 3),
        (FAULTY, 4),
        (FAULTY.replace("30}", "50}"), 3),
    ]:
        saved(mine / "hums.yaml", text)
        began = time.process_time()  # of this process alone: other tests run beside this one
        assert watch.changed()
        assert len(watch.faults()) == count
        took.append(time.process_time() - began)
    assert min(took) < 0.2 - 0.05, "what is left is the longest wait between two looks"


def test_watching_sees_files_come_and_go(mine):
    watch = Watch(collected(load_plugins(), [mine]), [mine], list(built_in()))
    (mine / "new.yaml").write_text("symptom: new\n", encoding="utf-8")
    assert watch.changed()
    assert any(fault.file == "new.yaml" for fault in watch.faults())
    (mine / "new.yaml").unlink()
    assert watch.changed()
    assert not any(fault.file == "new.yaml" for fault in watch.faults())
    assert len(watch.watched) == 6


def test_watching_reads_a_file_at_the_next_look_that_was_caught_in_the_middle_of_a_save(mine, monkeypatch):
    watch = Watch(collected(load_plugins(), [mine]), [mine / "hums.yaml"], list(built_in()))
    saved(mine / "hums.yaml", FAULTY.replace("come on", "come on?"))
    with monkeypatch.context() as locked:
        locked.setattr(Path, "open", lambda *_, **__: (_ for _ in ()).throw(PermissionError("locked")))
        assert watch.changed()
    assert watch.changed()
    assert len(watch.faults()) == 3


def test_watch_prints_after_each_save_and_ends_on_interrupt(mine):
    script = (
        "import sys; from diagtree.commands import main as m\n"
        "m.COMMANDS['proofread'] = 'x'; sys.exit(m.main(['proofread', '--trees', '.', 'hums.yaml', '--watch']))"
    )
    with subprocess.Popen(
        [sys.executable, "-c", script], cwd=mine, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as program:
        try:
            assert until(program, "-- ") == "-- 4 faults in 1 file."
            saved(mine / "hums.yaml", FAULTY.replace("come on", "come on?"))
            assert until(program, "-- ") == "-- 3 faults in 1 file."
            program.send_signal(signal.SIGINT)
            assert program.wait(timeout=20) == 0
        finally:
            program.kill()


def until(program, beginning):
    os.set_blocking(program.stdout.fileno(), True)
    while not (line := program.stdout.readline()).startswith(beginning):
        assert line, "the program ended"
    return line.strip()
