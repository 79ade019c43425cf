"""Playing a machine: what can be checked, what it costs, what is kept, how it ends."""

from __future__ import annotations

import pytest

from diagtree.case.log import MemoryLog
from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.practice.debrief import debrief
from diagtree.practice.levels import LEVELS
from diagtree.practice.machine import Machine
from diagtree.practice.play import Play
from diagtree.practice.telling import tell
from diagtree.reasoning.choosing import gains


def fuse(library, **answers) -> Play:
    """A kettle whose fuse is blown, found at fuse=no, with answers of our own."""
    told = {"lamp": "no", "other-socket": "no", "fuse": "no", "flex": "sound", "hum": "yes", **answers}
    return Play(library, _machine(library, told), MemoryLog())


def _machine(library, told) -> Machine:
    from diagtree.reasoning.rows import rows_of

    (finding,) = rows_of(library.trees["no-heat"]).findings_of["kettle/fuse-blown"]
    return Machine(
        complaints=("no-heat",),
        level=LEVELS["apprentice"],
        seed=1,
        states={"water": "soft", "use": "light"},
        causes={"no-heat": "kettle/fuse-blown"},
        findings={"no-heat": finding},
        looks={"lime": "clean", "handle": "fresh"},
        answers={("no-heat", check): answer for check, answer in told.items()},
    )


def test_checks_stand_by_their_words_and_keep_their_numbers(kettle):
    play = fuse(kettle)
    before = {choice.check: choice.number for choice in play.choices}
    assert [choice.ask for choice in play.choices] == sorted(choice.ask for choice in play.choices)
    play.check("no-heat", "other-socket")
    after = {choice.check: choice.number for choice in play.choices}
    assert "other-socket" not in after
    assert all(before[check] == number for check, number in after.items())


def test_a_check_that_an_answer_rules_out_cannot_be_done(kettle):
    play = fuse(kettle)
    play.check("no-heat", "lamp")  # dark: then humming makes no sense
    with pytest.raises(UnknownNameError, match="There is no check to be done now 'hum'"):
        play.check("no-heat", "hum")


def test_minutes_count_opening_work_once(boxed):
    play = fuse(boxed)
    costs = {choice.check: choice.minutes for choice in play.choices}
    assert (costs["fuse"], costs["flex"]) == (5, 3)
    assert next(c.opening for c in play.choices if c.check == "fuse") == ("Take the base off",)
    play.check("no-heat", "fuse")
    assert next(c.minutes for c in play.choices if c.check == "flex") == 1
    play.check("no-heat", "flex")
    assert play.minutes == 6


def test_a_fact_is_checked_once_and_told_in_both_complaints(play):
    game = play("no-heat", "leaks", seed=2)
    asked = [choice.check for choice in game.choices]
    assert ("flex" in asked) != ("flex-look" in asked)
    choice = next(c for c in game.choices if c.check in {"flex", "flex-look"})
    game.check(choice.symptom, choice.check)
    assert {place for place in game.evidence.answers if "flex" in place[1]} == {
        ("no-heat", "flex"),
        ("leaks", "flex-look"),
    }


def test_the_debrief_says_what_each_check_was_worth(kettle):
    play = fuse(kettle)
    before = play.belief
    expected = {worth.check: worth.bits for worth in gains(before)}
    play.check("no-heat", "fuse")
    after = play.belief
    play.name("no-heat", "kettle/fuse-blown")
    assert play.questions == ()  # a new fuse is neither tightened nor greased
    end = debrief(play)
    (worth,) = end.worths
    assert worth.bits == pytest.approx(expected["fuse"])
    assert worth.true_before == pytest.approx(before.behind("no-heat")["kettle/fuse-blown"])
    assert worth.true_after == pytest.approx(after.behind("no-heat")["kettle/fuse-blown"])
    assert not worth.misled
    assert worth.true_after > 0.8
    # the fuse alone proves it in 3 minutes, and nothing does in fewer: 100 points
    assert (end.minutes, end.least.minutes, end.score.total) == (3, 3, 100)
    assert end.least.steps == (("no-heat", "fuse"),)


def test_a_wrong_name_is_told_with_the_weights_and_with_what_would_have_settled_it(kettle):
    play = fuse(kettle)
    play.check("no-heat", "lamp")
    play.name("no-heat", "kettle/switch-worn")
    end = debrief(play)
    (missed,) = end.results
    assert (missed.named, missed.true) == ("kettle/switch-worn", "kettle/fuse-blown")
    assert missed.settle is not None
    assert not missed.verdict.right
    assert end.score.total == 0
    said = "\n".join(one.text for one in tell(play, end))
    assert "It was: Fuse blown." in said
    assert "You named: Switch contacts worn." in said
    assert "Does the lamp come on? Stays dark. It speaks" in said
    assert "What would have told most then" in said


def test_an_answer_that_speaks_against_the_true_cause_is_said_to_mislead(kettle):
    play = fuse(kettle, lamp="yes")
    play.check("no-heat", "lamp")
    play.give_up()
    end = debrief(play)
    assert end.worths[0].misled
    assert end.score.total == 0
    assert "This answer misled." in "\n".join(one.text for one in tell(play, end))


def test_a_cause_is_named_once_and_must_be_one_of_the_complaint(kettle):
    play = fuse(kettle)
    with pytest.raises(UnknownNameError, match="There is no cause of this complaint 'kettle/scal'"):
        play.name("no-heat", "kettle/scal")
    play.name("no-heat", "kettle/scale")
    with pytest.raises(ExpectedError, match="A cause was named for this complaint already"):
        play.name("no-heat", "kettle/fuse-blown")


def test_moves_that_were_kept_lead_to_the_same_place(play):
    log = MemoryLog()
    one = play("no-heat", seed=4, log=log)
    for choice in one.choices[:2]:
        one.check(choice.symptom, choice.check)
    one.name("no-heat", one.causes("no-heat")[0][0])
    again = play("no-heat", seed=4)
    assert again.take_up(list(log.records))
    assert (again.evidence, again.guesses, again.minutes) == (one.evidence, one.guesses, one.minutes)
    other = play("no-heat", seed=5)
    turned = [{**log.records[0], "answer": "none of them"}]
    assert not other.take_up(turned)
