"""The bicycle library: figures against their sources and safety rules in every family; brakes, steering and wheels
also in their worked cases and their judgement."""

import re
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from diagtree.library.loading import load_library
from diagtree.model.family import Hand, Risk, Verdict
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.work.work import work_out

FAMILIES = (
    "whole-bike",
    "disc-brakes",
    "rim-brakes",
    "headset",
    "wheels",
    "bottom-bracket",
    "cranks-and-pedals",
    "chain-drive",
    "gears",
    "suspension",
    "contact-points",
)
SYMPTOMS = (
    "no-brakes",
    "weak-brakes",
    "brakes-drag",
    "brakes-squeal",
    "lever-feel-changes",
    "tight-steering",
    "loose-steering",
    "rim-brakes-weak",
    "rim-brakes-rub",
    "rim-brakes-squeal",
    "wheel-wobbles",
    "wheel-grinds",
    "spokes-break",
    "repeat-punctures",
    "tubeless-will-not-seal",
    "bike-pulls-or-shimmies",
)

# Torque in N·m: values of common practice, as workshops pass them on; the mark on the part wins.
TORQUES = {
    "bottom-bracket/cup-drive-side": ("1.375 in x 24 tpi", 35, 50),
    "bottom-bracket/cup-other-side": ("1.375 in x 24 tpi", 35, 50),
    "bottom-bracket/cup-drive-side-italian": ("36 mm x 24 tpi", 35, 50),
    "bottom-bracket/cup-other-side-italian": ("36 mm x 24 tpi", 35, 50),
    "chain-drive/cassette-lockring": ("fine", 30, 50),
    "chain-drive/chainring-bolt-steel": ("M8x0.75", 12, 14),
    "chain-drive/chainring-bolt-aluminium": ("M8x0.75", 8, 9),
    "contact-points/seat-clamp": (None, 5, 7),
    "contact-points/saddle-rail-clamp": (None, 8, 14),
    "contact-points/stem-bar-bolt": (None, 4, 6),
    "cranks-and-pedals/taper-bolt": ("M8x1", 34, 44),
    "cranks-and-pedals/crank-pinch-bolts": (None, 12, 15),
    "cranks-and-pedals/crank-axle-bolt": (None, 47, 54),
    "cranks-and-pedals/pedal-left": ("9/16 in x 20 tpi", 35, 40),
    "cranks-and-pedals/pedal-right": ("9/16 in x 20 tpi", 35, 40),
    "disc-brakes/rotor-bolt": ("M5x0.8", 4, 6),
    "disc-brakes/caliper-mount": ("M6x1", 6, 8),
    "disc-brakes/hose-banjo": ("M6x0.75", 5, 8),
    "disc-brakes/lever-clamp": ("M5x0.8", 4, 5),
    "disc-brakes/cable-clamp": ("as marked (M5 or M6)", 6, 8),
    "gears/rear-derailleur-bolt": (None, 8, 10),
    "gears/rear-cable-clamp": (None, 4, 6),
    "gears/jockey-wheel-bolt": (None, Decimal("2.5"), 5),
    "gears/shifter-clamp": (None, 3, 4),
    "headset/stem-clamp": ("as marked (M5 or M6)", 5, 7),
    "headset/top-cap": ("M6x1", 1, 3),
    "headset/locknut": ("1 in x 24 tpi", 15, 17),
    "headset/quill-wedge": ("M8x1.25", 20, 29),
    "rim-brakes/shoe-bolt": ("M6x1", 8, 9),
    "rim-brakes/cable-clamp": ("as marked (M5 or M6)", 6, 8),
    "rim-brakes/lever-clamp": ("M5x0.8", 4, 5),
    "wheels/front-through-axle": ("as marked (M12 or M15)", 12, 15),
    "wheels/rear-through-axle": ("as marked (M12)", 12, 18),
}
LOCKRING = 40
"""Splined rotors' and cassettes' lockrings, N·m: common practice."""

