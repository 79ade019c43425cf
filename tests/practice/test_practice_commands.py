"""The commands: practise and worksheet over kettles, from the command line."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from diagtree.commands.main import main

KETTLE = Path(__file__).parents[1] / "kettle"
LIBRARY = ["--trees", str(KETTLE), "--block", "library", "--block", "whole-bike"]


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("DIAGTREE_PRACTICE", str(tmp_path / "practice"))
    monkeypatch.chdir(tmp_path)

    def call(*words, typed=(), library=True):
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in typed)))
        status = main([*words, *(LIBRARY if library else [])])
        said = capsys.readouterr()
        return status, said.out, said.err

    return call


def test_a_machine_is_practised_kept_and_told_as_json(run):
    words = ["practise", "no-heat", "--seed", "3", "--learner", "Sam", "--json"]
    status, out, err = run(*words, typed=["1", "f fuse", "", "", ""])
    assert status == 0
    result = json.loads(out)
    assert (result["schema"], result["seed"], result["finished"]) == (1, 3, True)
    assert result["causes"][0]["named"] == "kettle/fuse-blown"
    assert 0 <= result["points"]["total"] <= 100
    assert "A kettle comes in that is not there." in err
    status, out, _ = run("practise", "--learner", "sam", "--history", "--json")
    history = json.loads(out)
    assert [game["points"] for game in history["machines"]] == [result["points"]["total"]]


def test_a_machine_that_was_left_goes_on_and_a_new_one_can_be_asked_for(run):
    status, first, _ = run("practise", "no-heat", "--seed", "3", "--learner", "Sam", typed=["1", "quit"])
    assert status == 3
    status, out, _ = run("practise", "--learner", "Sam", typed=["quit"])
    assert status == 3
    assert "Seed: 3." in out
    assert "Taken up again after" in out
    status, out, _ = run("practise", "--learner", "Sam", "--new", typed=["quit"])
    assert "Taken up again" not in out
    # the same seed plays the same machine
    again = run("practise", "no-heat", "--seed", "3", "--learner", "Kim", typed=["1", "quit"])[1]
    assert again == first.replace("Learner: Sam", "Learner: Kim")


def test_progress_is_plotted_and_learners_are_listed(run):
    for seed in ("1", "2", "3"):
        run("practise", "no-heat", "--seed", seed, "--learner", "Sam", typed=["give up"])
    status, out, _ = run("practise", "--learner", "Sam", "--history")
    assert status == 0
    assert "Sam: 3 machines found out or tried. Mean of the last five: 0 points." in out
    assert "points for each of 3 machines" in out
    assert "Missed most" in out
    status, _, err = run("practise", "--learner", "Sam", "--plot", "sam.svg")
    assert (status, err) == (0, "Written: sam.svg\n")
    assert Path("sam.svg").read_text("utf-8").count("<circle") == 3
    assert run("practise", "--learner", "Sam", "--plot", "sam.svg")[0] == 2
    assert run("practise", "--learners")[1] == "Sam: 3 machines, mean of the last five 0\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["practise", "no-hea"], "There is no symptom 'no-hea'. Did you mean 'no-heat'?"),
        (["practise", "--level", "master"], "There is no level 'master'."),
        (["practise", "--seed", "-4"], "The seed -4 is out of range."),
        (["practise", "--learner", "Nobody", "--history"], "'Nobody' has practised nothing yet."),
        (["worksheet", "--count", "0"], "0 machines are out of range. Take 1 to 60."),
        (["worksheet", "--to", "sheet.doc"], "'sheet.doc' does not say which form is wanted."),
    ],
)
def test_what_is_wrong_is_said_in_words(run, words, said):
    status, _, err = run(*words)
    assert status == 2
    assert said in err


@pytest.mark.parametrize("end", ["pdf", "txt", "md", "html", "json"])
def test_the_same_seed_writes_the_same_sheet(run, end):
    for name in ("one", "two"):
        assert run("worksheet", "--seed", "5", "--count", "2", "--to", f"{name}.{end}")[0] == 0
    assert Path(f"one.{end}").read_bytes() == Path(f"two.{end}").read_bytes()
    run("worksheet", "--seed", "6", "--count", "2", "--to", f"other.{end}")
    assert Path(f"other.{end}").read_bytes() != Path(f"one.{end}").read_bytes()


def test_the_sheet_asks_and_its_key_tells_on_pages_of_its_own(run):
    run("worksheet", "no-heat", "--seed", "4", "--count", "3", "--to", "sheet.txt")
    sheet, key = Path("sheet.txt").read_text("utf-8").split("\f")
    assert sheet.count("KETTLE") == 3
    assert sheet.count("What is it, most likely?:") == 3
    assert "It is:" not in sheet
    assert "The water stays cold." in sheet
    assert key.count("It is: ") == 3
    assert "Next: " in key
    assert "Remedy:" in key


def test_the_key_may_have_a_file_of_its_own(run):
    run("worksheet", "slow-boil", "--seed", "4", "--to", "sheet.pdf", "--key", "key.txt")
    assert "It is: " in Path("key.txt").read_text("utf-8")
    from io import BytesIO

    from pypdf import PdfReader

    text = "".join(page.extract_text() for page in PdfReader(BytesIO(Path("sheet.pdf").read_bytes())).pages)
    assert "Find the fault" in text
    assert "It is:" not in text
    both = ["worksheet", "slow-boil", "--seed", "4", "--to", "both.pdf"]
    assert run(*both)[0] == 0
    pages = PdfReader(BytesIO(Path("both.pdf").read_bytes())).pages
    with_key = [number for number, page in enumerate(pages) if "It is:" in page.extract_text()]
    asked = [number for number, page in enumerate(pages) if "What next, and why?" in page.extract_text()]
    assert with_key
    assert max(asked) < min(with_key)
