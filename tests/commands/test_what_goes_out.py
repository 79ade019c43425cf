"""What leaves the program: files that are taken, folders, full disks, letters that do not fit, closed streams."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from importlib.metadata import entry_points
from pathlib import Path

import pytest

from diagtree.commands.main import main

KETTLE = Path(__file__).parents[1] / "kettle"
BUNDLED = [point.name for point in entry_points(group="diagtree")]
LIBRARY = ["--trees", str(KETTLE), *(word for name in BUNDLED for word in ("--block", name))]
ANSWERS = "complaints: [slow-boil]\nlooks: {lime: limed, handle: cannot-tell}\nanswers:\n  slow-boil: {look-inside: white}\n"

DOOR = "import sys; from diagtree.commands.main import main; sys.exit(main())"


def started(*words: str, **how) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([sys.executable, "-c", DOOR, *words], stderr=subprocess.PIPE, check=False, **how)


@pytest.fixture
def bench(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("DIAGTREE_CASES", str(tmp_path / "cases"))
    Path("answers.yaml").write_text(ANSWERS, encoding="utf-8")
    assert main(["diagnose", "--answers", "answers.yaml", "--no-input", "--case", "blue.case", *LIBRARY]) == 0
    return tmp_path


WRITING = {
    "sheet": ["blue.case", "--to", "{}.pdf"],
    "draw": ["no-heat", "--to", "{}.pdf"],
    "worksheet": ["no-heat", "--to", "{}.pdf"],
    "binder": ["--to", "{}.pdf"],
    "appraise": ["no-heat", "--machines", "10", "--plot", "{}.svg"],
    "diagnose": ["--answers", "answers.yaml", "--no-input", "--to", "{}.pdf"],
    "learn": ["--show", "--plot", "{}.svg"],
}
"""Commands that write one file."""


def told(command: str, name: str, *more: str) -> list[str]:
    return [command, *(word.format(name) for word in WRITING[command]), *more, *LIBRARY]


@pytest.mark.parametrize("command", WRITING)
def test_a_file_that_is_there_is_left_and_that_is_told_before_any_work(command, bench, capsys, monkeypatch):
    for suffix in ("pdf", "svg"):
        Path(f"taken.{suffix}").write_text("mine")
    monkeypatch.setattr("diagtree.library.loading.load_library", None)
    monkeypatch.setattr("diagtree.commands.appraise._own_word", list)
    assert main(told(command, "taken")) == 2
    assert (
        " is there already. Add --force to write over it, or choose another name." in capsys.readouterr().err
    )
    assert Path("taken.pdf").read_text() == Path("taken.svg").read_text() == "mine"


@pytest.mark.parametrize("command", WRITING)
@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("folder", "it is a folder. Name a file in it."),
        ("nowhere/a", "its folder is not there. Make the folder first, or choose another."),
    ],
)
def test_a_place_where_no_file_can_be_is_told_before_any_work(command, name, why, bench, capsys):
    for suffix in ("pdf", "svg"):
        Path(f"folder.{suffix}").mkdir()
    assert main(told(command, name, "--force")) == 6
    assert why in capsys.readouterr().err


@pytest.mark.parametrize("command", ["sheet", "worksheet", "diagnose"])
def test_a_form_that_nobody_writes_is_told_before_any_work(command, bench, capsys):
    words = [word.replace("{}.pdf", "a.doc") for word in WRITING[command]]
    assert main([command, *words, *LIBRARY]) == 2
    assert "'a.doc' does not say which form is wanted." in capsys.readouterr().err


@pytest.mark.parametrize(
    "words", [["appraise", "no-heat", "--machines", "10"], ["learn", "--show"], ["practise"]]
)
def test_a_plot_is_an_svg_and_is_called_so(words, bench, capsys):
    assert main([*words, "--plot", "plot.png", *LIBRARY]) == 2
    assert "'plot.png' is no name for an SVG. End it in .svg." in capsys.readouterr().err


@pytest.mark.parametrize("words", [["cases"], ["learn", "--show"]])
def test_a_folder_of_cases_that_is_named_must_be_there(words, bench, capsys):
    assert main([*words, "--cases", "nowhere", *LIBRARY]) == 2
    assert "There is no folder 'nowhere'. Name the folder that holds the cases." in capsys.readouterr().err


def test_saving_a_damaged_case_takes_no_files_place_and_says_no_more_than_it_can(bench, capsys):
    assert main(["cases", "recover", "blue.case", "--to", "blue.case"]) == 2
    assert capsys.readouterr().err == "diagtree: blue.case is there already. Choose another name.\n"
    assert main(["cases", "--to", "new.case"]) == 2
    assert "--to goes with recover." in capsys.readouterr().err
    assert main(["cases", "recover", "blue.case", "--to", "new.case", "--json"]) == 2
    assert not Path("new.case").exists()


def test_where_a_draft_cannot_be_written_the_reason_is_told(bench, capsys, monkeypatch):
    words = ["new", "family", "--title", "Seals", "--no-input"]
    assert main([*words, "--to", "answers.yaml"]) == 6
    assert "Cannot write answers.yaml/seals.yaml: its folder is not there." in capsys.readouterr().err

    def refused(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "mkdir", refused)
    assert main([*words, "--to", "mine"]) == 6
    assert "Cannot write mine/seals.yaml: this place is read-only for you. Choose another folder." in (
        capsys.readouterr().err
    )


def test_a_form_for_no_terminal_is_not_poured_onto_one(bench, capsys, monkeypatch):
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert main(["sheet", "blue.case", "--form", "pdf", *LIBRARY]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "A terminal cannot show that form. Name a file with --to." in said.err
    assert main(["sheet", "blue.case", "--form", "html", *LIBRARY]) == 0


def test_a_plugins_form_is_asked_for_by_a_files_end_wherever_a_paper_goes(bench, capsys, monkeypatch):
    from diagtree.library.offers import SheetWriter
    from diagtree.sheets.writers import BUILT_IN

    writer = SheetWriter("title-only", "the title alone", ".title", lambda paper: paper.title.encode())
    offered = {**BUILT_IN, "title-only": writer}
    monkeypatch.setattr("diagtree.sheets.writers.all_writers", lambda _: (offered, ()))
    for command in ("sheet", "worksheet"):
        words = [word.replace("{}.pdf", f"{command}.title") for word in WRITING[command]]
        assert main([command, *words, *LIBRARY]) == 0
        assert Path(f"{command}.title").read_text() in {"Job sheet", "Find the fault"}


def test_a_brief_that_is_none_is_told_with_its_line(bench, capsys):
    Path("answers.yaml").write_text(f"brief: cheap\n{ANSWERS}", encoding="utf-8")
    assert main(["diagnose", "--answers", "answers.yaml", "--no-input", *LIBRARY]) == 1
    assert "answers.yaml:1:8: brief: " in capsys.readouterr().err


def test_a_title_without_letters_for_a_name_asks_for_one(bench, capsys):
    words = ["new", "family", "--no-input", "--to", "mine", "--title", "\u6f22\u5b57"]
    assert main(words) == 2
    assert "No name can be made of '\u6f22\u5b57'. Give one with --name, in small letters." in (
        capsys.readouterr().err
    )
    assert main([*words, "--name", "letters"]) == 0


def test_a_letter_that_the_output_cannot_take_is_shown_by_its_number(bench):
    ascii_only = {**os.environ, "PYTHONIOENCODING": "ascii"}
    words = ["torque", "--thread", "M5", "--class", "8.8"]
    said = started(*words, stdout=subprocess.PIPE, env=ascii_only)
    assert said.returncode == 0
    assert rb" N\xb7m " in said.stdout
    said = started("torque", "base-screw", "--json", *LIBRARY, stdout=subprocess.PIPE, env=ascii_only)
    assert said.returncode == 0
    assert json.loads(said.stdout)["fasteners"][0]["thread"] == "M4x0.7"
    said = started("proofread", "answers.yaml", "--json", stdout=subprocess.PIPE, env=ascii_only)
    assert json.loads(said.stdout)["schema"] == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full, a disk that is always full")
@pytest.mark.parametrize("words", [["--help"], ["workshop"], ["sheet", "blue.case", *LIBRARY]])
def test_a_full_disk_behind_the_output_is_no_fault_in_the_program(words, bench):
    with Path("/dev/full").open("w") as full:
        said = started(*words, stdout=full)
    assert said.returncode == 6
    told = b"diagtree: Cannot write the output: the disk is full. Make room, then try again.\n"
    assert said.stderr.splitlines(keepends=True)[-1] == told


@pytest.mark.skipif(os.name == "nt", reason="streams are closed otherwise there")
def test_streams_that_were_closed_before_the_start_end_nothing(bench):
    shell = f'{sys.executable} -c "{DOOR}" sheet blue.case --to sheet.txt {" ".join(LIBRARY)} <&- >&-'
    assert subprocess.run(shell, shell=True, check=False).returncode == 0
    assert Path("sheet.txt").read_text(encoding="utf-8").startswith("JOB SHEET")
    shell = f'{sys.executable} -c "{DOOR}" sheet blue.case {" ".join(LIBRARY)} <&- >&-'
    assert subprocess.run(shell, shell=True, check=False).returncode == 0


def test_an_option_behind_two_dashes_is_a_name(bench, capsys):
    assert main(["sheet", *LIBRARY, "--", "--debug"]) == 2
    assert "There is no case '--debug'." in capsys.readouterr().err


def test_the_sheet_of_a_case_whose_complaints_are_in_no_tree_names_them(bench, capsys):
    assert main(["sheet", "blue.case", "--block", "library"]) == 2
    assert "The complaints of the case are in no tree here: slow-boil. Name the folder of its trees" in (
        capsys.readouterr().err
    )


def test_a_case_is_taken_up_by_its_name_without_the_day_as_its_papers_are(bench, capsys, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n"))
    words = ["diagnose", "--answers", "answers.yaml", "--no-input", *LIBRARY]
    for day in (2, 3):
        assert main([*words, "--case", f"cases/2026-01-0{day}-red.case"]) == 0
    Path("cases/2026-01-03-red.case").unlink()
    before = Path("cases/2026-01-02-red.case").read_bytes()
    assert main(["diagnose", "--case", "red", "--plain", "--label", "the red one", *LIBRARY]) == 0
    assert not Path("red").exists()
    assert Path("cases/2026-01-02-red.case").read_bytes().startswith(before)
    assert main([*words, "--case", "cases/2026-01-04-red.case"]) == 0
    capsys.readouterr()
    assert main(["diagnose", "--case", "red", *LIBRARY]) == 2
    assert "'red' fits 2 cases. Choose one of: 2026-01-02-red, 2026-01-04-red." in capsys.readouterr().err


@pytest.mark.parametrize("words", [["page", "--to", "site"], ["binder", "--to", "binder.pdf"]])
def test_a_library_without_trees_is_not_published(words, bench, capsys):
    assert main([*words, "--block", "library"]) == 2
    assert "There is no tree here. Name a folder of trees: --trees DIR." in capsys.readouterr().err
    assert not Path(words[-1]).exists()
