"""Work on bikes: what goes on the thread, what a clamp must hold, which fluids never meet, how jobs are merged."""

import pytest

from diagtree.library.loading import load_library
from diagtree.mechanics import bolts
from diagtree.mechanics.threads import parse
from diagtree.model.workshop import Workshop
from diagtree.reasoning.belief import BeliefModel
from diagtree.reasoning.evidence import Evidence, spread_facts
from diagtree.work.fluids import FluidsMustNotMeetError
from diagtree.work.work import work_out

# Common practice, from memory: what the thread gets (ISO 4210 for the clamp, further down).
PREPARATIONS = {
    "bottom-bracket/cup-drive-side": "anti-seize",
    "bottom-bracket/cup-other-side": "anti-seize",
    "chain-drive/cassette-lockring": "light grease",
    "disc-brakes/rotor-bolt": "medium threadlocker",
    "disc-brakes/rotor-lockring": "light grease",
    "disc-brakes/caliper-mount": "medium threadlocker",
    "disc-brakes/hose-banjo": "new washers",
    "disc-brakes/lever-clamp": "grease",
    "cranks-and-pedals/taper-bolt": "leave the taper dry",
    "cranks-and-pedals/crank-axle-bolt": "grease",
    "cranks-and-pedals/crank-pinch-bolts": "grease",
    "cranks-and-pedals/pedal-left": "grease or anti-seize",
    "cranks-and-pedals/pedal-right": "grease or anti-seize",
    "chain-drive/chainring-bolt-steel": "grease",
    "chain-drive/chainring-bolt-aluminium": "grease",
    "contact-points/stem-bar-bolt": "grease",
    "headset/stem-clamp": "grease",
    "headset/top-cap": "grease",
    "headset/quill-wedge": "grease",
    "headset/locknut": "grease",
    "contact-points/seat-clamp": "paste on a carbon post",
    "contact-points/saddle-rail-clamp": "grease",
    "gears/shifter-clamp": "grease",
    "gears/rear-derailleur-bolt": "grease",
    "gears/rear-cable-clamp": "grease",
    "gears/jockey-wheel-bolt": "medium threadlocker",
    "rim-brakes/shoe-bolt": "light grease",
    "rim-brakes/cable-clamp": "light grease",
    "wheels/front-through-axle": "grease",
    "wheels/rear-through-axle": "grease",
    "contact-points/bottle-cage-bolt": "anti-seize",
    "contact-points/grip-clamp": "dry",
}
ORDERS = {
    "disc-brakes/rotor-bolt": "in a star",
    "chain-drive/chainring-bolt-steel": "in a star",
    "cranks-and-pedals/crank-pinch-bolts": "in turns",
    "headset/stem-clamp": "in turns",
    "contact-points/stem-bar-bolt": "in turns",
}


@pytest.fixture(scope="module")
def library():
    return load_library()


@pytest.mark.parametrize("name", PREPARATIONS)
def test_threads_are_prepared_as_common_practice_has_it(library, name):
    assert PREPARATIONS[name] in library.fasteners[name].preparation


@pytest.mark.parametrize("name", ORDERS)
def test_several_bolts_are_tightened_in_a_star_or_in_turns(library, name):
    assert ORDERS[name] in library.fasteners[name].order


def test_a_pressed_bearing_is_pressed_and_has_no_torque(library):
    for name in ("bottom-bracket/press-fit-bearing", "headset/pressed-cup", "wheels/hub-bearing"):
        fastener = library.fasteners[name]
        assert (fastener.thread, fastener.torque) == ("none", None)
        assert fastener.until


def test_the_preload_bolt_goes_by_play_and_a_carbon_steerer_by_its_mark(library):
    """Threadless preload: only until the play goes, 1 to 3 N·m, then the stem (common practice)."""
    cap = library.fasteners["headset/top-cap"]
    assert (cap.torque.from_, cap.torque.to) == (1, 3)
    assert "play is just gone" in cap.until


