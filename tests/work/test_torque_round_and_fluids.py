"""The torque round and the fluids: what rules, which way it turns, what must never meet."""

from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.model.family import Hand, System, Torque
from diagtree.model.workshop import Workshop, Wrench
from diagtree.units import convert
from diagtree.work.fluids import FluidsMustNotMeetError, fluid_lines
from diagtree.work.plan import plan
from diagtree.work.prices import Prices
from diagtree.work.torque_round import line, pick_wrench, torque_round, with_adapter
from diagtree.work.work import work_out


def wrench(title, low, high, **more):
    return Wrench(title=title, from_=Decimal(low), to=Decimal(high), **more)


SMALL, LARGE = wrench("small", 2, 24), wrench("large", 20, 100, left=True, length=Decimal(400))


def test_a_line_says_all_that_the_hand_needs(kettle):
    row = line(kettle, Workshop(wrenches=(LARGE,)), "kettle/element-nut", touched_by=["Swap the element"])
    assert (row.size, row.hand, row.turns) == ("M12x1", Hand.LEFT, "anticlockwise (left-hand thread)")
    assert (row.least, row.target, row.most) == (4, 5, 6)
    assert row.imperial == "35-53 lbf·in"
    assert float(convert(row.least, "N·m", "lbf·in")) == pytest.approx(35.4, abs=0.01)
    assert (row.preparation, row.basis) == ("dry and clean", "invented")
    assert row.warnings == ("None of our wrenches reaches 5 N·m to the left (they read 20-100 N·m).",)


def test_the_workshop_s_own_value_comes_before_the_catalogue_s(kettle):
    shop = Workshop.model_validate(
        {"torques": {"kettle/base-screw": {"from": "0.8", "to": "1.0", "basis": "mark on our kettles"}}}
    )
    row = line(kettle, shop, "kettle/base-screw")
    assert (row.least, row.most, row.basis) == (
        Decimal("0.8"), Decimal("1.0"), "workshop's own value; mark on our kettles",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("wrenches", "low", "high", "hand", "title", "warning"),
    [
        ((SMALL, LARGE), 4, 6, Hand.RIGHT, "small", ""),
        ((SMALL, LARGE), 35, 45, Hand.RIGHT, "large", ""),
        ((SMALL, LARGE), 21, 23, Hand.RIGHT, "small", ""),
        ((SMALL,), 35, 45, Hand.RIGHT, None, "None of our wrenches reaches 40 N·m (they read 2-24 N·m)."),
        ((SMALL,), 4, 6, Hand.LEFT, None, "None of our wrenches measures to the left: borrow one, or use a beam wrench."),
        ((SMALL, LARGE), 35, 45, Hand.LEFT, "large", ""),
        ((SMALL,), 20, 26, Hand.RIGHT, "small", "'small' reads 2-24 N·m: not all of 20-26 N·m. Aim at 23 N·m."),
        ((), 4, 6, Hand.RIGHT, None, ""),
    ],
)  # fmt: skip
def test_the_wrench_for_a_torque_or_what_stands_in_the_way(wrenches, low, high, hand, title, warning):
    torque = Torque(from_=Decimal(low), to=Decimal(high))
    chosen, warnings = pick_wrench(wrenches, torque, hand)
    assert (chosen.title if chosen else None) == title
    assert warnings == ((warning,) if warning else ())


def test_an_adapter_changes_the_setting_and_wants_the_wrench_s_length():
    """Twelve to three: 20 becomes 16 (aircraft practice)."""
    assert with_adapter(wrench("long", 5, 50, length=Decimal(12)), Decimal(20), 3) == pytest.approx(16)
    with pytest.raises(ExpectedError, match="The length of 'small' is not known"):
        with_adapter(SMALL, Decimal(20), 50)


def test_every_touched_fastener_comes_first_and_every_safety_fastener_once(kettle):
    jobs = plan(Prices(kettle, Workshop()), ["kettle/new-element"])
    rows = torque_round(kettle, Workshop(), jobs, {"kettle"})
    assert [(row.fastener, row.touched_by) for row in rows] == [
        ("kettle/base-screw", ("Take the base off", "Put the base back")),
        ("kettle/element-nut", ("Swap the element",)),
    ]
    (unsure,) = torque_round(kettle, Workshop(), (), set())
    assert (unsure.fastener, unsure.safety, unsure.if_fitted) == ("kettle/base-screw", True, True)
    (sure,) = torque_round(kettle, Workshop(), (), set(), also=["kettle/base-screw"])
    assert not sure.if_fitted


def bolted(mill, **more):
    return mill(fasteners={"bolt": {"title": "Bolt", "preparation": "grease", **more}})


def test_a_calculated_ceiling_stands_beside_the_value_as_an_estimate(mill):
    library = bolted(
        mill, **{"thread": "M5x0.8", "torque": {"from": "4", "to": "6"}, "property-class": "8.8",
                 "into": "6061-T6", "engaged": "8"}
    )  # fmt: skip
    row = line(library, Workshop(), "mill/bolt")
    assert row.ceiling.torque == pytest.approx(5.84, abs=0.01)
    assert row.ceiling.rules == "the bolt's preload"
    assert row.warnings == (
        "By calculation the bolt's preload rules at 5.8 N·m (an estimate): go by the mark on the part.",
    )
    assert (row.least, row.most) == (4, 6)


@pytest.mark.parametrize(
    "more", [{}, {"property-class": "8.8", "thread": "fine, read the part"}, {"property-class": "titanium"}]
)
def test_there_is_no_estimate_where_too_little_is_known(mill, more):
    row = line(bolted(mill, **{"thread": "M5", "until": "it is snug", **more}), Workshop(), "mill/bolt")
    assert (row.ceiling, row.until, row.imperial) == (None, "it is snug", "")