# 49 CFR 571.116, S5.1.1 (dry), S5.1.2 (wet), S5.1.3 (viscosity at -40 °C, most).
FLUIDS = {
    "disc-brakes/dot-3": (205, 140, 1500),
    "disc-brakes/dot-4": (230, 155, 1800),
    "disc-brakes/dot-5": (260, 180, 900),
    "disc-brakes/dot-5-1": (260, 180, 900),
}


@pytest.fixture(scope="module")
def library():
    return load_library()


def ours(entries):
    return {name: entry for name, entry in entries.items() if name.partition("/")[0] in FAMILIES}


def believed(library, symptom, case):
    evidence = Evidence((symptom,), case.looks, {(symptom, check): a for check, a in case.answers.items()})
    evidence = spread_facts(library, evidence)
    return BeliefModel.of(library, [symptom]).given(evidence), evidence


def test_nothing_of_ours_was_left_out_while_loading(library):
    places = [f"diagtree_{family.replace('-', '_')}/" for family in FAMILIES]
    places += [f"trees/{family}/" for family in FAMILIES]
    assert [str(p) for p in library.problems if any(place in str(p) for place in places)] == []
    assert set(SYMPTOMS) <= set(library.trees)


@pytest.mark.parametrize("name", TORQUES)
def test_torques_and_threads_are_those_of_common_practice(library, name):
    thread, low, high = TORQUES[name]
    fastener = library.fasteners[name]
    assert (fastener.torque.from_, fastener.torque.to) == (low, high)
    assert thread is None or fastener.thread == thread
    assert fastener.basis.startswith("common practice")


@pytest.mark.parametrize("name", FLUIDS)
def test_brake_fluids_boil_where_the_standard_says(library, name):
    fluid = library.fluids[name]
    assert (fluid.boils_dry, fluid.boils_wet, fluid.viscosity_cold) == FLUIDS[name]
    assert fluid.basis.startswith("49 CFR 571.116")


def test_fluid_colours_are_those_of_the_standard(library):
    """49 CFR 571.116, S5.1.14: DOT 3, 4 and 5.1 colourless to amber, DOT 5 purple, mineral oil green."""
    for name in ("dot-3", "dot-4", "dot-5-1"):
        assert library.fluids[f"disc-brakes/{name}"].colour == "colourless to amber"
    assert library.fluids["disc-brakes/dot-5"].colour == "purple"
    assert library.fluids["disc-brakes/mineral-oil"].colour.startswith("green")


def test_mineral_oil_and_glycol_fluid_never_meet(library):
    mineral = {"disc-brakes/mineral-oil"}
    glycol = {"disc-brakes/dot-3", "disc-brakes/dot-4", "disc-brakes/dot-5-1"}
    assert set(library.systems["disc-brakes/mineral-brake"].takes) == mineral
    assert set(library.systems["disc-brakes/glycol-brake"].takes) == glycol
    for one in mineral:
        assert glycol | {"disc-brakes/dot-5"} == set(library.fluids[one].never_with)
    for one in glycol:
        assert mineral | {"disc-brakes/dot-5"} == set(library.fluids[one].never_with)
    for name, remedy in library.remedies.items():
        filled = {
            use.fluid
            for job in _all_jobs(library, remedy.jobs)
            for use in (*library.jobs[job].fluids, *remedy.fluids)
            if use.into
        }
        assert not (filled & mineral and filled & glycol), name
        if name.endswith("-mineral"):
            assert filled == mineral, name
        if name.endswith("-glycol"):
            assert filled
            assert filled <= glycol, name


def test_a_cause_that_names_its_fluid_is_never_mended_with_the_other(library):
    for name, cause in library.causes.items():
        for kind, other in (("mineral", "glycol"), ("glycol", "mineral")):
            if name.startswith("disc-brakes/") and name.endswith(f"-{kind}"):
                assert not any(remedy.endswith(f"-{other}") for remedy in cause.remedies), name


