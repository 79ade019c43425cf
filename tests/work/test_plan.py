"""The plan: merged, in an order that works, steady; a ring is named."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import UnknownNameError
from diagtree.model.workshop import Workshop
from diagtree.work.plan import JobsInARingError, plan
from diagtree.work.prices import Prices
from diagtree.work.result import Stage


def names(library, remedies, wished=()):
    jobs = plan(Prices(library, Workshop()), remedies, wished)
    assert [job.number for job in jobs] == list(range(1, len(jobs) + 1))
    return [job.job.partition("/")[2] for job in jobs]


def test_each_opening_and_closing_is_done_once_for_two_remedies(kettle):
    order = names(kettle, ["kettle/new-element", "kettle/new-switch"])
    assert order == ["base-off", "swap-element", "swap-switch", "base-on"]


def test_a_job_says_which_remedies_it_is_done_for_and_its_stage(kettle):
    first, *_, last = plan(Prices(kettle, Workshop()), ["kettle/new-element", "kettle/new-switch"])
    assert first.serves_titles == ("Fit a new element", "Fit a new switch")
    assert (first.stage, last.stage) == (Stage.OPEN, Stage.CLOSE)
    assert first.expected == pytest.approx((1 + 4 * 2 + 4) / 6)
    assert first.tools == ("screwdriver",)


def test_what_shares_an_opening_is_done_together(mill):
    library = mill(
        remedies={"a": {"jobs": ["work-a"]}, "b": {"jobs": ["work-b"]}, "c": {"jobs": ["work-c"]}},
        jobs={
            "open": {"after": ["close"]},
            "close": None,
            "work-a": {"needs": ["open"]},
            "work-b": None,
            "work-c": {"needs": ["open"]},
        },
    )
    assert names(library, ["mill/a", "mill/b", "mill/c"]) == ["open", "work-a", "work-c", "close", "work-b"]


def test_what_was_opened_last_is_closed_first(mill):
    library = mill(
        remedies={"a": {"jobs": ["deep"]}},
        jobs={
            "lid-off": {"after": ["lid-on"]},
            "gear-out": {"needs": ["lid-off"], "after": ["gear-in"]},
            "deep": {"needs": ["gear-out"]},
            "gear-in": None,
            "lid-on": None,
        },
    )
    assert names(library, ["mill/a"]) == ["lid-off", "gear-out", "deep", "gear-in", "lid-on"]


def test_openings_that_do_not_need_each_other_are_closed_the_other_way_round_too(mill):
    library = mill(
        remedies={"a": {"jobs": ["deep"]}},
        jobs={
            "deep": {"needs": ["wheel-out", "fork-loose"]},
            "wheel-out": {"after": ["wheel-in"]},
            "fork-loose": {"after": ["fork-back"]},
            "wheel-in": None,
            "fork-back": None,
        },
    )
    assert names(library, ["mill/a"]) == ["wheel-out", "fork-loose", "deep", "fork-back", "wheel-in"]


def test_the_author_s_order_is_kept_and_a_trial_waits_until_all_is_closed(mill):
    library = mill(
        remedies={
            "a": {"jobs": ["fill", "squeeze", "a-ride"]},
            "b": {"jobs": ["z-work"]},
        },
        jobs={
            "open": {"after": ["close"]},
            "close": None,
            "fill": {"needs": ["open"]},
            "squeeze": None,
            "bolts": None,
            "a-ride": {"needs": ["bolts"]},
            "z-work": None,
        },
    )
    assert names(library, ["mill/a", "mill/b"]) == [
        "open", "fill", "close", "squeeze", "z-work", "bolts", "a-ride",
    ]  # fmt: skip


def test_a_trial_of_the_whole_machine_comes_last_of_all(mill):
    library = mill(
        remedies={"a": {"jobs": ["work-a", "ride"]}, "b": {"jobs": ["work-b", "turn-it"]}},
        jobs={"work-a": None, "ride": {"last": "true"}, "work-b": None, "turn-it": None},
    )
    assert names(library, ["mill/a", "mill/b"]) == ["work-a", "work-b", "turn-it", "ride"]


def test_one_opening_is_closed_before_the_next_of_the_same_remedy(mill):
    library = mill(
        remedies={"a": {"jobs": ["sprocket", "chain"]}},
        jobs={
            "wheel-out": {"after": ["wheel-in"]},
            "wheel-in": None,
            "chain-off": {"after": ["chain-on"]},
            "chain-on": None,
            "sprocket": {"needs": ["wheel-out"]},
            "chain": {"needs": ["chain-off"]},
        },
    )
    assert names(library, ["mill/a"]) == [
        "wheel-out", "sprocket", "wheel-in", "chain-off", "chain", "chain-on",
    ]  # fmt: skip


def test_jobs_in_a_ring_are_named(mill):
    library = mill(
        remedies={"a": {"jobs": ["one"]}},
        jobs={"one": {"needs": ["two"]}, "two": {"needs": ["three"]}, "three": {"needs": ["one"]}},
    )
    with pytest.raises(JobsInARingError) as caught:
        names(library, ["mill/a"])
    assert str(caught.value) == (
        "These jobs wait for each other: 'One' (mill/one) before 'Three' (mill/three) before 'Two' (mill/two) "
        "before 'One' (mill/one). Take one out of 'needs:' or 'after:' in the catalogue."
    )


def test_an_author_s_order_against_the_needs_gives_way(mill):
    library = mill(
        remedies={"a": {"jobs": ["late", "early"]}}, jobs={"late": {"needs": ["early"]}, "early": None}
    )
    assert names(library, ["mill/a"]) == ["early", "late"]


def test_an_unknown_job_is_told_with_near_names(mill):
    library = mill(remedies={"a": {"jobs": ["wrok"]}}, jobs={"work": None})
    with pytest.raises(UnknownNameError, match=r"There is no job 'mill/wrok'\. Did you mean 'mill/work'"):
        names(library, ["mill/a"])


@st.composite
def catalogues(draw):
    """Random jobs without a ring: a job needs only earlier ones; some open and have a closing job."""
    count = draw(st.integers(2, 9))
    jobs = {}
    for i in range(count):
        needs = draw(st.sets(st.integers(0, i - 1), max_size=2)) if i else set()
        jobs[f"job-{i}"] = {"needs": [f"job-{n}" for n in sorted(needs)]}
        if draw(st.booleans()):
            jobs[f"job-{i}"]["after"] = [f"close-{i}"]
            jobs[f"close-{i}"] = None
    listed = st.lists(
        st.sampled_from([f"job-{i}" for i in range(count)]), min_size=1, max_size=4, unique=True
    )
    remedies = {f"remedy-{i}": {"jobs": draw(listed)} for i in range(draw(st.integers(1, 4)))}
    return jobs, remedies, draw(st.randoms(use_true_random=False))


@settings(max_examples=60, deadline=None)
@given(catalogues())
def test_every_order_respects_needs_closes_all_and_does_nothing_behind_what_is_closed(mill, catalogue):
    jobs, remedies, shuffle = catalogue
    library = mill(remedies=remedies, jobs=jobs)
    wanted = [f"mill/{name}" for name in remedies]
    order = names(library, wanted)
    place = {name: i for i, name in enumerate(order)}
    assert len(place) == len(order)
    for name in order:
        entry = jobs[name] or {}
        assert all(place[need] < place[name] for need in entry.get("needs", ()))
        for closer in entry.get("after", ()):
            behind = {name}
            for later in order:
                if behind & set((jobs[later] or {}).get("needs", ())):
                    behind.add(later)
            assert all(place[inner] < place[closer] for inner in behind)
    mixed = dict(sorted(jobs.items(), key=lambda _: random.Random(shuffle.random()).random()))
    again = names(mill(remedies=remedies, jobs=mixed), wanted)
    assert again == order
