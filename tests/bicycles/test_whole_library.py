"""The bundled library as one: its size, its rules across all families, and the papers that come of it."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from pathlib import Path

import pytest
import yaml

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.commands.main import main
from diagtree.library.library import Library
from diagtree.library.loading import load_library
from diagtree.lines import wrap
from diagtree.model.family import Hand, Risk
from diagtree.model.workshop import Workshop
from diagtree.sheets.from_case import paper_of_case, work_of
from diagtree.sheets.text import to_text
from diagtree.work.prices import all_jobs
from diagtree.work.torque_round import line

ROOT = Path(__file__).parents[2]
BIKES = yaml.load(Path(__file__).with_name("worked_bikes.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()


def test_every_file_of_ours_is_proofread_without_a_fault(capsys):
    assert main(["proofread", str(ROOT / "trees"), str(ROOT / "plugins")]) == 0
    assert "No faults in" in capsys.readouterr().err


def test_the_library_holds_what_a_workshop_needs(library):
    assert len(library.trees) >= 28
    assert len(library.causes) >= 200
    assert len(library.fasteners) >= 80
    assert len(library.fluids) >= 20
    assert len(library.jobs) >= 150


COMPLAINTS = {
    "no brakes": "no-brakes", "weak brakes": "weak-brakes", "brakes drag": "brakes-drag",
    "brakes squeal": "brakes-squeal", "lever feel changes": "lever-feel-changes", "notchy cranks": "notchy-cranks",
    "cranks rock": "cranks-rock", "creak under load": "creak-under-load", "pedal knocks": "pedal-knocks",
    "pedal will not come out": "pedal-stuck",
    "tight steering": "tight-steering", "loose or knocking steering": "loose-steering",
    "seized chain": "seized-chain", "chain skips under load": "chain-skips", "chain falls off": "chain-falls-off",
    "gears hunt": "gears-hunt", "lever clicks but nothing shifts": "lever-clicks-nothing-shifts",
    "derailleur fouls the wheel": "derailleur-fouls-wheel", "hub gear slips": "hub-gear-slips",
    "wheel wobbles": "wheel-wobbles", "wheel grinds or has play": "wheel-grinds", "spokes break": "spokes-break",
    "repeat punctures": "repeat-punctures", "tubeless will not seal": "tubeless-will-not-seal",
    "fork sinks or is harsh": "fork-sinks", "fork leaks": "fork-leaks", "shock sinks": "shock-leaks-or-sinks",
    "seat-post stuck or slips": "seat-post-stuck-or-slips", "dropper post will not rise": "dropper-will-not-rise",
    "bike pulls or shimmies": "bike-pulls-or-shimmies", "after a crash": "after-a-crash",
    "rim brakes weak": "rim-brakes-weak", "rim brakes rub": "rim-brakes-rub", "rim brakes squeal": "rim-brakes-squeal",
}  # fmt: skip


@pytest.mark.parametrize("complaint", COMPLAINTS)
def test_each_complaint_that_comes_into_a_workshop_has_a_tree_with_its_worked_cases(library, complaint):
    tree = library.trees[COMPLAINTS[complaint]]
    kinds = Counter(case.kind.value for case in tree.cases)
    assert kinds["common"] >= 2
    assert kinds["rare"] >= 1
    assert kinds["misleading"] >= 1
    assert all(check.how for check in tree.checks.values())


def test_no_tree_is_left_out_of_the_list_of_complaints(library):
    assert set(COMPLAINTS.values()) == set(library.trees)


def test_left_hand_threads_are_left_hand_everywhere_they_are_spoken_of(library):
    left = {name for name, fastener in library.fasteners.items() if fastener.hand is Hand.LEFT}
    assert "cranks-and-pedals/pedal-left" in left
    for name in left:
        fastener = library.fasteners[name]
        assert line(library, Workshop(), name).turns == "anticlockwise (left-hand thread)"
        assert fastener.side in {"drive side", "left side"}, name
    # Whatever text names the left pedal's or the drive-side cup's turn says that it is the other way round.
    texts = [text for job in library.jobs.values() for text in (*job.how, *job.caution)]
    texts += [text for tree in library.trees.values() for check in tree.checks.values() for text in check.how]
    spoken = [text for text in texts if re.search(r"[Ll]eft pedal \w*clockwise", text)]
    assert spoken
    for text in spoken:
        tightens = "undo" not in text.lower() and "Right pedal anticlockwise" not in text
        assert ("Left pedal anticlockwise" in text) == tightens, text


def test_no_remedy_of_any_family_puts_mineral_and_glycol_fluid_together(library):
    mineral = {name for name in library.fluids if "mineral-oil" in name}
    glycol = {name for name in library.fluids if re.search(r"/dot-(3|4|5-1)$", name)}
    assert mineral
    assert len(glycol) == 3
    for name, remedy in library.remedies.items():
        filled = {
            use.fluid
            for job in all_jobs(library, remedy.jobs)
            for use in library.jobs[job].fluids
            if use.into
        }
        filled |= {use.fluid for use in remedy.fluids if use.into}
        assert not (filled & mineral and filled & glycol), name


def test_every_unsafe_remedy_has_a_caution_and_a_function_check(library):
    for name, cause in library.causes.items():
        if cause.risk is Risk.UNSAFE:
            assert cause.caution, name
            for remedy in cause.remedies:
                assert library.remedies[remedy].caution, (name, remedy)
                assert library.remedies[remedy].verify, (name, remedy)


def test_every_opening_job_closes_and_nothing_that_closes_opens(library):
    for name, job in library.jobs.items():
        if job.uncovers:
            assert job.after, name
        for closing in job.after:
            assert not library.jobs[closing].after, (name, closing)


def test_every_cause_is_reachable_and_every_remedy_has_a_job(library):
    found = {
        cause
        for tree in library.trees.values()
        for check in tree.checks.values()
        for answer in check.answers.values()
        for cause in answer.found or {}
    }
    assert set(library.causes) - found == set()
    assert [name for name, remedy in library.remedies.items() if not remedy.jobs] == []


def test_a_ride_comes_at_the_very_end(library):
    rides = {
        name for name, job in library.jobs.items() if re.search(r"road.test|bed the brake", job.title, re.I)
    }
    assert rides
    assert [name for name in rides if not library.jobs[name].last] == []


def test_no_sentence_takes_more_than_two_lines_of_a_screen():
    for path in sorted([*(ROOT / "trees").glob("*/*.yaml"), *(ROOT / "plugins").glob("*/*.yaml")]):
        for text in _texts(yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)):
            for sentence in re.split(r"(?<=[.!?])\s+", text.strip()):
                assert len(wrap(sentence, 78)) <= 2, (path.name, sentence)


def _texts(node):
    if isinstance(node, str):
        yield node
    for value in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from _texts(value)


def test_every_reading_is_asked_for_where_a_mechanic_would_take_it(library):
    asked = {check.reading for tree in library.trees.values() for check in tree.checks.values()}
    assert set(library.readings) <= asked


def test_the_calculated_ceiling_stands_over_the_torque_of_each_bolt_that_names_its_class(library):
    """By VDI 2230 the catalogue's own range must not pass what the bolt or its thread stands."""
    classed = [name for name, fastener in library.fasteners.items() if fastener.property_class]
    assert len(classed) >= 12
    for name in classed:
        told = line(library, Workshop(), name)
        assert told.ceiling is not None, name
        assert float(told.most) <= told.ceiling.torque, name