def test_the_bar_s_bolts_clamp_it_as_firmly_as_iso_4210_asks(library):
    """ISO 4210 (steering): a handlebar does not turn in its stem at 60 N·m.

    Four bolts press two half shells together: the bar turns at mu F d, with F the force of all bolts. Taken on the
    careful side: the least torque of the range, a bare bar of 31.8 mm and a friction of 0.10.
    """
    bolt = library.fasteners["contact-points/stem-bar-bolt"]
    thread = parse(bolt.thread)
    usual = bolts.friction("lubricated").usual
    force = bolt.count * bolts.force_at(thread, float(bolt.torque.from_), usual, usual)
    assert bolt.count == 4
    assert 0.10 * force * 31.8 / 1000 > 60


def test_a_plan_with_mineral_oil_and_glycol_fluid_is_refused_with_the_reason(library):
    """Their seals are different rubbers: cross-filling ruins them (49 CFR 571.116 knows no mineral oil)."""
    evidence = spread_facts(
        library, Evidence(("weak-brakes",), {}, {("weak-brakes", "which-brake"): "mineral"})
    )
    belief = BeliefModel.of(library, evidence.complaints).given(evidence)
    wishes = ["disc-brakes/bleed-mineral", "disc-brakes/bleed-glycol"]
    with pytest.raises(FluidsMustNotMeetError) as caught:
        work_out(library, belief, evidence, Workshop(), wishes=wishes, draws=100)
    said = str(caught.value)
    assert "must never meet, and this plan wants both." in said
    assert "The reservoir cover or the lever says" in said


@pytest.mark.parametrize("symptom", ["no-brakes", "weak-brakes", "lever-feel-changes"])
@pytest.mark.parametrize(("marked", "other"), [("mineral", "glycol"), ("glycol", "mineral")])
def test_a_brake_that_is_marked_for_one_fluid_is_never_bled_with_the_other(library, symptom, marked, other):
    evidence = spread_facts(library, Evidence((symptom,), {}, {(symptom, "which-brake"): marked}))
    belief = BeliefModel.of(library, evidence.complaints).given(evidence)
    plain = work_out(library, belief, evidence, Workshop(), draws=100)
    assert all(other not in (line.system or "") for line in plain.fluids)
    # Everything that is planned is left, so that nothing but the wish fills a brake.
    leave = {row.cause: "leave" for row in plain.verdicts}
    wish = [f"disc-brakes/bleed-{other}"]
    with pytest.raises(
        FluidsMustNotMeetError, match="'What kind of disc brake is it\\?' was answered: Hydraulic, marked"
    ):
        work_out(library, belief, evidence, Workshop(), wishes=wish, overrule=leave, draws=100)


def test_the_cranks_come_off_once_for_bearings_and_chainring(library):
    told = {
        "notchy-cranks": {"chain-off": "still", "rock": "none", "kind": "outboard", "bare-outboard": "rough"},
        "chain-skips": {"watch": "climbs-ring"},
    }
    answers = {(symptom, check): answer for symptom, each in told.items() for check, answer in each.items()}
    evidence = spread_facts(library, Evidence(tuple(told), {}, answers))
    belief = BeliefModel.of(library, evidence.complaints).given(evidence)
    work = work_out(library, belief, evidence, Workshop(), draws=100)
    order = [job.job for job in work.plan]
    off = next(job for job in work.plan if job.job.startswith("cranks-and-pedals/") and "off" in job.job)
    assert set(off.serves) == {"bottom-bracket/new-external-cups", "chain-drive/new-chainring"}
    assert len(order) == len(set(order))
    assert order.index(off.job) < order.index("chain-drive/chainring-off")
    on = next(job for job in work.plan if job.title.startswith("Fit the cranks"))
    assert order.index(on.job) > max(order.index("chain-drive/chainring-on"), order.index(off.job))