def _all_jobs(library, jobs):
    found = {}

    def visit(job):
        if job not in found:
            found[job] = True
            for other in (*library.jobs[job].needs, *library.jobs[job].after):
                visit(other)

    for job in jobs:
        visit(job)
    return list(found)


def test_worn_limits_are_those_of_common_practice(library):
    """Pad compound of 0.5 mm or less is replaced; a rotor's mark is often 1.5 mm (common practice)."""
    for symptom in SYMPTOMS:
        for check in library.trees[symptom].checks.values():
            if check.reading == "disc-brakes/pad-thickness":
                assert _band(check, "0.5") == "gone"
                assert _band(check, "0.6") == "thin"
            if check.reading == "disc-brakes/rotor-thickness":
                assert _band(check, "1.49") == "worn"
                assert _band(check, "1.5") == "good"


def _band(check, value):
    value = Decimal(value)
    fits = [
        name
        for name, answer in check.answers.items()
        if (answer.from_ is None or value >= answer.from_) and (answer.below is None or value < answer.below)
    ]
    assert len(fits) == 1
    return fits[0]


def test_left_hand_threads_are_the_drive_side_cup_and_the_left_pedal_and_no_others(library):
    """ISO 6696: 1.375 in x 24 tpi, drive side left-hand. Pedals, 9/16 in x 20 tpi: left pedal left-hand."""
    left = {
        name
        for name, f in library.fasteners.items()
        if (f.thread.startswith("1.375") and f.side == "drive side")
        or (f.thread.startswith("9/16") and f.side == "left side")
    }
    assert len(left) >= 3
    assert {name for name, f in library.fasteners.items() if f.hand is Hand.LEFT} == left


def test_lockrings_are_set_to_forty(library):
    for name in ("disc-brakes/rotor-lockring", "chain-drive/cassette-lockring"):
        assert library.fasteners[name].torque.aim == LOCKRING


def test_the_library_is_as_large_as_a_workshop_needs(library):
    assert len(library.causes) >= 200
    assert len(library.fasteners) >= 80
    assert len(library.fluids) >= 20
    assert len(library.jobs) >= 150


def test_every_unsafe_cause_warns_and_each_of_its_remedies_ends_with_a_function_check(library):
    for name, cause in ours(library.causes).items():
        if cause.risk is Risk.UNSAFE:
            assert cause.caution, name
            for remedy in cause.remedies:
                assert library.remedies[remedy].caution, (name, remedy)
                assert library.remedies[remedy].verify, (name, remedy)


def test_remedies_are_made_of_jobs_and_run_from_mildest_to_strongest(library):
    for name, cause in ours(library.causes).items():
        strengths = [library.remedies[remedy].verdict.strength for remedy in cause.remedies]
        assert strengths == sorted(strengths), name
        for remedy in cause.remedies:
            assert library.remedies[remedy].jobs, remedy


def test_what_is_replaced_is_on_the_list_of_parts(library):
    for name, remedy in ours(library.remedies).items():
        if remedy.verdict is Verdict.REPLACE and not name.endswith(("refer-frame", "refer-head-tube")):
            assert remedy.parts, name
            assert all(library.parts[part].price is not None for part in remedy.parts), name


def test_what_opens_is_closed_again(library):
    for name, job in ours(library.jobs).items():
        if job.uncovers:
            assert job.after, name
        for closing in job.after:
            assert not library.jobs[closing].uncovers, (name, closing)


def test_every_cause_lies_behind_a_complaint(library):
    assert [name for name in ours(library.causes) if not library.trees_of[name]] == []


