"""What remedies cost; what is said beside the plan."""

from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.errors import UnknownNameError
from diagtree.model.family import Use
from diagtree.model.workshop import Brief, Workshop
from diagtree.reasoning.evidence import Evidence
from diagtree.work.bill import AllowanceItem
from diagtree.work.fluids import fluid_lines
from diagtree.work.plan import plan
from diagtree.work.prices import Prices, next_stronger, repair_cost, repair_costs
from diagtree.work.result import AdviceKind
from diagtree.work.verdict import judge
from diagtree.work.work import work_out

SHOP = Workshop(rate=Decimal(60), tax=Decimal(0), come_back=Decimal(30), consumables=Decimal(0))


def test_a_remedy_s_price_holds_its_opening_and_closing_work_and_its_parts(kettle):
    """By hand: base off and on 13/6 minutes each, swap 52/6, at 1.00 a minute; element 9.50."""
    prices = Prices(kettle, SHOP)
    assert prices.jobs_of(["kettle/new-element"]) == (
        "kettle/swap-element",
        "kettle/base-off",
        "kettle/base-on",
    )
    assert float(prices.remedy_price("kettle/new-element")) == pytest.approx((13 + 13 + 52) / 6 + 9.5)


def test_repair_costs_are_those_of_the_remedy_that_wins(kettle):
    """By hand, descaling: 65/6 minutes + 0.15 (30 + 22.50); a new element 22.50 + 0.02 (30 + 22.50)."""
    assert float(repair_cost(kettle, "kettle/scale", SHOP)) == pytest.approx(65 / 6 + 0.15 * 52.5)
    assert float(repair_cost(kettle, "kettle/element-open", SHOP)) == pytest.approx(22.5 + 0.02 * 52.5)
    assert repair_costs(kettle, SHOP, ["kettle/scale"]) == {
        "kettle/scale": repair_cost(kettle, "kettle/scale", SHOP)
    }
    with pytest.raises(UnknownNameError, match="There is no cause 'kettle/scales'"):
        repair_cost(kettle, "kettle/scales", SHOP)


def test_after_the_strongest_remedy_comes_the_same_once_more(kettle):
    scale = kettle.causes["kettle/scale"]
    assert next_stronger(scale, "kettle/descale") == "kettle/new-element"
    assert next_stronger(scale, "kettle/new-element") == "kettle/new-element"
    assert next_stronger(scale, "kettle/new-switch") == "kettle/new-element"


@pytest.mark.parametrize(
    ("use", "cost"),
    [
        ({"amount": "30"}, "3.00"),
        ({"amount": "0.03", "unit": "l"}, "3.00"),
        ({"amount": "30", "unit": "drops"}, None),
        ({}, None),
    ],
)
def test_a_fluid_costs_what_its_amount_does_in_its_own_unit(mill, use, cost):
    library = mill(fluids={"oil": {"title": "Oil", "kind": "oil", "price": "0.10"}})
    found = Prices(library, SHOP).use(Use.model_validate({"fluid": "mill/oil", **use}))
    assert found == (None if cost is None else Decimal(cost))


def test_amounts_in_units_that_do_not_mix_are_not_added_up(mill):
    library = mill(
        remedies={"a": {"jobs": ["one"], "fluids": [{"fluid": "oil", "amount": "2", "unit": "drops"}]},
                  "b": {"jobs": ["two"]}},
        jobs={"one": {"fluids": [{"fluid": "oil", "amount": "5"}]},
              "two": {"fluids": [{"fluid": "oil", "amount": "1", "unit": "cl"}]}},
        fluids={"oil": {"title": "Oil", "kind": "oil"}},
    )  # fmt: skip
    prices = Prices(library, SHOP)
    (row,) = fluid_lines(prices, ["mill/a"], plan(prices, ["mill/a"]))
    assert row.amount is None
    (row,) = fluid_lines(prices, ["mill/b"], plan(prices, ["mill/b"]))
    assert (row.amount, row.unit) == (Decimal(1), "cl")


