"""What was ticked, agreed and tightened: no paper says more than was entered, and none contradicts it."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.model.workshop import OwnTorque, Workshop
from diagtree.sheets.facts import Agreed, Tightened
from diagtree.sheets.html import to_html
from diagtree.sheets.paper import Paper
from diagtree.work.torque_round import line

D = Decimal
WHEN = "2026-03-04T09:50:00+00:00"


def told(paper: Paper) -> str:
    """All words of a paper in reading order, whatever the columns: those of the HTML form."""
    body = to_html(paper).partition("<body>")[2]
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", body)).split())


def with_facts(sample, **changed):
    return replace(sample, facts=replace(sample.facts, **changed))


def with_plan(sample, *plan):
    return replace(sample, work=replace(sample.work, plan=plan))


def ticked(*jobs):
    return tuple((job, WHEN) for job in jobs)


def test_a_part_is_fitted_when_the_remedys_own_jobs_are_ticked_off(sample):
    off, swap, on = sample.work.plan
    assert "Parts fitted: 1 × Heating element." in told(sample.paper("handover"))
    only = with_facts(sample, jobs_done=ticked(swap.job))
    assert "Parts fitted: 1 × Heating element." in told(only.paper("handover"))
    others = with_facts(sample, jobs_done=ticked(off.job, on.job))
    assert "Parts fitted" not in told(others.paper("handover"))


def test_a_job_that_only_makes_ready_fits_no_part(sample):
    off, swap, on = sample.work.plan
    ready = replace(off, job="kettle/wipe-contacts", title="Wipe the contacts", stage=swap.stage)
    early = with_plan(with_facts(sample, jobs_done=ticked(ready.job)), ready, swap, on)
    text = told(early.paper("handover"))
    assert "Wipe the contacts (2026-03-04 09:50)" in text
    assert "Planned, and not ticked off: Swap the element" in text
    assert "Parts fitted" not in text


def test_a_remedy_of_two_jobs_has_fitted_its_parts_when_both_are_ticked_off(sample):
    off, swap, on = sample.work.plan
    second = replace(swap, number=3, job="kettle/wipe-contacts", title="Wipe the contacts")
    remedy = sample.library.remedies["kettle/new-element"].model_copy(update={"jobs": (swap.job, second.job)})
    library = replace(sample.library, remedies={**sample.library.remedies, "kettle/new-element": remedy})
    two = with_plan(replace(sample, library=library), off, swap, second, on)
    half = with_facts(two, jobs_done=ticked(off.job, swap.job))
    assert "Parts fitted" not in told(half.paper("handover"))
    both = with_facts(two, jobs_done=ticked(off.job, swap.job, second.job))
    assert "Parts fitted: 1 × Heating element." in told(both.paper("handover"))
    # A trial fits nothing: the part is in before it, and stays in when the trial has to be done again.
    trial = replace(second, tries=(swap.job,))
    tried = with_plan(half, off, swap, trial, on)
    assert "Parts fitted: 1 × Heating element." in told(tried.paper("handover"))


def test_the_papers_name_the_ceiling_that_was_agreed_and_no_other(sample):
    for kind in ("estimate", "job"):
        text = told(sample.paper(kind))
        assert "Agreed on 2026-03-04 09:30: EUR 39.90, and not above EUR 45.00." in text
        assert "over what was agreed" not in text
        assert "than the allowance covers" not in text
        assert set(re.findall(r"(?i)(?:above|more than) (EUR \d+\.\d\d)", text)) == {"EUR 45.00"}
    assert "Above EUR 45.00 we stop and ask first." in told(sample.paper("estimate"))
    assert "If it comes to more than EUR 45.00, stop and ask before you go on." in told(sample.paper("job"))


def test_without_an_agreement_the_price_is_the_ceiling(sample):
    bare = with_facts(sample, agreed=None)
    text = told(bare.paper("estimate"))
    assert "Above EUR 39.90 we stop and ask first." in text
    assert "If we find more than the allowance covers, we stop and ask before we go on." in text
    assert "agreed" not in told(bare.paper("job")).lower()


def test_a_price_over_what_was_agreed_is_told_with_what_to_do(sample):
    """The price of the sample is 39.90; 30.00 was agreed: 9.90 over."""
    low = with_facts(sample, agreed=Agreed(D(30)), jobs_done=(), handed_over=None)
    over = "The price is EUR 9.90 over what was agreed: ask before work begins."
    for kind in ("estimate", "job"):
        text = told(low.paper(kind))
        assert over in text
        assert "Agreed: EUR 30.00, and not above that." in text
        assert set(re.findall(r"(?i)(?:above|more than) (EUR \d+\.\d\d)", text)) == {"EUR 30.00"}
    assert ("Ask first", (over,)) in [(one.word, one.texts) for one in low.paper("job").warnings]
    begun = with_facts(low, jobs_done=ticked("kettle/base-off"))
    assert "EUR 9.90 over what was agreed: ask before work goes on." in told(begun.paper("job"))


def test_who_has_agreed_is_not_invited_to_agree_again(sample):
    dear = replace(sample.work.estimate, price=D("59.90"), allowance=D("26.90"))
    large = replace(sample, work=replace(sample.work, estimate=dear))
    assert "You may agree to the planned work alone" not in told(large.paper("estimate"))
    assert "You may agree to the planned work alone" in told(with_facts(large, agreed=None).paper("estimate"))


@pytest.mark.parametrize("kind", ["job", "torque", "handover"])
def test_a_torque_out_of_its_range_is_marked_and_one_at_its_edge_is_not(sample, kind):
    nut = "kettle/element-nut"
    wild = with_facts(sample, torques=((nut, Tightened(D(25), "felt odd")),))
    assert "25 N·m, outside 4–6 N·m: felt odd" in told(wild.paper(kind))
    for edge in (D(4), D("6.0")):
        assert "outside" not in told(with_facts(sample, torques=((nut, Tightened(edge)),)).paper(kind))
    felt = with_facts(sample, torques=((nut, Tightened(None)),))
    assert "outside" not in told(felt.paper(kind))


@pytest.mark.parametrize("kind", ["job", "torque", "handover"])
def test_the_workshops_own_range_says_what_is_outside(sample, kind):
    nut = "kettle/element-nut"
    own = OwnTorque.model_validate({"from": "8", "to": "10", "basis": "our own trials"})
    shop = Workshop(torques={nut: own})
    mine = line(sample.library, shop, nut, touched_by=["Swap the element"])
    work = replace(sample.work, torque_round=(mine,))
    owned = replace(sample, work=work, workshop=shop)
    assert "5 N·m, outside 8–10 N·m" in told(with_facts(owned, torques=((nut, Tightened(D(5))),)).paper(kind))
    assert "outside" not in told(with_facts(owned, torques=((nut, Tightened(D(9))),)).paper(kind))


def test_what_was_tightened_is_on_the_machine_so_its_torque_stands_on_the_job_sheet(sample):
    first, screw, pin = sample.work.torque_round
    unsure = replace(pin, least=D(6), most=D(8), until=None)
    work = replace(sample.work, torque_round=(first, screw, unsure))
    wild = with_facts(replace(sample, work=work), torques=((pin.fastener, Tightened(D(25))),))
    assert "25 N·m, outside 6–8 N·m" in told(wild.paper("job"))
