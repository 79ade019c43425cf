"""The estimate: against exact sums, and to the cent. How well it keeps its promise: test_calibration.py."""

import itertools
from decimal import Decimal

import numpy as np
import pytest

from diagtree.model.workshop import Brief, Workshop
from diagtree.work.estimate import bill, in_steps
from diagtree.work.work import work_out

EXACT = Workshop(
    rate=Decimal(60), tax=Decimal(0), consumables=Decimal(0), come_back=Decimal(30), rounding=Decimal("0.01")
)


def small_case(mill):
    """One complaint, two causes, and a crack that the planned job would meet; minutes that never vary.

    Worked out by hand: planned is the cleaning, 20 minutes. If it does not hold (1 in 5), a new link follows:
    10 minutes and 25. If it was the wear after all (3 in 10), a new spring: 15 minutes and 8. If the axle is
    cracked (1 in 4), a new axle: 12 minutes and 40.
    """
    return mill(
        {"stiff": {"rusty": "70", "worn": "30"}},
        parts={"link": {"price": "25.00"}, "spring": {"price": "8.00"}, "axle": {"price": "40.00"}},
        causes={
            "rusty": {"part": "link", "out-of-100": "10", "remedies": ["clean-it", "new-link"]},
            "worn": {"part": "spring", "out-of-100": "10", "remedies": ["new-spring"]},
            "cracked": {"part": "axle", "out-of-100": "25", "risk": "unsafe", "remedies": ["new-axle"]},
        },
        remedies={
            "clean-it": {"verdict": "clean", "holds": "80", "jobs": ["scrub"]},
            "new-link": {"verdict": "replace", "holds": "98", "jobs": ["swap-link"], "parts": ["link"]},
            "new-spring": {"verdict": "replace", "holds": "98", "jobs": ["swap-spring"], "parts": ["spring"]},
            "new-axle": {"verdict": "replace", "holds": "98", "jobs": ["swap-axle"], "parts": ["axle"]},
        },
        jobs={
            "scrub": {"minutes": ["20", "20", "20"], "uncovers": ["axle"]},
            "swap-link": {"minutes": ["10", "10", "10"]},
            "swap-spring": {"minutes": ["15", "15", "15"]},
            "swap-axle": {"minutes": ["12", "12", "12"]},
        },
    )


def exact_prices(besides):
    """Each price of the small case with its chance, by enumeration."""
    chances: dict[int, float] = {}
    for (extra, p_cause), (crack, p_crack) in itertools.product(
        [(35, 0.7 * 0.2), (0, 0.7 * 0.8), (23, 0.3)], [(52, besides), (0, 1 - besides)]
    ):
        chances[20 + extra + crack] = chances.get(20 + extra + crack, 0.0) + p_cause * p_crack
    return chances


def least_at(chances, level):
    total = 0.0
    for price in sorted(chances):
        total += chances[price]
        if total >= level - 1e-12:
            return price
    raise AssertionError("the chances do not add up to 1")


def test_prices_are_those_of_an_exact_sum(mill, believed):
    library = small_case(mill)
    belief, evidence = believed(library, ["stiff"])
    chances = exact_prices(0.25)
    assert belief.behind("stiff") == pytest.approx({"mill/rusty": 0.7, "mill/worn": 0.3})
    assert sum(chances.values()) == pytest.approx(1)
    for confidence in (50, 60, 70, 80, 85, 92, 98):
        shop = EXACT.model_copy(update={"confidence": Decimal(confidence)})
        estimate = work_out(library, belief, evidence, shop).estimate
        assert estimate.planned.total == 20
        # No jump of the distribution is nearer to these levels than a hundredth: 20,000 draws cannot miss it.
        assert estimate.price == least_at(chances, confidence / 100), confidence


def test_what_may_come_is_met_as_often_as_it_should_be(mill, believed):
    library = small_case(mill)
    belief, evidence = believed(library, ["stiff"])
    work = work_out(library, belief, evidence, EXACT, brief=Brief.FULL)
    shown = {item.cause: item for item in work.estimate.items}
    for cause, chance in (("mill/rusty", 0.14), ("mill/worn", 0.3), ("mill/cracked", 0.25)):
        # Four standard errors of 20,000 draws.
        assert shown[cause].chance == pytest.approx(chance, abs=4 * (chance * (1 - chance) / 20_000) ** 0.5)
    assert shown["mill/cracked"].what == "Axle: Cracked"
    assert shown["mill/rusty"].what == "'Clean it' does not hold"
    # Shares go by what each costs on average: 0.14 x 35, 0.3 x 23, 0.25 x 52.
    whole = 0.14 * 35 + 0.3 * 23 + 0.25 * 52
    for cause, cost in (("mill/rusty", 0.14 * 35), ("mill/worn", 0.3 * 23), ("mill/cracked", 0.25 * 52)):
        assert float(shown[cause].amount / work.estimate.allowance) == pytest.approx(cost / whole, abs=0.02)


def test_the_items_add_up_to_the_allowance_and_this_to_the_price(kettle, believed):
    belief, evidence = believed(kettle, ["no-heat", "slow-boil", "leaks"])
    for seed in range(5):
        estimate = work_out(kettle, belief, evidence, Workshop(), seed=seed, draws=2000).estimate
        assert sum(item.amount for item in estimate.items) == estimate.allowance
        assert estimate.planned.total + estimate.allowance == estimate.price
        assert estimate.price % Decimal("0.05") == 0
        assert list(estimate.prices_at.values()) == sorted(estimate.prices_at.values())