def test_an_unknown_fastener_lists_near_ones(kettle):
    with pytest.raises(UnknownNameError, match=r"Did you mean 'kettle/base-screw'"):
        line(kettle, Workshop(), "kettle/base-screws")


def brake(mill, second="green", **fluids):
    """Two remedies that fill the same circuit; the second with what the test asks for."""
    return mill(
        remedies={"one": {"jobs": ["fill-one"]}, "two": {"jobs": ["fill-two"]}},
        jobs={
            "fill-one": {"fluids": [{"fluid": "amber", "into": "circuit", "amount": "20"}]},
            "fill-two": {"fluids": [{"fluid": second, "into": "circuit", "amount": "30"}]},
        },
        systems={"circuit": {"title": "The circuit", "takes": ["amber", "green"], "read": "Read the cap."}},
        fluids={
            "amber": {"title": "Amber fluid", "kind": "fluid", "boils-dry": "230", "price": "0.10"},
            "green": {"title": "Green oil", "kind": "oil", "never-with": ["amber"]},
            "purple": {"title": "Purple fluid", "kind": "fluid"},
            **fluids,
        },
    )


def lines_of(library, remedies):
    prices = Prices(library, Workshop())
    return fluid_lines(prices, remedies, plan(prices, remedies))


def test_a_fluid_s_line_adds_up_what_the_plan_uses(mill):
    (row,) = lines_of(brake(mill, second="amber"), ["mill/one", "mill/two"])
    assert (row.system_title, row.amount, row.unit) == ("The circuit", Decimal(50), "ml")
    assert (row.boils_dry, row.never_with, row.takes) == (230, ("Green oil",), ("Amber fluid", "Green oil"))
    assert row.read == "Read the cap."
    assert row.used_for == ("Fill one", "Fill two")


def test_two_fluids_that_must_never_meet_are_refused_with_the_reason(mill):
    with pytest.raises(FluidsMustNotMeetError) as caught:
        lines_of(brake(mill), ["mill/one", "mill/two"])
    assert str(caught.value) == (
        "Amber fluid ('Fill one') and Green oil ('Fill two') would meet in The circuit; they must never meet. "
        "Read the cap."
    )


def test_a_fluid_that_the_system_does_not_take_is_refused(mill):
    with pytest.raises(FluidsMustNotMeetError) as caught:
        lines_of(brake(mill, second="purple"), ["mill/two"])
    assert str(caught.value) == (
        "'Fill two' would put Purple fluid into The circuit, which takes only: Amber fluid, Green oil. Read the cap."
    )


def test_two_kinds_of_a_system_are_not_filled_in_one_plan(mill):
    kinds = {
        "circuit": {"title": "Amber circuit", "takes": ["amber"], "read": "Read the cap."},
        "green-circuit": {"title": "Green circuit", "takes": ["green"], "read": "Read the cap."},
    }
    library = brake(mill)
    jobs = dict(library.jobs)
    use = jobs["mill/fill-two"].fluids[0].model_copy(update={"into": "mill/green-circuit"})
    jobs["mill/fill-two"] = jobs["mill/fill-two"].model_copy(update={"fluids": (use,)})
    systems = {f"mill/{name}": System.model_validate({**one, "takes": [f"mill/{one['takes'][0]}"]})
               for name, one in kinds.items()}  # fmt: skip
    library = replace(library, jobs=jobs, systems=systems)
    assert [row.title for row in lines_of(library, ["mill/two"])] == ["Green oil"]
    with pytest.raises(FluidsMustNotMeetError) as caught:
        lines_of(library, ["mill/one", "mill/two"])
    assert str(caught.value) == (
        "Amber fluid ('Fill one') and Green oil ('Fill two') must never meet, and this plan wants both. "
        "Read the cap. If the machine has both kinds, make a sheet for each."
    )


def test_each_of_the_two_alone_is_let_in(mill):
    library = brake(mill)
    assert [row.title for row in lines_of(library, ["mill/two"])] == ["Green oil"]


def test_the_whole_work_is_refused_when_two_fluids_would_meet(mill, believed):
    library = mill(
        {"soft": {"air": "1"}, "weak": {"old": "1"}},
        causes={"air": {"remedies": ["one"]}, "old": {"remedies": ["two"]}},
        **{
            kind: {
                name.partition("/")[2]: entry.model_dump(by_alias=True, exclude_none=True, mode="json")
                for name, entry in getattr(brake(mill), kind).items()
            }
            for kind in ("remedies", "jobs", "systems", "fluids")
        },
    )
    belief, evidence = believed(library, ["soft", "weak"])
    with pytest.raises(FluidsMustNotMeetError, match="they must never meet"):
        work_out(library, belief, evidence, Workshop(), draws=100)


def test_the_compound_of_a_thread_is_listed_with_what_it_is_for(mill):
    library = mill(
        remedies={"a": {"jobs": ["fit"]}},
        jobs={"fit": {"fasteners": ["bolt"]}},
        fasteners={"bolt": {"title": "Bolt", "thread": "M5", "until": "snug", "preparation": "grease",
                            "compound": "grease"}},
        fluids={"grease": {"title": "Assembly grease", "kind": "grease", "never-on": ["rotors"]}},
    )  # fmt: skip
    (row,) = lines_of(library, ["mill/a"])
    assert (row.title, row.system, row.amount, row.used_for) == ("Assembly grease", None, None, ("Bolt",))