@pytest.mark.parametrize(
    ("use", "says"),
    [
        ({"fluid": "oyl"}, "There is no fluid 'mill/oyl'. Did you mean 'mill/oil'?"),
        ({"fluid": "oil", "into": "box"}, "There is no system 'mill/box'. No system is known here at all."),
    ],
)
def test_a_fluid_or_a_system_that_nobody_knows_is_told(mill, use, says):
    library = mill(
        remedies={"a": {"jobs": ["one"]}},
        jobs={"one": {"fluids": [use]}},
        fluids={"oil": {"title": "Oil", "kind": "oil"}},
    )
    prices = Prices(library, SHOP)
    with pytest.raises(UnknownNameError) as caught:
        fluid_lines(prices, ["mill/a"], plan(prices, ["mill/a"]))
    assert str(caught.value) == says


def test_what_the_picture_makes_likely_is_worth_a_look(kettle, believed):
    belief, evidence = believed(
        kettle, ["leaks"], looks={"lime": "limed"}, answers={("leaks", "where"): "top"}
    )
    work = work_out(kettle, belief, evidence, SHOP, draws=200)
    (line,) = [line for line in work.advice if line.kind is AdviceKind.LOOK]
    # Scale is likelier, a burnt-out element does more harm: one line for the part.
    assert line.cause == "kettle/element-open"
    assert line.text == (
        f"Heating element: Element burnt out: {line.odds}, of all kettles 1 in 12; hard water. "
        "Nobody asked: look at it."
    )
    assert line.chance == pytest.approx(belief.present["kettle/element-open"])


def test_of_a_family_that_may_not_be_there_it_is_said_where_fitted(kettle, believed):
    belief, evidence = believed(kettle, [])
    belief.present["kettle/flex-damaged"] = 0.5
    work = work_out(replace(kettle, final_checks={}), belief, evidence, SHOP, draws=200)
    texts = [line.text for line in work.advice if line.kind is AdviceKind.SAFETY]
    assert texts == [
        "Flex damaged, if the kettle has one (5 in 10): rule it out before the kettle is handed over."
    ]
    told = work_out(replace(kettle, final_checks={}), belief, evidence, SHOP, draws=200, families=["kettle"])
    checked_on_each = work_out(kettle, belief, evidence, SHOP, draws=200)
    for known in (told, checked_on_each):
        assert known.advice[0].text == "Flex damaged (5 in 10): rule it out before the kettle is handed over."


def test_what_was_seen_to_be_sound_is_not_spoken_of(kettle, believed):
    belief, evidence = believed(
        kettle, ["leaks"], found={"kettle/flex-damaged": False, "kettle/scale": False}
    )
    work = work_out(kettle, belief, evidence, SHOP, draws=200)
    assert not {line.cause for line in work.advice} & {"kettle/flex-damaged", "kettle/scale"}


def test_what_was_seen_and_is_left_by_the_mechanic_stays_on_the_sheet(kettle, believed):
    belief, evidence = believed(kettle, [], found={"kettle/flex-damaged": True, "kettle/lid-loose": True})
    leave = {"kettle/flex": "leave", "kettle/lid-loose": "leave"}
    work = work_out(kettle, belief, evidence, SHOP, overrule=leave, brief=Brief.FULL, draws=200)
    assert work.plan == ()
    assert [(line.kind, line.text) for line in work.advice[:2]] == [
        (AdviceKind.SAFETY, "Flex damaged: seen, and left as it is by the mechanic."),
        (AdviceKind.OFFER, "Lid does not close: seen, and left as it is by the mechanic."),
    ]
    assert work.advice[1].price == Decimal("2.17")


def test_what_is_only_allowed_for_can_be_overruled_too(mill, thought):
    library = mill(
        {"stiff": {"dirty": "80", "worn": "20"}},
        parts={"link": {}, "pin": {}},
        causes={
            "dirty": {"part": "link", "remedies": ["clean-it"]},
            "worn": {"part": "pin", "remedies": ["file-it", "new-pin"]},
        },
        remedies={"clean-it": {"jobs": ["a"]}, "file-it": {"jobs": ["a"]}, "new-pin": {"jobs": ["b"]}},
        jobs={"a": None, "b": {"minutes": ["40", "40", "40"]}},
    )
    belief = thought(library, {"stiff": {"mill/dirty": 0.8, "mill/worn": 0.2}})

    def rows(**overrule):
        judged = judge(Prices(library, SHOP), belief, Evidence(("stiff",)), Brief.FULL, overrule=overrule)
        return [(row.remedy, row.planned, row.overruled) for row in judged.verdicts]

    assert rows() == [("mill/clean-it", True, False), ("mill/file-it", False, False)]
    assert rows(**{"mill/pin": "mill/new-pin"})[1] == ("mill/new-pin", False, True)
    assert rows(**{"mill/pin": "leave"}) == [("mill/clean-it", True, False)]