def test_a_bottle_cage_bolt_gets_two_to_three_newton_metres_and_no_dry_thread(library):
    """Common practice: M5, 2 to 3 N·m, anti-seize or grease."""
    bolt = library.fasteners["contact-points/bottle-cage-bolt"]
    assert (bolt.thread, bolt.torque.from_, bolt.torque.to) == ("M5x0.8", 2, 3)
    assert bolt.compound == "whole-bike/anti-seize"


def test_what_an_answer_rules_out_is_a_part_that_no_finding_behind_it_needs(library):
    """A part that is said not to be there must not be what the same answer finds."""
    for tree in library.trees.values():
        for name, check in tree.checks.items():
            for answer in check.answers.values():
                parts = {library.causes[cause].part for cause in answer.found or {}}
                assert not parts & set(answer.without), (tree.symptom, name)


def view_of(library, name):
    clock = (f"2026-03-04T{8 + i // 60:02}:{i % 60:02}:00+00:00" for i in itertools.count())
    bike = BIKES[name]
    walker = Walker(
        library, MemoryLog(), complaints=tuple(bike["answers"]), label=name, clock=lambda: next(clock)
    )
    while (question := walker.question) is not None:
        told = bike["looks"] if question.place.is_look else bike["answers"][question.symptom]
        if question.name in told:
            walker.answer(told[question.name])
        else:
            walker.cannot_tell()
    return walker.view


@pytest.fixture(scope="module")
def sheets(library):
    made = {}

    def make(name):
        if name not in made:
            view = view_of(library, name)
            work = work_of(view, Workshop())
            made[name] = work, paper_of_case("job", view, Workshop(), work)
        return made[name]

    return make


@pytest.mark.parametrize(
    "name", ["town-bike-with-hub-gear", "hire-bike", "winter-on-the-trainer", "met-a-car-door"]
)
def test_a_job_sheet_is_short_enough_to_work_from(sheets, name):
    _, paper = sheets(name)
    assert len(to_text(paper).split("\n")) <= 350


@pytest.mark.parametrize("name", BIKES)
def test_no_caution_stands_twice_on_a_job_sheet(sheets, name):
    work, paper = sheets(name)
    text = " ".join(re.sub(r"[|!]", " ", to_text(paper)).split())
    jobs = [caution for job in work.plan for caution in job.caution]
    for caution in {*work.cautions, *jobs}:
        shown = text.count(" ".join(caution.replace("!", " ").split()))
        # A fastener's caution may stand at the fastener and, in other words, at its job: never twice alike.
        assert shown <= 1, (name, caution)
        assert shown == 1 or caution not in jobs, (name, caution)


@pytest.mark.parametrize("name", BIKES)
def test_nothing_is_said_of_parts_that_the_bike_does_not_have(library, sheets, name):
    work, _ = sheets(name)
    gone = {
        part
        for symptom, told in BIKES[name]["answers"].items()
        for check, answer in told.items()
        for part in library.trees[symptom].checks[check].answers[answer].without
    }
    assert not gone & {left.part for left in work.left_alone}
    assert not gone & {
        library.fasteners[one.fastener].part for one in work.torque_round if not one.touched_by
    }
    assert not gone & {library.causes[one.cause].part for one in work.advice}
    assert len(work.left_alone) <= 6
    assert len(work.advice) <= 5


def test_a_threadless_steerer_gets_no_quill_bolt_on_its_torque_round(sheets):
    work, _ = sheets("tarpaulin-commuter")
    told = {one.fastener for one in work.torque_round}
    assert "headset/stem-clamp" in told
    assert not {"headset/locknut", "headset/quill-wedge", "disc-brakes/cable-clamp"} & told
