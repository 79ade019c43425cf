"""Readings: from what was entered to the answer whose band holds it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.measuring import ReadingError, read_plain
from diagtree.case.places import Place
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.library.library import join
from diagtree.model.family import PlainReading
from diagtree.model.reading import Measured, Reading

HEAT = Place.check("slow-boil", "heat")


@pytest.fixture
def walked(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=["slow-boil"])
    for _ in kettle.looks:
        walker.cannot_tell()
    walker.answer("bare")
    walker.answer("yes")
    return walker


@pytest.mark.parametrize(
    ("text", "answer", "says"),
    [
        ("97 °C", "full", "97 °C"),
        (" 89.9c ", "low", "89.9 °C"),
        ("90", "full", "90 °C"),
        ("89,99 °C", "low", "89.99 °C"),
    ],
)
def test_a_measured_value_becomes_the_answer_whose_band_holds_it(walked, text, answer, says):
    entered = walked.enter_reading(text)
    assert (entered.answer, entered.measured.says, entered.taken) == (answer, says, True)
    assert walked.finished
    step = walked.way[-1]
    assert step.answer == answer
    assert step.says.endswith(f"({says})")


@pytest.mark.parametrize("text", ["150", "-3 °C", "\u22123"])
def test_an_odd_value_is_asked_again_before_it_is_taken(walked, text):
    before = walked.case
    entered = walked.enter_reading(text)
    assert not entered.taken
    assert entered.measured.odd.startswith("Water temperature ")
    assert entered.measured.odd.endswith("Is that right?")
    assert walked.case == before
    assert walked.enter_reading(text, sure=True).taken
    assert walked.case.given[HEAT].text == text.strip()


@pytest.mark.parametrize("text", ["", "warm", "97 bar", "9 7", "97°C 3", "1e3", "0x10", "NaN", "1.2.3"])
def test_what_is_no_value_is_refused_with_an_example(walked, text):
    with pytest.raises(ReadingError, match="Write it like this: 97 °C"):
        walked.enter_reading(text)
    assert walked.question.place == HEAT


def test_one_of_the_answers_can_be_chosen_without_measuring(walked):
    assert walked.question.reading.unit == "°C"
    walked.answer("low")
    assert walked.finished


def test_going_back_to_a_reading_shows_what_was_entered(walked):
    walked.enter_reading("97 °C")
    walked.back()
    assert walked.question.previous_text == "97 °C"
    assert walked.question.previous == "full"


def test_a_question_that_measures_nothing_takes_no_reading(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=["leaks"])
    with pytest.raises(ExpectedError, match="Nothing is measured here"):
        walker.enter_reading("97")


def test_a_value_that_no_answer_covers_is_told(kettle):
    tree = kettle.trees["slow-boil"]
    heat = tree.checks["heat"]
    full = heat.answers["full"].model_copy(update={"from_": Decimal(95)})
    heat = heat.model_copy(update={"answers": {**heat.answers, "full": full}})
    changed = tree.model_copy(update={"checks": {**tree.checks, "heat": heat}})
    library = join(kettle.families.values(), trees=[changed])
    walker = Walker(library, MemoryLog(), complaints=["slow-boil"])
    with pytest.raises(ReadingError, match="None of the answers covers 92"):
        walker.try_reading("92", HEAT)


def test_a_reading_from_a_plugin_turns_the_text_into_its_value(kettle):
    def read(text: str) -> Measured:
        return Measured(Decimal(text.split()[0]) * 9 / 10, "nine tenths of it")

    reading = Reading("kettle/water-temperature", "Heat", "°C", "100 of mine", read, "invented")
    library = join(kettle.families.values(), trees=kettle.trees.values(), readings=[reading])
    walker = Walker(library, MemoryLog(), complaints=["slow-boil"])
    entered = walker.enter_reading("100 of mine", place=HEAT)
    assert (entered.measured.value, entered.answer) == (Decimal(90), "full")
    assert walker.case.given[HEAT].measured == "nine tenths of it"
    assert walker.case.given[HEAT].value == "90"


def test_a_reading_that_nobody_offers_can_still_be_answered(kettle):
    library = join(trees=[kettle.trees["slow-boil"]])
    walker = Walker(library, MemoryLog(), complaints=["slow-boil"])
    with pytest.raises(ReadingError, match="There is no reading 'kettle/water-temperature' here"):
        walker.enter_reading("97", place=HEAT)
    walker.answer("full", HEAT)
    assert walker.evidence.answers["slow-boil", "heat"] == "full"


@pytest.fixture
def clicks():
    return PlainReading(
        title="Clicks", unit="clicks", example="12 clicks", least=Decimal(1), most=Decimal(40)
    )


@pytest.mark.parametrize(
    ("text", "says", "odd"),
    [
        ("12 clicks", "12 clicks", None),
        ("12", "12 clicks", None),
        ("12,5 CLICKS", "12.5 clicks", None),
        ("41", "41 clicks", "Clicks 41 clicks is more than 40 clicks. Is that right?"),
        ("0", "0 clicks", "Clicks 0 clicks is less than 1 clicks. Is that right?"),
    ],
)
def test_a_unit_that_nobody_converts_is_taken_as_it_is(clicks, text, says, odd):
    measured = read_plain(clicks, text)
    assert (measured.says, measured.odd) == (says, odd)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("many", "'many' is no number. Write it like this: 12 clicks"),
        ("12 mm", "'mm' is not the unit that is asked for here, clicks. Write it like this: 12 clicks"),
    ],
)
def test_what_does_not_fit_a_unit_of_its_own_is_told(clicks, text, told):
    with pytest.raises(ReadingError) as refused:
        read_plain(clicks, text)
    assert str(refused.value) == told
