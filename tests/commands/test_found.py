"""Found on the way: what changes in plan, price and allowance, and when to stop and ask."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagtree.case.journal import Journal
from diagtree.case.keeper import read_case
from diagtree.case.walker import Walker
from diagtree.commands.main import main

KETTLE = Path(__file__).parents[1] / "kettle"
LIBRARY = ["--trees", str(KETTLE), "--block", "library", "--block", "whole-bike"]


@pytest.fixture
def slow(kettle, tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.setenv("DIAGTREE_CASES", str(tmp_path))
    path = tmp_path / "slow.case"
    with Journal.create(path) as journal:
        walker = Walker(kettle, journal, complaints=["slow-boil"], label="slow")
        walker.answer("limed")
        walker.cannot_tell()
        walker.answer("white")
        assert walker.finished
    return path


def records(path: Path):
    with Journal.open(path) as journal:
        return read_case(journal.records)


def test_a_finding_is_entered_and_what_it_changes_is_told(slow: Path, capsys):
    assert main(["found", "slow", "kettle/seal-perished", "--agreed", "500", *LIBRARY]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "Found: Seal perished."
    assert said[1].startswith("New: Body: replace.")
    assert any(line.startswith("Planned: EUR ") for line in said)
    assert said[-1] == "Go on: it stays within the agreed EUR 500."
    case = records(slow)
    assert case.found["kettle/seal-perished"].present is True
    assert case.agreed is not None
    assert case.agreed.price == "500"


def test_over_the_agreed_ceiling_one_stops_and_asks(slow: Path, capsys):
    assert main(["found", "slow", "seal-perished", "--agreed", "15", "--json", *LIBRARY]) == 1
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == 1
    assert told["stop-and-ask"] is True
    assert "kettle/swap-seal" in told["new-jobs"]
    assert told["says"][-1].startswith("Stop and ask: the plan alone is EUR ")


@pytest.mark.parametrize("price", ["", "abc", "-1", "nan", "inf"])
def test_what_is_no_price_is_refused(price: str, slow: Path, capsys):
    before = slow.read_bytes()
    assert main(["found", "slow", "seal-perished", f"--agreed={price}", *LIBRARY]) == 2
    assert f"'{price}' is not a price. Write a plain number: --agreed 84.50" in capsys.readouterr().err
    assert slow.read_bytes() == before


def test_what_is_only_shown_needs_no_right_to_write_and_no_lock(slow: Path, capsys):
    with Journal.open(slow):  # another window
        assert main(["found", "slow", "seal-perished", *LIBRARY]) == 5
        assert main(["found", "slow", "seal-perished", "--only-show", "--agreed", "500", *LIBRARY]) == 0
    assert capsys.readouterr().out.startswith("Found: Seal perished.")


def test_nothing_is_entered_when_it_is_only_shown(slow: Path, capsys):
    before = slow.read_bytes()
    assert main(["found", "slow", "seal perished", "--only-show", *LIBRARY]) in {0, 1}
    assert slow.read_bytes() == before
    assert "Found: Seal perished." in capsys.readouterr().out


def test_a_cause_that_is_not_there_is_ruled_out(slow: Path, capsys):
    assert main(["found", "slow", "scale", "--absent", *LIBRARY]) in {0, 1}
    assert capsys.readouterr().out.startswith("Not there: Scale on the element.\n")
    assert records(slow).found["kettle/scale"].present is False


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["scal"], "There is no cause 'scal'."),
        (["on the"], "There is no cause 'on the'."),
        (["scale", "--agreed", "much"], "'much' is not a price. Write a plain number: --agreed 84.50"),
    ],
)
def test_a_mistake_is_told(slow: Path, words: list[str], said: str, capsys):
    assert main(["found", "slow", *words, *LIBRARY]) in {0, 2}
    out = capsys.readouterr()
    assert said in out.err or "Found: Scale" in out.out


def test_several_causes_that_fit_are_listed_one_a_line(slow: Path, capsys):
    assert main(["found", "slow", "e", *LIBRARY]) == 2
    _, said, listed = capsys.readouterr().err.partition("causes. Name one in full:\n")
    assert said
    rest = listed.rstrip("\n").split("\n")
    assert len(rest) == 9
    assert all(line.startswith("  ") and "/" in line.split("  ")[1] for line in rest[:8])
    assert rest[8].startswith("  and ")