def test_the_same_seed_gives_the_same_work_to_the_last_byte(kettle, believed):
    belief, evidence = believed(kettle, ["no-heat", "leaks"])
    again, _ = believed(kettle, ["no-heat", "leaks"])
    assert repr(work_out(kettle, belief, evidence, Workshop())) == repr(
        work_out(kettle, again, evidence, Workshop())
    )


@pytest.mark.parametrize(
    ("shop", "lines"),
    [
        ({}, ("41.00", "9.98", "2.00", "10.60", "0.02", "63.60")),
        ({"rounding": "1"}, ("41.00", "9.98", "2.00", "10.60", "0.42", "64")),
        ({"rounding": "5"}, ("41.00", "9.98", "2.00", "10.60", "1.42", "65")),
        ({"tax": "0"}, ("41.00", "9.98", "2.00", "0.00", "0.02", "53.00")),
        ({"rate": "37.77"}, ("25.81", "9.98", "2.00", "7.56", "0.00", "45.35")),
    ],
)
def test_a_bill_adds_up_exactly_and_rounds_as_the_workshop_sets(shop, lines):
    made = bill(Workshop.model_validate(shop), Decimal(41), Decimal("9.975"), Decimal(2))
    labour, parts, consumables, tax, rounding, total = map(Decimal, lines)
    assert (made.labour, made.parts, made.consumables, made.tax, made.rounding, made.total) == (
        labour, parts, consumables, tax, rounding, total,
    )  # fmt: skip
    assert made.net + made.tax + made.rounding == made.total


def test_prices_with_tax_are_taken_out_of_it_before_it_is_put_on(kettle, believed):
    """By hand: an element at 9.50 with 20 % tax in it is 7.92 before tax; at 9.50 before tax it stays."""
    belief, evidence = believed(kettle, ["no-heat"], found={"kettle/element-open": True})
    plain = work_out(kettle, belief, evidence, Workshop(), draws=200)
    taxed = work_out(kettle, belief, evidence, Workshop(prices_include_tax=True), draws=200)
    assert (plain.estimate.planned.parts, taxed.estimate.planned.parts) == (Decimal("9.50"), Decimal("7.92"))
    assert taxed.parts[0].each == Decimal("7.92")


def test_the_workshop_s_own_price_comes_first_and_a_missing_one_is_told(kettle, believed):
    belief, evidence = believed(kettle, ["no-heat"], found={"kettle/element-open": True})
    shop = Workshop(part_prices={"kettle/element": Decimal("12.00")})
    (row,) = work_out(kettle, belief, evidence, shop, draws=200).parts
    assert (row.each, row.basis) == (Decimal("12.00"), "workshop; invented")
    nameless = kettle.parts["kettle/element"].model_copy(update={"price": None})
    from dataclasses import replace

    library = replace(kettle, parts={**kettle.parts, "kettle/element": nameless})
    work = work_out(library, belief, evidence, Workshop(), draws=200)
    assert (work.parts[0].total, work.estimate.unpriced) == (None, ("Heating element",))
    assert work.estimate.planned.parts == 0


def test_a_brief_that_leaves_something_out_makes_no_allowance_for_it(mill, believed):
    library = small_case(mill)
    belief, evidence = believed(library, ["stiff"])
    dull = library.causes["mill/cracked"].model_copy(update={"risk": library.causes["mill/rusty"].risk})
    from dataclasses import replace

    library = replace(library, causes={**library.causes, "mill/cracked": dull})
    full, service = (
        work_out(library, belief, evidence, EXACT, brief=brief).estimate
        for brief in (Brief.FULL, Brief.SERVICE)
    )
    assert any(item.cause == "mill/cracked" for item in full.items)
    assert not any(item.cause == "mill/cracked" for item in service.items)


def test_half_a_step_is_rounded_up_as_on_the_bill():
    class Half:
        minutes = np.array([10.0, 20.0])
        goods = np.array([0.025, 0.0])

    shop = Workshop(tax=Decimal(0), consumables=Decimal(0))
    assert list(in_steps(shop, Half())) == [201, 400]
    assert bill(shop, Decimal(10), Decimal("0.025"), Decimal(0)).total == Decimal("10.05")


def test_a_fluid_without_a_price_is_named_but_a_smear_is_not(mill, believed):
    library = mill(
        {"stiff": {"dry": "1"}},
        causes={"dry": {"remedies": ["oil-it"]}},
        remedies={"oil-it": {"jobs": ["oil"], "fluids": [{"fluid": "wax", "amount": "3"}]}},
        jobs={"oil": {"fluids": [{"fluid": "oil", "amount": "5"}, {"fluid": "grease"}, {"fluid": "soap", "amount": "2"}]}},
        fluids={
            "wax": {"title": "Wax", "kind": "oil"}, "oil": {"title": "Thin oil", "kind": "oil"},
            "grease": {"title": "Grease", "kind": "grease"}, "soap": {"title": "Soap", "kind": "cleaner", "price": "0.1"},
        },
    )  # fmt: skip
    belief, evidence = believed(library, ["stiff"])
    work = work_out(library, belief, evidence, EXACT, draws=100)
    assert work.estimate.unpriced == ("Wax", "Thin oil")
