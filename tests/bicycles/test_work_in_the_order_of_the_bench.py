"""Facts of the trade that hold across families: what is cleaned before it is fitted, closed after it is opened,
tried after it is mended, and never greased, heated or opened. Common practice throughout."""

from __future__ import annotations

from collections import defaultdict

import pytest

from diagtree.library.loading import load_library
from diagtree.model.workshop import Workshop
from diagtree.work.plan import plan
from diagtree.work.prices import Prices

# The remedy, and jobs of its plan in the order of the bench.
ORDERS = [
    ("disc-brakes/new-pads", ["disc-brakes/clean-rotor", "disc-brakes/new-pads", "disc-brakes/pads-in"]),
    ("disc-brakes/sand-pads", ["disc-brakes/clean-rotor", "disc-brakes/sand-pads", "disc-brakes/pads-in"]),
    (
        "disc-brakes/new-caliper-glycol",
        [
            "disc-brakes/pads-out",
            "disc-brakes/new-caliper",
            "disc-brakes/bleed-glycol",
            "disc-brakes/pads-in",
        ],
    ),
    # The lever is not squeezed while the reservoir is open, and putting the wheel back squeezes it.
    ("disc-brakes/let-fluid-out", ["disc-brakes/close-reservoir", "whole-bike/wheel-in"]),
    ("rim-brakes/new-pads", ["rim-brakes/clean-rims", "rim-brakes/swap-pads", "rim-brakes/set-pads"]),
    ("headset/new-bearings", ["headset/clean-grease-bearings", "headset/swap-bearings", "headset/fork-back"]),
    ("headset/new-balls", ["headset/clean-grease-bearings", "headset/swap-balls", "headset/fork-back"]),
    # A chain is cut to length round the sprockets that it will run on.
    ("chain-drive/new-chain-and-sprockets", ["chain-drive/cassette-on", "chain-drive/swap-chain"]),
    # Limits and tension are set with the chain on, and after the hanger is straight.
    (
        "gears/new-rear-derailleur",
        ["chain-drive/chain-on", "gears/adjust-rear-limits", "gears/adjust-tension"],
    ),
    ("gears/straighten-hanger", ["gears/align-hanger", "gears/derailleur-on", "gears/adjust-rear-limits"]),
    ("gears/oil-hub", ["whole-bike/rear-wheel-in", "gears/adjust-hub-cable"]),
    # What was freed goes back and is tightened.
    ("contact-points/free-post", ["contact-points/soak-and-turn", "contact-points/post-in"]),
    ("contact-points/cut-post-out", ["contact-points/saw-out-post", "contact-points/post-in"]),
    ("cranks-and-pedals/soak-pedal", ["cranks-and-pedals/soak-pedal-out", "cranks-and-pedals/pedals-on"]),
    ("cranks-and-pedals/warm-pedal", ["cranks-and-pedals/warm-pedal-out", "cranks-and-pedals/pedals-on"]),
]


@pytest.fixture(scope="module")
def library():
    return load_library()


@pytest.mark.parametrize(("remedy", "order"), ORDERS)
def test_jobs_come_in_the_order_of_the_bench(library, remedy, order):
    planned = [job.job for job in plan(Prices(library, Workshop()), [remedy], [])]
    assert [name for name in planned if name in order] == order


def test_each_remedy_ends_with_something_that_is_seen_to_work(library):
    assert [name for name, remedy in library.remedies.items() if not remedy.verify] == []


def test_what_leaves_the_workshop_is_not_priced_as_done(library):
    """A damper, a shock or a frame that is sent out: the price of what is done there is not known here."""
    sent_out = {"whole-bike/refer-frame", "suspension/refer-suspension", "suspension/send-shock"}
    sent_out |= {"contact-points/refer-it", "bottom-bracket/refer-the-frame"}
    found = [name for name, remedy in library.remedies.items() if sent_out & set(remedy.jobs)]
    assert len(found) >= 10
    for name in found:
        assert library.remedies[name].stop_work, name
        assert not library.remedies[name].parts, name


@pytest.mark.parametrize(
    ("cause", "remedy"),
    [
        ("bottom-bracket/loose-balls-pitted", "bottom-bracket/repack-loose-balls"),
        ("suspension/bushings-worn", "suspension/service-lowers"),
        ("wheels/rim-bent", "wheels/true-wheel"),
        ("wheels/spokes-tired", "wheels/new-spoke"),
        ("wheels/chain-cut-spokes", "wheels/new-spoke"),
    ],
)
def test_a_cause_is_not_given_a_remedy_that_leaves_it_as_it_is(library, cause, remedy):
    """Fresh grease fills no pits, fresh oil no bushing; one spoke is not the set; a key does not unbend a rim."""
    assert remedy not in library.causes[cause].remedies


def test_a_fact_is_asked_alike_and_trusted_alike_in_every_tree(library):
    asked = defaultdict(set)
    for tree in library.trees.values():
        for check in tree.checks.values():
            if check.fact:
                asked[check.fact].add(check.trust)
    assert len(asked) >= 30
    assert {fact: trusts for fact, trusts in asked.items() if len(trusts) > 1} == {}


def test_heat_is_only_for_metal_and_only_without_oil(library):
    warm = library.remedies["cranks-and-pedals/warm-pedal"]
    said = " ".join([*warm.caution, *library.jobs["cranks-and-pedals/warm-pedal-out"].caution])
    for words in ("Metal cranks only", "oil off first", "No open flame", "Never on a carbon crank"):
        assert words in said
    carbon = library.causes["cranks-and-pedals/pedal-seized-in-carbon"]
    assert "cranks-and-pedals/warm-pedal" not in carbon.remedies
    assert "cranks-and-pedals/lever-pedal" not in carbon.remedies


def test_a_hand_says_which_way_a_pedal_comes_out_wherever_one_is_undone(library):
    """Right pedal right-hand, left pedal left-hand: both undo with the top of the spanner towards the back wheel."""
    for tree, check in (("pedal-stuck", "story"), ("pedal-stuck", "pull")):
        how = " ".join(library.trees[tree].checks[check].how)
        assert "ight pedal" in how
        assert "anticlockwise, left pedal" in how
    how = " ".join(library.jobs["cranks-and-pedals/pedals-off"].how)
    assert "Right pedal anticlockwise. Left pedal clockwise." in how


def test_air_is_out_before_anything_with_air_in_it_is_opened(library):
    for name in ("lowers-off", "reseal-shock-can", "strip-post", "swap-cartridge", "swap-valve-core"):
        job = library.jobs[f"suspension/{name}"]
        assert any("air" in text.lower() for text in (*job.how, *job.caution)), name
