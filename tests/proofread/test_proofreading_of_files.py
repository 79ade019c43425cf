"""Proofreading from the command line: what is told, and in which form."""

import json
from pathlib import Path

from diagtree.commands import main as door
from diagtree.library.assembly import assemble
from diagtree.library.offers import Rule
from diagtree.library.plugins import load_plugins
from diagtree.library.sources import read_source
from diagtree.lines import cells
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.report import as_text
from diagtree.proofread.rulebook import built_in, contents_in_markdown, page_in_markdown, rulebook

ROOT = Path(__file__).parent.parent.parent
FAULTY = (Path(__file__).parent / "faulty_tree.txt").read_text(encoding="utf-8")


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
