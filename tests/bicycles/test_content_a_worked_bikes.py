"""Twelve worked bikes: what a good mechanic finds, plans, leaves alone, quotes and checks."""

from pathlib import Path

import pytest
import yaml

from diagtree.library.loading import load_library
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.work.work import work_out

BIKES = yaml.load(Path(__file__).with_name("worked_bikes.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
AGREED = [name for name, bike in BIKES.items() if "disagrees" not in bike]


@pytest.fixture(scope="module")
def library():
    return load_library()


def believed(library, bike):
    answers = {(s, check): answer for s, told in bike["answers"].items() for check, answer in told.items()}
    evidence = spread_facts(library, Evidence(tuple(bike["answers"]), bike["looks"], answers))
    return BeliefModel.of(library, list(bike["answers"])).given(evidence), evidence


@pytest.fixture(scope="module")
def worked(library):
    done = {}

    def look(name):
        if name not in done:
            belief, evidence = believed(library, BIKES[name])
            done[name] = belief, work_out(library, belief, evidence, Workshop(), draws=500)
        return done[name]

    return look


def test_there_are_twelve_bikes_and_at_most_one_is_explained_away():
    assert len(BIKES) == 12
    assert len(AGREED) >= 11


@pytest.mark.parametrize("name", AGREED)
def test_the_top_finding_is_the_mechanics(worked, name):
    belief, _ = worked(name)
    top = {symptom: belief.ranking(symptom)[0][0] for symptom in BIKES[name]["answers"]}
    assert top == BIKES[name]["finds"]


@pytest.mark.parametrize("name", sorted(set(BIKES) - set(AGREED)))
def test_the_bike_that_is_explained_really_differs_and_its_finding_is_not_ruled_out(worked, name):
    belief, _ = worked(name)
    for symptom, cause in BIKES[name]["finds"].items():
        assert belief.ranking(symptom)[0][0] != cause
        assert belief.behind(symptom)[cause] > 0
    assert len(BIKES[name]["disagrees"]) > 100


@pytest.mark.parametrize("name", AGREED)
def test_the_plan_is_the_mechanics_and_nothing_else_is_bought(library, worked, name):
    _, work = worked(name)
    bike = BIKES[name]
    planned = [row for row in work.verdicts if row.planned]
    assert sorted(row.remedy for row in planned) == sorted(bike["plans"])
    bought = {part for row in planned for part in library.remedies[row.remedy].parts}
    opened = {part for job in work.plan for part in library.jobs[job.job].uncovers}
    for part in bike["leaves"]:
        assert part in library.parts
        assert part not in bought, part
    assert all(row.part in bought | opened or not library.remedies[row.remedy].parts for row in planned)


@pytest.mark.parametrize("name", AGREED)
def test_the_quote_is_in_the_mechanics_range_and_carries_an_allowance(worked, name):
    _, work = worked(name)
    low, high = (float(figure) for figure in BIKES[name]["quote"])
    assert low <= work.estimate.planned.total <= high
    assert work.estimate.price >= work.estimate.planned.total


@pytest.mark.parametrize("name", AGREED)
def test_what_must_be_seen_before_the_bike_is_handed_over_is_on_the_sheet(worked, name):
    _, work = worked(name)
    for words in BIKES[name]["checks"]:
        assert any(words in text for text in work.verify), (words, work.verify)
    if "stays" in BIKES[name]:
        assert work.stops
        assert work.final_checks == ()
        assert "Road test" not in {job.title for job in work.plan}
    else:
        assert [final.title for final in work.final_checks][-1] == "Road test"


def test_a_bike_fresh_from_its_box_needs_no_new_part(worked):
    _, work = worked("fresh-from-the-box")
    assert work.parts == ()


def test_a_bent_fork_behind_two_complaints_stops_the_work_and_nobody_prices_a_swap(worked):
    _, work = worked("met-a-car-door")
    assert work.parts == ()
    assert [row.complaints for row in work.verdicts if row.planned] == [
        ("after-a-crash", "bike-pulls-or-shimmies")
    ]
    assert "headset/new-fork" not in {item.cause for item in work.estimate.items}
    assert work.stops[-1].endswith("What is done there is not in the price.")


def test_who_is_qualified_may_take_the_fork_on_and_it_is_priced_then(library):
    belief, evidence = believed(library, BIKES["met-a-car-door"])
    work = work_out(
        library, belief, evidence, Workshop(), overrule={"headset/steerer": "headset/new-fork"}, draws=200
    )
    assert [line.part for line in work.parts] == ["headset/steerer", "headset/top-cap-set"]
    assert [final.title for final in work.final_checks][-1] == "Road test"


@pytest.mark.parametrize(
    ("name", "condition", "state"),
    [
        ("tarpaulin-commuter", "kept", "damp"),
        ("tarpaulin-commuter", "used", "hardly"),
        ("courier", "used", "hard"),
        ("fresh-from-the-box", "worked-on", "badly"),
        ("hand-me-down", "worked-on", "not-at-all"),
        ("loaded-tourer", "worked-on", "well"),
    ],
)
def test_the_picture_of_the_bike_fits_its_story(worked, name, condition, state):
    belief, _ = worked(name)
    assert max(belief.picture[condition], key=belief.picture[condition].get) == state