def test_every_figure_has_a_basis(library):
    for kind in ("parts", "causes", "remedies", "jobs", "fasteners", "fluids", "plain_readings"):
        for name, entry in ours(getattr(library, kind)).items():
            assert entry.basis, (kind, name)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_each_tree_is_whole(library, symptom):
    tree = library.trees[symptom]
    counts = [
        count
        for check in tree.checks.values()
        for a in check.answers.values()
        for count in (a.found or {}).values()
    ]
    assert sum(counts) == 100
    assert 8 <= len(tree.checks) <= 16
    assert len(library.causes_of[symptom]) >= 10
    assert tree.caution
    for name, check in tree.checks.items():
        assert check.how, name
        assert check.minutes > 0, name
    kinds = Counter(case.kind.value for case in tree.cases)
    assert kinds["common"] >= 2
    assert kinds["rare"] >= 1
    assert kinds["misleading"] >= 1


CASES = [
    (path.stem, number)
    for path in sorted((Path(__file__).parents[2] / "trees").glob("*/*.yaml"))
    if path.stem in SYMPTOMS
    for number in range(len(yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)["cases"]))
]


@pytest.mark.parametrize(("symptom", "number"), CASES)
def test_the_worked_case_ranks_its_cause_first(library, symptom, number):
    case = library.trees[symptom].cases[number]
    belief, _ = believed(library, symptom, case)
    assert belief.ranking(symptom)[0][0] == case.expect, case.title


# What a careful mechanic does: the case's title, and the verdict on the part.
JUDGEMENT = [
    ("tight-steering", "Damp cellar, hardly ridden, stiff since it was new", "headset/reset-preload"),
    ("tight-steering", "Commuter left in the rain", "headset/new-bearings"),
    ("tight-steering", "Heavy steering is only a soft tyre", "wheels/pump-tyres"),
    ("brakes-squeal", "Only in the rain", "disc-brakes/leave-wet-noise"),
    ("weak-brakes", "Winter under a tarpaulin", "disc-brakes/brake-rust-off"),
    ("weak-brakes", "Greasy rotor but clean pads", "disc-brakes/clean-rotor"),
    ("weak-brakes", "Chain spray reached the pads", "disc-brakes/new-pads-clean-rotor"),
    ("brakes-drag", "Knocked in the bicycle cellar", "disc-brakes/true-rotor"),
    ("brakes-drag", "Looks off centre, but one piston is stuck", "disc-brakes/free-pistons"),
    ("no-brakes", "Spongy after a home bleed", "disc-brakes/bleed-mineral"),
    ("no-brakes", "Motor oil in the reservoir", "disc-brakes/new-brake"),
    ("no-brakes", "New pads yesterday, lever to the grip today", "disc-brakes/pump-out"),
    ("loose-steering", "Two months after it came out of the box", "headset/reset-preload"),
    ("rim-brakes-weak", "Pads and cable settled, nobody took it up", "rim-brakes/take-up-slack"),
    ("wheel-wobbles", "Brought in as buckled, but only the tyre hops", "wheels/reseat-tyre"),
    ("wheel-grinds", "New bike with stiff hubs", "wheels/adjust-hub"),
    ("repeat-punctures", "Flat every week, but nothing is punctured", "wheels/pump-tyres"),
    ("tubeless-will-not-seal", "A year on the same sealant", "wheels/top-up-sealant"),
]


@pytest.mark.parametrize(("symptom", "title", "remedy"), JUDGEMENT)
def test_the_verdict_is_a_careful_mechanics(library, symptom, title, remedy):
    case = next(case for case in library.trees[symptom].cases if case.title == title)
    belief, evidence = believed(library, symptom, case)
    work = work_out(library, belief, evidence, Workshop(), draws=50)
    assert [row.remedy for row in work.verdicts if row.planned] == [remedy]


def test_no_sentence_is_longer_than_two_lines_of_a_screen():
    root = Path(__file__).parents[2]
    files = [
        path
        for family in FAMILIES
        for path in (
            *(root / "plugins" / f"diagtree_{family.replace('-', '_')}").glob("*.yaml"),
            *(root / "trees" / family).glob("*.yaml"),
        )
    ]
    assert len(files) >= len(SYMPTOMS) + len(FAMILIES)
    for path in files:
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
