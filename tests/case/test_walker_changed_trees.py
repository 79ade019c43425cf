"""Cases that are taken up with other trees than they were walked with."""

from __future__ import annotations

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import Walker
from diagtree.library.library import join

CHANGED = "The tree for 'The water stays cold' has changed since this case was last open. "


@pytest.fixture
def log(kettle):
    log = MemoryLog()
    walker = Walker(kettle, log, complaints=["no-heat"])
    for answer in ["limed", "worn", "no", "no", "yes", "sound"]:
        walker.answer(answer)
    assert walker.finished
    return log


def changed(kettle, change):
    tree = kettle.trees["no-heat"]
    return join(
        kettle.families.values(),
        [],
        [*(t for name, t in kettle.trees.items() if name != "no-heat"), change(tree)],
    )


def test_each_answer_that_still_has_its_place_is_kept_and_the_rest_is_named(kettle, log):
    def without_the_other_socket(tree):
        checks = {name: check for name, check in tree.checks.items() if name != "other-socket"}
        no = checks["lamp"].answers["no"].model_copy(update={"next": "fuse"})
        checks["lamp"] = checks["lamp"].model_copy(
            update={"ask": "Does the little lamp come on?", "answers": {**checks["lamp"].answers, "no": no}}
        )
        return tree.model_copy(update={"checks": checks})

    walker = Walker(changed(kettle, without_the_other_socket), MemoryLog(log.records))
    assert walker.notices == (
        CHANGED + "3 of 4 answers keep their place.",
        "Set aside: Does it work from another socket? The question is no longer there.",
        "The question 'Does the lamp come on?' now reads: Does the little lamp come on?",
    )
    assert walker.finished
    assert [step.place.name for step in walker.way] == ["lamp", "fuse", "flex"]
    # It comes back with the tree that it was given in.
    assert [step.place.name for step in Walker(kettle, MemoryLog(log.records)).way][2:] == [
        "lamp",
        "other-socket",
        "fuse",
        "flex",
    ]


def test_it_is_told_once(kettle, log):
    library = changed(kettle, lambda tree: tree.model_copy(update={"version": "2"}))
    first = MemoryLog(log.records)
    assert Walker(library, first).notices == (CHANGED + "4 of 4 answers keep their place.",)
    assert Walker(library, first).notices == ()


def test_an_answer_that_is_no_longer_offered_is_set_aside(kettle, log):
    def other_words(tree):
        flex = tree.checks["flex"]
        answers = {"whole" if name == "sound" else name: answer for name, answer in flex.answers.items()}
        return tree.model_copy(
            update={"checks": {**tree.checks, "flex": flex.model_copy(update={"answers": answers})}}
        )

    walker = Walker(changed(kettle, other_words), MemoryLog(log.records))
    assert walker.notices[1] == "Set aside: Is the flex hurt anywhere? The answer 'Sound' is no longer there."
    assert walker.question.name == "flex"
    assert walker.question.previous is None


def test_a_tree_that_is_gone_is_told_and_its_answers_are_kept(kettle, log):
    library = join(kettle.families.values(), [], [kettle.trees["leaks"]])
    walker = Walker(library, MemoryLog(log.records))
    assert walker.notices == ("The tree 'no-heat' is no longer here. Its 4 answers are kept, set aside.",)
    assert walker.stage == "complaints"
    assert len(walker.aside) == 6
    walker.choose(["leaks"])
    assert walker.question.name == "where"


def test_a_new_question_on_the_way_is_asked_and_what_follows_is_kept(kettle, log):
    def one_more(tree):
        new = tree.checks["other-socket"].model_copy(update={"ask": "Is the switch on?"})
        answers = {
            "yes": tree.checks["fuse"].answers["yes"].model_copy(update={"next": "other-socket"}),
            "no": tree.checks["fuse"].answers["no"],
        }
        new = new.model_copy(update={"answers": answers})
        no = tree.checks["lamp"].answers["no"].model_copy(update={"next": "switch-on"})
        lamp = tree.checks["lamp"].model_copy(update={"answers": {**tree.checks["lamp"].answers, "no": no}})
        return tree.model_copy(update={"checks": {**tree.checks, "lamp": lamp, "switch-on": new}})

    walker = Walker(changed(kettle, one_more), MemoryLog(log.records))
    assert walker.question.name == "switch-on"
    walker.answer("yes")
    assert walker.finished
    assert len(walker.evidence.answers) == 5


@pytest.mark.parametrize(
    ("count", "gone", "kept"),
    [
        (0, "No answer was given in it.", "No answer was given in it yet."),
        (1, "Its 1 answer is kept, set aside.", "1 of 1 answer keeps its place."),
        (2, "Its 2 answers are kept, set aside.", "2 of 2 answers keep their place."),
    ],
)
def test_the_answers_are_counted_as_people_count(kettle, count, gone, kept):
    log = MemoryLog()
    walker = Walker(kettle, log, complaints=["no-heat"])
    for name, answer in [("lamp", "no"), ("other-socket", "no")][:count]:
        walker.answer(answer, Place.check("no-heat", name))
    trees = [tree for name, tree in kettle.trees.items() if name != "no-heat"]
    without = join(kettle.families.values(), [], trees)
    assert Walker(without, MemoryLog(log.records)).notices == (
        f"The tree 'no-heat' is no longer here. {gone}",
    )
    other = changed(kettle, lambda tree: tree.model_copy(update={"version": "2"}))
    assert Walker(other, MemoryLog(log.records)).notices == (CHANGED + kept,)
