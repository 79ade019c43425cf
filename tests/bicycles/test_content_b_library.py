"""Drive, gears, suspension and contact points: figures against their sources, safety rules, cases and judgement."""

import re
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from diagtree.library.loading import load_library
from diagtree.model.family import Hand, Risk
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.reasoning.ideal import IdealTree
from diagtree.work.work import work_out

ROOT = Path(__file__).parents[2]
FAMILIES = ("bottom-bracket", "chain-drive", "cranks-and-pedals", "gears", "suspension", "contact-points")
TREES = {path.stem: path for family in FAMILIES for path in sorted((ROOT / "trees" / family).glob("*.yaml"))}
CASES = [
    (symptom, number)
    for symptom, path in TREES.items()
    for number in range(len(yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)["cases"]))
]

# Thread, hand, least and most torque in N·m: common practice; the mark on the part wins.
# Threads: bottom bracket 1.375 in x 24 tpi with a left-hand drive side (ISO 6696), 36 mm x 24 tpi right-hand
# on both sides; pedal 9/16 in x 20 tpi, the left one left-hand.
FASTENERS = {
    "bottom-bracket/cup-drive-side": ("1.375 in x 24 tpi", Hand.LEFT, 35, 50),
    "bottom-bracket/cup-other-side": ("1.375 in x 24 tpi", Hand.RIGHT, 35, 50),
    "bottom-bracket/cup-drive-side-italian": ("36 mm x 24 tpi", Hand.RIGHT, 35, 50),
    "bottom-bracket/cup-other-side-italian": ("36 mm x 24 tpi", Hand.RIGHT, 35, 50),
    "bottom-bracket/cartridge-drive-side": ("1.375 in x 24 tpi", Hand.LEFT, 35, 50),
    "bottom-bracket/cartridge-cup": ("1.375 in x 24 tpi", Hand.RIGHT, 35, 50),
    "bottom-bracket/fixed-cup": ("1.375 in x 24 tpi", Hand.LEFT, 35, 50),
    "chain-drive/cassette-lockring": ("fine", Hand.RIGHT, 30, 50),
    "chain-drive/chainring-bolt-steel": ("M8x0.75", Hand.RIGHT, 12, 14),
    "chain-drive/chainring-bolt-aluminium": ("M8x0.75", Hand.RIGHT, 8, 9),
    "cranks-and-pedals/taper-bolt": ("M8x1", Hand.RIGHT, 34, 44),
    "cranks-and-pedals/crank-axle-bolt": ("as marked (M12 to M15)", Hand.RIGHT, 47, 54),
    "cranks-and-pedals/crank-pinch-bolts": ("M6x1", Hand.RIGHT, 12, 15),
    "cranks-and-pedals/pedal-right": ("9/16 in x 20 tpi", Hand.RIGHT, 35, 40),
    "cranks-and-pedals/pedal-left": ("9/16 in x 20 tpi", Hand.LEFT, 35, 40),
    "gears/rear-derailleur-bolt": ("M10x1", Hand.RIGHT, 8, 10),
    "gears/rear-cable-clamp": ("M5x0.8", Hand.RIGHT, 4, 6),
    "gears/jockey-wheel-bolt": ("M5x0.8", Hand.RIGHT, Decimal("2.5"), 5),
    "gears/shifter-clamp": ("M5x0.8", Hand.RIGHT, 3, 4),
    "contact-points/seat-clamp": ("as marked (M5 or M6)", Hand.RIGHT, 5, 7),
    "contact-points/saddle-rail-clamp": ("as marked (M6 or M8)", Hand.RIGHT, 8, 14),
    "contact-points/stem-bar-bolt": ("M5x0.8", Hand.RIGHT, 4, 6),
    "contact-points/brake-lever-clamp": ("M5x0.8", Hand.RIGHT, 4, 5),
    "contact-points/grip-clamp": ("as marked (M3 or M4)", Hand.RIGHT, 2, 3),
}


@pytest.fixture(scope="module")
def library():
    return load_library()


def ours(entries):
    return {name: entry for name, entry in entries.items() if name.partition("/")[0] in FAMILIES}


def believed(library, symptom, case):
    told = Evidence(
        (symptom,), case.looks, {(symptom, check): answer for check, answer in case.answers.items()}
    )
    evidence = spread_facts(library, told)
    return BeliefModel.of(library, [symptom]).given(evidence), evidence


