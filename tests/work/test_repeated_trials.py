"""A trial that was ticked off before the work that it tries is open again."""

from decimal import Decimal

import pytest

from diagtree.library.loading import load_library
from diagtree.model.workshop import Workshop
from diagtree.work.plan import plan
from diagtree.work.prices import Prices
from diagtree.work.repeated import again_after, done_jobs, to_be_repeated
from diagtree.work.result import PlannedJob, Stage


def job(number, name, tries=()):
    minutes = (Decimal(1), Decimal(2), Decimal(3))
    return PlannedJob(number, name, name.title(), Stage.WORK, minutes, 2.0, (), (), tries=tries)


BEFORE = (job(1, "seal"), job(2, "boil", ("seal",)))
AFTER = (job(1, "seal"), job(2, "fuse"), job(3, "boil", ("seal", "fuse")))


def test_ticks_in_the_order_of_work_stand():
    assert to_be_repeated(BEFORE, ["seal", "boil"]) == {}
    assert done_jobs(BEFORE, ["seal", "boil"]) == {"seal", "boil"}


def test_work_that_is_added_after_the_trial_opens_it_again_until_it_is_ticked_off_anew():
    assert to_be_repeated(AFTER, ["seal", "boil"]) == {"boil": ("Fuse",)}
    assert done_jobs(AFTER, ["seal", "boil"]) == {"seal"}
    assert done_jobs(AFTER, ["seal", "boil", "fuse"]) == {"seal", "fuse"}
    assert done_jobs(AFTER, ["seal", "fuse", "boil"]) == {"seal", "fuse", "boil"}


def test_what_is_ticked_off_and_not_in_the_plan_is_no_job_of_it():
    assert done_jobs(BEFORE, ["seal", "boil", "lid"]) == {"seal", "boil"}


def test_it_is_said_why():
    assert again_after(("Fuse",)) == "It was done before this work: Fuse. Do it again after it."


@pytest.mark.parametrize("added", ["headset/reset-preload", "wheels/adjust-hub"])
def test_a_stop_from_walking_pace_tries_all_the_work_of_the_plan(added):
    prices = Prices(load_library(), Workshop())
    whole = plan(prices, ["disc-brakes/new-pads", added])
    first = plan(prices, ["disc-brakes/new-pads"])
    ticked = [each.job for each in first]
    last = [name for name in ticked if prices.library.jobs[name].last]
    assert last
    assert done_jobs(first, ticked) == set(ticked)
    assert set(last) <= to_be_repeated(whole, ticked).keys()
