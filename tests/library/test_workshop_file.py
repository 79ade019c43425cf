"""The workshop file: what the commented one says, and how faults in one's own are told."""

from decimal import Decimal

import pytest

from diagtree.errors import ExpectedError
from diagtree.library.fault import FaultyFileError
from diagtree.library.workshop_file import default_workshop, read_workshop, workshop_text
from diagtree.model.workshop import Workshop


def test_the_commented_file_says_what_the_model_says_by_itself():
    workshop = default_workshop()
    assert workshop.model_copy(update={"wrenches": ()}) == Workshop()
    assert [(w.from_, w.to, w.left) for w in workshop.wrenches] == [
        (Decimal(2), Decimal(20), False),
        (Decimal(10), Decimal(100), True),
    ]


def test_the_commented_file_explains_every_key():
    rows = workshop_text().splitlines()
    for name in Workshop.model_fields:
        key = name.replace("_", "-")
        (at,) = [number for number, row in enumerate(rows) if row.startswith(f"{key}:")]
        assert key in {"title", "currency"} or any(row.startswith("#") for row in rows[at - 6 : at]), key


def test_a_changed_file_is_read(tmp_path, kettle):
    file = tmp_path / "workshop.yaml"
    text = workshop_text().replace("part-prices: {}", "part-prices: {kettle/element: 11.25}")
    text = text.replace("torques: {}", "torques: {kettle/base-screw: {from: 1.1, to: 1.3, basis: own trial}}")
    file.write_text(text, encoding="utf-8")
    workshop = read_workshop(file, kettle)
    assert workshop.part_prices == {"kettle/element": Decimal("11.25")}
    assert workshop.torques["kettle/base-screw"].aim == Decimal("1.2")


def test_all_faults_come_with_line_and_column(tmp_path, monkeypatch, kettle):
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "workshop.yaml"
    file.write_text(
        "rate: 60,00\ntaxes: 20\nconfidence: 120\nbrief: everything\nprices-include-tax: perhaps\n"
        "wrenches:\n  - {title: Upside down, from: 20, to: 2}\n"
        "part-prices: {kettle/elment: 3, Lid: 4}\ntorques: {kettle/base-screw: {from: 1, to: 2}}\n",
        encoding="utf-8",
    )
    with pytest.raises(FaultyFileError) as caught:
        read_workshop(file, kettle)
    assert [str(fault) for fault in caught.value.faults] == [
        "workshop.yaml:1:7: rate: '60,00' is not a number. Write 1.5, not 1,5.",
        "workshop.yaml:2:1: taxes: There is no key 'taxes' here. Did you mean 'tax'?",
        "workshop.yaml:3:13: confidence: '120' must not be more than 99.",
        "workshop.yaml:4:8: brief: 'everything' is not one of roadworthy, service, full.",
        "workshop.yaml:5:21: prices-include-tax: 'perhaps' is neither true nor false. Write true or false.",
        "workshop.yaml:7:5: wrenches > 1: 'from:' must be less than 'to:'.",
        (
            "workshop.yaml:8:15: part-prices > kettle/elment: There is no part 'kettle/elment'. "
            "Did you mean 'kettle/element'?"
        ),
        (
            "workshop.yaml:8:33: part-prices > Lid: 'Lid' is not a name. "
            "Use small letters, digits and hyphens, a letter first: 'lid'."
        ),
        "workshop.yaml:9:11: torques > kettle/base-screw: 'basis:' is missing. Add it.",
    ]
    assert caught.value.exit_code == 1


def test_a_file_that_is_not_there_says_how_to_write_one(tmp_path):
    with pytest.raises(
        ExpectedError, match=r"cannot be read: No such file or directory\. Write one with: diagtree"
    ):
        read_workshop(tmp_path / "none.yaml")


def test_broken_writing_is_told(tmp_path):
    file = tmp_path / "w.yaml"
    file.write_text("rate: [", encoding="utf-8")
    with pytest.raises(FaultyFileError, match="Something is missing here"):
        read_workshop(file)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "w.yaml:1:1: The file is empty. Begin with 'title: Our workshop'."),
        ("rounding: 1e-999999999\n", "w.yaml:1:11: rounding: '1e-999999999' must not be less than 0.001."),
        ("rounding: 1e999999999\n", "w.yaml:1:11: rounding: '1e999999999' must not be more than 1000."),
        (
            "wrenches:\n  - {title: A, from: 2, to: 1e400}\n",
            "w.yaml:2:29: wrenches > 1 > to: Nobody means so large a number: look at it again.",
        ),
        (
            "title: One\ntitle:\n",
            "w.yaml:2:1: title: This key is there twice, first in line 1. Take one of them out.",
        ),
    ],
)
def test_a_slip_is_told_once_with_what_to_do(tmp_path, monkeypatch, text, told):
    """A rounding so fine, or so coarse, once brought the estimate down."""
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "w.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(FaultyFileError) as caught:
        read_workshop(file)
    assert [str(fault) for fault in caught.value.faults] == [told]