@pytest.mark.parametrize("name", FASTENERS)
def test_thread_hand_and_torque_are_those_of_common_practice(library, name):
    fastener = library.fasteners[name]
    told = (fastener.thread, fastener.hand, fastener.torque.from_, fastener.torque.to)
    assert told == FASTENERS[name]
    assert fastener.basis.startswith("common practice")


def test_left_hand_threads_are_the_drive_side_cup_and_the_left_pedal_and_no_others(library):
    left = {name for name, fastener in ours(library.fasteners).items() if fastener.hand is Hand.LEFT}
    assert left == {name for name, (_, hand, _, _) in FASTENERS.items() if hand is Hand.LEFT}
    for name in left:
        fastener = library.fasteners[name]
        assert fastener.side == ("left side" if name == "cranks-and-pedals/pedal-left" else "drive side")
        assert any("anticlockwise" in text for text in fastener.caution) or "fixed-cup" in name


def test_a_chain_is_replaced_at_half_or_three_quarters_of_a_per_cent(library):
    """Common practice: 0.5 % on narrow chains, 0.75 % otherwise; at 1 % suspect the sprockets."""
    bands = {
        tuple((name, answer.from_, answer.below) for name, answer in check.answers.items())
        for tree in library.trees.values()
        for check in tree.checks.values()
        if check.reading == "chain-drive/chain-elongation"
    }
    half, three_quarters, one = Decimal("0.5"), Decimal("0.75"), Decimal("1.0")
    assert bands == {
        (
            ("good", None, half),
            ("half", half, three_quarters),
            ("worn", three_quarters, one),
            ("far-gone", one, None),
        )
    }


def test_sag_is_right_from_a_fifth_to_under_three_tenths(library):
    """Common practice: 20 to 30 % of the travel."""
    right = library.trees["fork-sinks"].checks["sag"].answers["right"]
    assert (right.from_, right.below) == (20, 30)


def test_an_unsafe_cause_warns_and_each_of_its_remedies_ends_with_a_function_check(library):
    for name, cause in ours(library.causes).items():
        if cause.risk is Risk.UNSAFE:
            assert cause.caution, name
            for remedy in cause.remedies:
                assert library.remedies[remedy].caution, (name, remedy)
                assert library.remedies[remedy].verify, (name, remedy)


def test_what_opens_is_closed_and_only_once(library):
    for name, job in ours(library.jobs).items():
        if job.uncovers:
            assert job.after, name
        for closing in job.after:
            assert not library.jobs[closing].after, (name, closing)
            assert not library.jobs[closing].needs, (name, closing)


def test_every_cause_lies_behind_a_complaint_and_every_remedy_has_its_jobs(library):
    assert [name for name in ours(library.causes) if not library.trees_of[name]] == []
    assert [name for name, remedy in ours(library.remedies).items() if not remedy.jobs] == []


def test_carbon_is_never_greased_where_paste_belongs(library):
    for name in ("contact-points/paste-post", "suspension/ease-seat-clamp"):
        remedy = library.remedies[name]
        used = [use.fluid for use in remedy.fluids]
        used += [use.fluid for job in remedy.jobs for use in library.jobs[job].fluids]
        assert "whole-bike/carbon-paste" in used
        assert not any(fluid.endswith("grease") for fluid in used)


def test_jockey_wheels_stay_out_of_the_ultrasonic_bath(library):
    assert any("ultrasonic" in text for text in library.remedies["gears/clean-jockey-wheels"].caution)


@pytest.mark.parametrize("symptom", TREES)
def test_each_tree_is_whole(library, symptom):
    tree = library.trees[symptom]
    found = [a.found or {} for check in tree.checks.values() for a in check.answers.values()]
    assert sum(count for counts in found for count in counts.values()) == 100
    assert 8 <= len(tree.checks) <= 16
    assert 10 <= len(library.causes_of[symptom]) <= 28
    assert tree.caution
    for name, check in tree.checks.items():
        assert check.how, name
        assert check.minutes > 0, name
    kinds = Counter(case.kind.value for case in tree.cases)
    assert kinds["common"] >= 2
    assert kinds["rare"] >= 1
    assert kinds["misleading"] >= 1


