"""Found on the way: what changes, and when to stop and ask."""

from decimal import Decimal

from diagtree.model.workshop import Workshop
from diagtree.work.changes import Ceiling, compare
from diagtree.work.work import work_out

SHOP = Workshop(tax=Decimal(0))


def before_and_after(kettle, believed, found):
    answers = {("slow-boil", "look-inside"): "white"}
    first, told = believed(kettle, ["slow-boil"], answers=answers)
    second, also = believed(kettle, ["slow-boil"], answers=answers, found=found)
    return work_out(kettle, first, told, SHOP), work_out(kettle, second, also, SHOP)


def test_a_finding_adds_its_jobs_and_its_price(kettle, believed):
    before, after = before_and_after(kettle, believed, {"kettle/flex-damaged": True})
    change = compare(before, after, agreed=Decimal(100))
    assert [job.title for job in change.new_jobs] == [
        "Take the base off",
        "Swap the flex",
        "Put the base back",
    ]
    assert [row.remedy for row in change.new_verdicts] == ["kettle/new-flex"]
    assert change.planned[1] - change.planned[0] > 15
    assert (change.ceiling, change.stop_and_ask) == (Ceiling.WITHIN, False)
    assert (
        change.says[0]
        == "New: Flex and plug: replace. 'Fit a new flex' is the one remedy; it holds 99 times in 100."
    )
    assert change.says[-1] == "Go on: it stays within the agreed EUR 100."


def test_over_the_agreed_ceiling_it_is_stop_and_ask(kettle, believed):
    before, after = before_and_after(kettle, believed, {"kettle/flex-damaged": True})
    change = compare(before, after)
    assert change.agreed == before.estimate.price
    assert change.stop_and_ask
    over = after.estimate.planned.total - before.estimate.price
    assert change.says[-1] == (
        f"Stop and ask: the plan alone is EUR {over} over the estimate of EUR {before.estimate.price}."
    )


def test_the_customer_is_told_when_the_allowance_may_run_out(kettle, believed):
    before, after = before_and_after(kettle, believed, {"kettle/flex-damaged": True})
    between = (after.estimate.planned.total + after.estimate.price) / 2
    change = compare(before, after, agreed=between)
    assert (change.ceiling, change.stop_and_ask) == (Ceiling.MAY_PASS, False)
    assert change.says[-1] == f"Tell the customer now: the agreed EUR {between} may not be enough."


def test_the_same_part_gets_another_remedy(kettle, believed):
    before, after = before_and_after(kettle, believed, {"kettle/scale": True, "kettle/element-open": True})
    change = compare(before, after)
    assert [(was.remedy, now.remedy) for was, now in change.changed_verdicts] == [
        ("kettle/descale", "kettle/new-element")
    ]
    assert [job.title for job in change.dropped_jobs] == ["Soak with vinegar"]
    assert change.says[0].startswith("Heating element: 'Fit a new element' instead of 'Descale'.")


def test_nothing_found_changes_nothing(kettle, believed):
    before, _ = before_and_after(kettle, believed, {})
    change = compare(before, before)
    assert (change.new_jobs, change.dropped_jobs, change.new_verdicts) == ((), (), ())
    assert change.says == (
        "The plan stays as it is.",
        f"Go on: it stays within the estimate of EUR {before.estimate.price}.",
    )
