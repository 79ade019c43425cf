"""What the papers say of bikes: reasons that speak of the part, sums that add up, nothing that is not there."""

from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from diagtree.library.loading import load_library
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.sheets.facts import CaseFacts
from diagtree.sheets.ground import Ground
from diagtree.sheets.sections import goods
from diagtree.work.work import work_out

BIKES = yaml.load(Path(__file__).with_name("worked_bikes.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
STIFF = {
    "tyre-press": "firm",
    "swing": "stiff-all-round",
    "headset-kind": "threadless",
    "slacken-test": "frees",
}


@pytest.fixture(scope="module")
def library():
    return load_library()


def worked(library, told, looks=()):
    answers = {(symptom, check): name for symptom, row in told.items() for check, name in row.items()}
    evidence = spread_facts(library, Evidence(tuple(told), dict(looks), answers))
    belief = BeliefModel.of(library, list(told)).given(evidence)
    return belief, work_out(library, belief, evidence, Workshop(), draws=50)


def test_no_part_of_a_stiff_headset_is_cleared_by_its_kind(library):
    _, work = worked(library, {"tight-steering": STIFF})
    cleared = {left.title: left.reason for left in work.left_alone}
    assert "Headset seals and covers" in cleared
    for reason in cleared.values():
        assert "Slacken the stem bolts" in reason
        assert "Threadless" not in reason


@pytest.mark.parametrize("name", BIKES)
def test_a_part_is_cleared_by_an_answer_that_speaks_of_it_and_never_by_what_kind_the_bike_is(library, name):
    _, work = worked(library, BIKES[name]["answers"], BIKES[name]["looks"])
    kinds = {
        f"{check.ask} {answer.says}"
        for symptom in BIKES[name]["answers"]
        for check in library.trees[symptom].checks.values()
        for answer in check.answers.values()
        if answer.without
    }
    looks = [look.ask for look in library.looks.values()]
    for left in work.left_alone:
        assert not any(kind in left.reason for kind in kinds), left.reason
        assert not any(look in left.reason for look in looks), left.reason


def test_a_brake_at_a_disc_has_no_hub_brake_in_its_price(library):
    told = {"disc-or-rim": "disc", "which-brake": "mineral", "lever-feel": "to-the-grip", "where-wet": "dry"}
    _, work = worked(library, {"no-brakes": told})
    gone = {name for name, cause in library.causes.items() if cause.part == "wheels/hub-brake"}
    assert gone
    assert not gone & {item.cause for item in work.estimate.items}
    assert not gone & {advice.cause for advice in work.advice}
    assert not gone & {row.cause for row in work.verdicts}


def cases(library):
    for name, bike in BIKES.items():
        yield name, bike["answers"], bike["looks"]
    for tree in library.trees.values():
        for case in tree.cases:
            yield f"{tree.symptom}: {case.title}", {tree.symptom: case.answers}, case.looks


def test_what_is_listed_adds_up_to_the_bills_line_of_parts_in_every_worked_case(library):
    with_fluids = 0
    for name, told, looks in cases(library):
        belief, work = worked(library, told, looks)
        rows = goods(Ground(library, CaseFacts(tuple(told)), belief, work, Workshop()))
        listed = sum((Decimal(price) for _, _, price, _ in rows if price != "no price"), Decimal(0))
        assert listed == work.estimate.planned.parts, name
        assert all(title for title, *_ in rows), name
        with_fluids += len(rows) > len(work.parts)
    assert with_fluids > 5


def test_who_finds_a_soft_tyre_is_told_to_pump_it_and_try_again(library):
    soft = library.trees["tight-steering"].checks["tyre-press"].answers["soft"]
    assert "try the steering again" in soft.note
    _, work = worked(library, {"tight-steering": {"tyre-press": "soft"}})
    assert any(text.startswith("Try again with the tyres hard.") for text in work.verify)


def test_after_a_crash_nobody_is_told_to_go_through_checks_that_are_not_asked(library):
    cautions = " ".join(library.trees["after-a-crash"].caution)
    assert "The questions end at the first thing found." in cautions
    assert "whoever it is referred to checks all the rest" in cautions