@pytest.mark.parametrize("symptom", TREES)
def test_the_authors_order_comes_to_a_finding_in_a_quarter_of_an_hour(library, symptom):
    ideal = IdealTree(library, symptom)
    assert ideal.walk(ideal.guided()).expected < 15


@pytest.mark.parametrize(("symptom", "number"), CASES)
def test_the_worked_case_can_be_walked_and_ranks_its_cause_first(library, symptom, number):
    tree = library.trees[symptom]
    case = tree.cases[number]
    name, asked = tree.first, []
    while name is not None:
        asked.append(name)
        name = tree.checks[name].answers[case.answers[name]].next
    assert asked == list(case.answers)
    belief, _ = believed(library, symptom, case)
    assert belief.ranking(symptom)[0][0] == case.expect, case.title


# What a careful mechanic does: the complaint, the case's title, and the one remedy that is planned.
JUDGEMENT = [
    ("notchy-cranks", "Fresh out of the box and tight from new", "bottom-bracket/slacken-and-reset"),
    ("notchy-cranks", "Damp shed, rusty bolts, yet only over-tight", "bottom-bracket/slacken-and-reset"),
    ("notchy-cranks", "Daily bike, winter in the wet", "bottom-bracket/new-external-cups"),
    ("cranks-rock", "New bike from a box, left crank wobbles", "cranks-and-pedals/torque-crank"),
    ("cranks-rock", "Bolt was loose and tightening does not cure it", "cranks-and-pedals/new-crank"),
    ("pedal-stuck", "Left pedal, pulled anticlockwise for an hour", "cranks-and-pedals/undo-pedal"),
    ("pedal-stuck", "Ten winters outdoors, white crust round the axle", "cranks-and-pedals/soak-pedal"),
    ("pedal-stuck", "Ring of the insert goes round with the axle", "cranks-and-pedals/new-crank-and-pedals"),
    ("seized-chain", "A winter under a tarpaulin", "chain-drive/new-chain-safe"),
    ("seized-chain", "Brown to look at and sound inside", "chain-drive/wipe-and-oil-chain"),
    ("seized-chain", "Squeaks after a wet month", "chain-drive/oil-chain"),
    (
        "seized-chain",
        "Rust on the chain, but the jockey wheel is what drags",
        "gears/clean-jockey-wheels",
    ),
    ("chain-skips", "New chain on old sprockets", "chain-drive/new-sprockets"),
    ("gears-hunt", "New bike after its first month", "gears/set-cable-tension"),
    ("gears-hunt", "Fell over on its right side", "gears/straighten-hanger"),
    ("lever-clicks-nothing-shifts", "Stood for years, the lever flaps", "gears/flush-shifter"),
    ("hub-gear-slips", "Slips cold, after years in a shed", "gears/oil-hub"),
    ("fork-leaks", "Faint ring after each ride", "suspension/leave-film"),
    ("dropper-will-not-rise", "Stuck since somebody moved the saddle", "suspension/ease-seat-clamp"),
    ("seat-post-stuck-or-slips", "Carbon post with grease on it", "contact-points/paste-post"),
    ("creak-under-load", "Faceplate dry", "contact-points/refit-bar"),
    ("after-a-crash", "Ran into a parked car", "contact-points/refer-frame"),
]


@pytest.mark.parametrize(("symptom", "title", "remedy"), JUDGEMENT)
def test_the_verdict_is_a_careful_mechanics(library, symptom, title, remedy):
    case = next(case for case in library.trees[symptom].cases if case.title == title)
    belief, evidence = believed(library, symptom, case)
    work = work_out(library, belief, evidence, Workshop(), draws=50)
    assert [row.remedy for row in work.verdicts if row.planned] == [remedy]


def test_no_sentence_is_longer_than_two_lines_of_a_screen():
    files = [
        ROOT / "plugins" / f"diagtree_{family.replace('-', '_')}" / "catalogue.yaml" for family in FAMILIES
    ]
    for path in (*files, *TREES.values()):
        for text in _texts(yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)):
            for sentence in re.split(r"(?<=[.!?])\s+", text.strip()):
                assert len(sentence) <= 150, (path.name, sentence)


def _texts(node):
    if isinstance(node, str):
        yield node
    elif isinstance(node, dict):
        for value in node.values():
            yield from _texts(value)
    elif isinstance(node, list):
        for value in node:
            yield from _texts(value)