def test_an_item_of_the_allowance_reads_as_it_is_printed():
    item = AllowanceItem("bearings worn", "mill/worn", 1 / 6, "1 in 6", Decimal("4.20"))
    assert str(item) == "bearings worn, 1 in 6: 4.20"
    assert str(AllowanceItem("work that takes longer", None, None, "", Decimal("1.00"))) == (
        "work that takes longer: 1.00"
    )


def shared_parts(mill):
    return mill(
        {"loud": {"oiled": "100"}, "weak": {"worn": "100"}, "slow": {"bent": "100"}},
        parts={"pad": {"price": "10.00"}, "disc": {"price": "20.00"}, "arm": {}},
        causes={
            "oiled": {"part": "pad", "remedies": ["pads-and-clean"]},
            "worn": {"part": "disc", "remedies": ["disc-and-pads"]},
            "bent": {"part": "disc", "remedies": ["true-it"]},
        },
        remedies={
            "pads-and-clean": {"verdict": "replace", "holds": "100", "jobs": ["fit-pads"], "parts": ["pad"],
                               "fluids": [{"fluid": "cleaner", "amount": "20"}]},
            "disc-and-pads": {"verdict": "replace", "holds": "100", "jobs": ["fit-pads", "fit-disc"],
                              "parts": ["disc", "pad"], "fluids": [{"fluid": "cleaner", "amount": "30"}]},
            "true-it": {"verdict": "adjust", "jobs": ["bend"]},
        },
        jobs={"fit-pads": None, "fit-disc": None, "bend": None},
        fluids={"cleaner": {"title": "Cleaner", "kind": "cleaner", "price": "0.10"}},
    )  # fmt: skip


def test_a_part_that_two_remedies_fit_is_fitted_and_paid_for_once(mill, believed):
    """By hand: pads and disc 30, two jobs of 10 minutes, 30 ml of cleaner at 0.10."""
    library = shared_parts(mill)
    belief, evidence = believed(library, ["loud", "weak"])
    work = work_out(library, belief, evidence, SHOP, draws=200)
    assert {line.part: line.amount for line in work.parts} == {"mill/pad": 1, "mill/disc": 1}
    (cleaner,) = work.fluids
    assert (cleaner.amount, cleaner.used_for) == (Decimal(30), ("Disc and pads",))
    assert work.estimate.planned.total == work.estimate.price == Decimal("53.00")


def test_a_new_part_cures_whatever_the_old_one_had(mill, believed):
    library = shared_parts(mill)
    belief, evidence = believed(library, ["weak", "slow"])
    work = work_out(library, belief, evidence, SHOP, draws=200)
    (row,) = work.verdicts
    assert (row.remedy, set(row.complaints)) == ("mill/disc-and-pads", {"weak", "slow"})
    assert "mill/bend" not in {job.job for job in work.plan}


def test_an_extra_does_not_pay_for_a_part_that_the_plan_fits(mill, believed):
    """By hand: pads are planned (10 + 10 minutes + 2.00); the disc comes on top with 20 + 10 minutes + 1.00."""
    library = shared_parts(mill)
    both = {"loud": {"oiled": "60", "worn": "40"}}
    from diagtree.library.library import join

    other = join(families=[*library.families.values()], trees=[*mill(both).trees.values()])
    belief, evidence = believed(other, ["loud"])
    for name in ("oiled", "worn"):
        assert belief.behind("loud")[f"mill/{name}"] == pytest.approx(0.6 if name == "oiled" else 0.4)
    work = work_out(other, belief, evidence, SHOP, draws=20_000)
    assert work.estimate.planned.total == Decimal("22.00")
    assert (work.estimate.prices_at[50], work.estimate.prices_at[70]) == (Decimal("22.00"), Decimal("53.00"))
