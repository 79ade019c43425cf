"""Line mode once the questions are at their end: what is said of the work, and what can be entered."""

from dataclasses import replace

import pytest

from diagtree.model.workshop import Workshop
from diagtree.work.work import work_out


def test_at_the_end_the_work_is_entered(kettle, talk):
    lines = [
        "1",
        "found fuse blown",
        "not scale",
        "done swap the fuse",
        "undone swap the fuse",
        "done swap the fuse",
    ]
    lines += [
        "torque base screw 1.2",
        "torque base screw 2",
        "no",
        "torque base screw 9 lbf·in",
        "torque element nut 5 Nm",
    ]
    lines += [
        "instead clean the contacts",
        "customer's wish",
        "agree 84,50",
        "agree lots",
        "hand over Kim",
        "fuse",
        "",
    ]
    status, said, walker = talk(kettle, ["1", "1", *lines], "no-heat")
    case = walker.case
    assert status == 0
    assert {cause: event.present for cause, event in case.found.items()} == {
        "kettle/fuse-blown": True,
        "kettle/scale": False,
    }
    assert list(case.jobs_done) == ["kettle/swap-fuse"]
    assert (
        "2 N·m is over the range, 1.0 to 1.4 N·m. Is that right? Type yes to enter it all the same." in said
    )
    assert "Not entered." in said
    assert case.torques["kettle/base-screw"].value.startswith("1.0168")
    assert case.torques["kettle/element-nut"].value == "5"
    assert case.overruled["kettle/switch"].reason == "customer's wish"
    assert case.agreed.price == "84.50"
    assert "'lots' is no price. Write it like this: 84.50" in said
    assert case.handed_over.by == "Kim"
    assert case.handed_over.confirmed == {"no-heat": "kettle/fuse-blown"}


def test_what_is_found_with_the_machine_open_can_be_entered_at_any_time(kettle, talk):
    _, said, walker = talk(kettle, ["found fuse blown", "not scale", "found", "not zzzz"], "no-heat")
    assert walker.evidence.found == {"kettle/fuse-blown": True, "kettle/scale": False}
    assert "Entered: Scale on the element is not there.\n" in said
    assert "Type found, or not, and the cause.\n" in said


def test_at_the_end_the_work_is_told_once_and_again_when_it_changes(kettle, talk):
    workshop = Workshop()
    lines = ["1", "1", "1", "likely", "done swap the fuse", "agree 1", "found flex", "quit"]
    _, said, walker = talk(kettle, ["ask on", *lines], "no-heat", workshop=workshop)
    assert said.count("What is to be done:") == 3
    assert "In this order:\n1. Swap the fuse, 2 minutes.\n" in said
    assert "Swap the fuse, 2 minutes (done).\n" in said
    work = work_out(kettle, walker.belief, walker.evidence, workshop)
    assert f"Price: {work.estimate.price} EUR, of which {work.estimate.allowance} is an allowance" in said
    assert f"Stop and ask: the price is now {work.estimate.price} EUR, and at most 1 was agreed.\n" in said


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("why", "Type why and a cause: why fuse blown"),
        ("done", "Which job? Type its name after the word."),
        ("done xyzzy", "No job sounds like 'xyzzy'."),
        ("torque base screw", "Type torque, the fastener and the value: torque base screw 1.2"),
        ("torque xyzzy 3", "No fastener sounds like 'xyzzy'."),
        ("torque base screw 3 bar", "'3 bar' is a pressure; a torque is wanted. Write it like '5 N·m'."),
        ("instead xyzzy", "No remedy sounds like 'xyzzy'."),
        ("label the red one", "Label: the red one."),
        ("forward", "Enter for the job sheet; ? for what else can be done."),
        ("likely", "  1st  Fuse blown, "),
    ],
)
def test_at_the_end_what_is_not_understood_is_told(kettle, typed, told, talk):
    _, said, _ = talk(kettle, ["1", "1", "1", typed], "no-heat")
    assert told in said


def test_handing_over_takes_a_name_and_what_it_was(kettle, talk):
    _, said, walker = talk(
        kettle, ["1", "1", "1", "hand over", "", "hand over", "Kim", "xyzzy", ""], "no-heat"
    )
    assert "Not handed over: a name is needed." in said
    assert "No cause sounds like 'xyzzy'." in said
    assert walker.case.handed_over.by == "Kim"
    assert walker.case.handed_over.confirmed == {}


def test_a_wish_is_planned_and_taken_back(kettle, talk):
    ends = ["1", "unwish", "wish", "wish qqqq", "wish descale", "unwish descale", "wish descale", ""]
    status, said, walker = talk(kettle, ["1", "1", *ends], "no-heat", workshop=Workshop())
    assert status == 0
    assert "Nothing was wished for." in said
    assert "Which wish? Type its name after the word." in said
    assert "No wish sounds like 'qqqq'." in said
    assert "Taken back: Descale." in said
    assert "The customer wishes it." in said
    assert walker.case.wishes == ("kettle/descale",)


def test_handing_over_says_what_is_still_open_and_offers_the_likely_causes(kettle, talk):
    lines = ["2", "1", "hand over Kim", "1"]
    _, said, walker = talk(kettle, lines, "no-heat", workshop=Workshop())
    assert "Jobs not ticked off: 3.\nTorques not entered: 2.\n" in said
    assert "  1  Element burnt out\n" in said
    assert walker.case.handed_over.confirmed == {"no-heat": "kettle/element-open"}


def test_the_end_of_the_input_hands_nothing_over(kettle, talk):
    _, said, walker = talk(kettle, ["2", "1", "hand over Kim"], "no-heat")
    assert walker.case.handed_over is None
    assert "Not handed over.\n" in said


def test_where_several_things_sound_like_it_it_is_asked_which(kettle, talk):
    _, said, walker = talk(
        kettle, ["2", "1", "wish fit a new", "2", "wish fit a new", "", "wish fit a new", "99"], "no-heat"
    )
    titles = [each.title for each in kettle.remedies.values() if "fit a new" in each.title.casefold()]
    assert len(titles) > 2
    for place, title in enumerate(titles, 1):
        assert f"  {place}  {title}\n" in said
    assert f"Wanted too: {titles[1]}." in said
    assert "There is no 99 among them. Type a number from the list, or Enter for none." in said
    assert said.rpartition("There is no 99")[2].count("which> ") == 1
    assert len(walker.case.wishes) == 1


@pytest.mark.parametrize(
    "typed", ["hand over Robin", "quit", "q", "", "torque element nut 5", "?", "agree 5"]
)
def test_no_command_is_taken_for_one_of_several(kettle, talk, typed):
    titled = {
        "kettle/base-screw": "Robin's screw, hand tight",
        "kettle/element-nut": "Nut, over the hand screw",
    }
    fasteners = {
        name: each.model_copy(update={"title": titled[name]}) for name, each in kettle.fasteners.items()
    }
    library = replace(kettle, fasteners=fasteners)
    _, said, walker = talk(library, ["2", "1", "torque hand 5", typed, "note still here"], "no-heat")
    assert not walker.case.torques
    assert walker.case.handed_over is None
    assert walker.case.agreed is None
    assert said.count("which> ") == 1
    assert "Nothing entered.\n" in said
    assert "Noted." in said


def test_a_command_typed_in_between_is_told_to_be_typed_again(kettle, talk):
    _, said, _ = talk(kettle, ["2", "1", "wish fit a new", "hand over Robin"], "no-heat")
    assert "Nothing entered.\nNow type it again: hand over Robin\n" in said


@pytest.mark.parametrize(
    ("typed", "wished"),
    [("SEAL", "Fit a new seal"), ("new flex", "Fit a new flex"), ("Fit a new fuse", "Fit a new fuse")],
)
def test_words_that_stand_in_one_title_only_pick_it(kettle, talk, typed, wished):
    _, said, _ = talk(kettle, ["2", "1", "wish fit a new", typed], "no-heat")
    assert f"Wanted too: {wished}." in said


@pytest.mark.parametrize("typed", ["sea", "sael", "seal flex", "...", "wipe the seal", "5 N·m"])
def test_what_stands_exactly_in_no_title_picks_nothing_and_it_is_asked_again(kettle, talk, typed):
    _, said, walker = talk(kettle, ["2", "1", "wish fit a new", typed, "seal"], "no-heat")
    assert f"'{typed}' stands in none of these. Type a number from the list, or Enter for none." in said
    assert said.count("which> ") == 2
    assert [library_title(kettle, each) for each in walker.case.wishes] == ["Fit a new seal"]


def test_words_that_stand_in_several_titles_are_asked_about_again_among_those(kettle, talk):
    titles = {"kettle/new-seal": "Fit a new red seal", "kettle/new-flex": "Fit a new red flex"}
    remedies = {
        name: each.model_copy(update={"title": titles.get(name, each.title)})
        for name, each in kettle.remedies.items()
    }
    library = replace(kettle, remedies=remedies)
    _, said, walker = talk(library, ["2", "1", "wish fit a new", "red", "2"], "no-heat")
    again = said.rpartition("Which of these?")[2]
    shown = [title for title in (each.title for each in remedies.values()) if f"  {title}\n" in again]
    assert sorted(shown) == sorted(titles.values())
    assert [remedies[each].title for each in walker.case.wishes] == [shown[1]]


def library_title(library, remedy):
    """Return what a remedy is called."""
    return library.remedies[remedy].title


def test_the_example_of_a_torque_is_the_first_of_this_round(kettle, talk):
    own = {"kettle/base-screw": {"from": "2", "to": "2.5", "basis": "mark on our kettles"}}
    workshop = Workshop.model_validate({"torques": own})
    _, said, walker = talk(kettle, ["2", "1", "torque"], "no-heat", workshop=workshop)
    first = work_out(kettle, walker.belief, walker.evidence, workshop).torque_round[0]
    examples = {"Base screw": "torque base screw 2.25", "Element nut": "torque element nut 5"}
    assert f"Type torque, the fastener and the value: {examples[first.title]}\n" in said


def test_the_example_of_a_torque_can_be_typed_as_it_stands(kettle, talk):
    _, said, _ = talk(kettle, ["2", "1", "torque"], "no-heat", workshop=Workshop())
    example = said.partition("the fastener and the value: ")[2].partition("\n")[0]
    _, said, walker = talk(kettle, ["2", "1", example], "no-heat", workshop=Workshop())
    assert "N·m entered." in said
    assert len(walker.case.torques) == 1


def test_where_no_torque_rules_anything_the_example_is_done(kettle, talk):
    fasteners = {
        name: each.model_copy(update={"torque": None, "until": "it is snug"})
        for name, each in kettle.fasteners.items()
    }
    library = replace(kettle, fasteners=fasteners)
    _, said, _ = talk(library, ["2", "1", "torque"], "no-heat")
    assert "Type torque, the fastener and the value: torque base screw done\n" in said
    _, said, _ = talk(replace(kettle, fasteners={}), ["2", "1", "torque"], "no-heat")
    assert "Type torque, the fastener and the value.\n" in said


def test_a_job_is_ticked_off_by_its_number_of_the_plan(kettle, talk):
    lines = ["2", "1", "done 2", "done 1", "undone 2", "done 99", "done 0"]
    _, said, walker = talk(kettle, lines, "no-heat", workshop=Workshop())
    plan = work_out(kettle, walker.belief, walker.evidence, Workshop()).plan
    assert plan[1].title in said.partition("2. ")[2].partition("\n")[0]
    assert f"{plan[1].title}: done.\n" in said
    assert f"{plan[1].title}: not done.\n" in said
    assert list(walker.case.jobs_done) == [plan[0].job]
    assert f"There is no job 99 in the plan. Its numbers go from 1 to {len(plan)}.\n" in said
    assert "There is no job 0 in the plan." in said


def test_without_a_plan_a_number_is_no_job(kettle, talk):
    _, said, walker = talk(kettle, ["2", "1", "done 1"], "no-heat")
    assert "No job sounds like '1'." in said
    assert not walker.case.jobs_done


def test_a_job_that_is_named_exactly_is_that_job_though_another_is_planned(kettle, talk):
    _, _, walker = talk(
        kettle, ["2", "1", "done swap the flex", "done swap the"], "no-heat", workshop=Workshop()
    )
    assert list(walker.case.jobs_done) == ["kettle/swap-flex", "kettle/swap-element"]


def test_what_was_found_chosen_and_set_as_scope_can_be_changed_again(kettle, talk):
    lines = ["figures", "unfound", "found scale", "unfound scale", "instead fit a new element", "she wants it", "figures",
             "scope", "scope roadworthy", "label the red one", ""]  # fmt: skip
    status, said, walker = talk(kettle, ["1", *lines], "slow-boil", workshop=Workshop())
    assert status == 0
    assert "Nothing was chosen against the figures." in said
    assert "Nothing was found yet." in said
    assert not walker.case.found
    assert "Taken back: Scale on the element." in said
    assert "Instead: Fit a new element." in said
    assert not walker.case.overruled
    assert "Type scope and how much is to be done: roadworthy, service, full." in said
    assert (walker.case.brief, walker.case.label) == ("roadworthy", "the red one")


def test_another_remedy_is_chosen_for_the_verdict_that_offers_it(kettle, talk):
    _, _, walker = talk(
        kettle, ["finish", "instead fit a new element", "rust"], "no-heat", workshop=Workshop()
    )
    work = work_out(kettle, walker.belief, walker.evidence, Workshop())
    offered = [each for each in work.verdicts if any(o.remedy == "kettle/new-element" for o in each.options)]
    assert list(walker.case.overruled) == [offered[0].part]
    _, said, _ = talk(kettle, ["2", "1", "instead fit a new seal"], "no-heat", workshop=Workshop())
    assert "Which of these?" in said
    assert "Fit a new seal" not in said.replace("instead fit a new seal", "")


def test_the_workshop_s_own_range_comes_before_the_catalogue_s(kettle, talk):
    own = {"kettle/element-nut": {"from": "8", "to": "10", "basis": "mark on our kettles"}}
    workshop = Workshop.model_validate({"torques": own})
    _, said, walker = talk(
        kettle, ["2", "1", "torque element nut 9", "torque element nut 5", "no"], "no-heat", workshop=workshop
    )
    assert "Element nut: 9 N·m entered." in said
    assert "5 N·m is under the range, 8 to 10 N·m. Is that right?" in said
    assert walker.case.torques["kettle/element-nut"].value == "9"


@pytest.mark.parametrize("price", ["1e999999999", "-5", "0", "nan"])
def test_a_price_that_nobody_can_mean_is_refused(kettle, talk, price):
    _, said, walker = talk(kettle, ["2", "1", f"agree {price}"], "no-heat")
    assert f"'{price}' is no price." in said
    assert walker.case.agreed is None


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("finish", "The questions are at their end already."),
        ("stop", "The questions are at their end already."),
        ("ask on", "All that can be asked was asked. Type back to go back to a question."),
    ],
)
def test_at_the_end_nothing_is_promised_that_cannot_be_done(kettle, talk, typed, told):
    _, said, _ = talk(kettle, ["2", "1", typed], "no-heat")
    assert told in said


def test_the_end_of_the_input_chooses_nothing(kettle, talk):
    _, said, walker = talk(kettle, ["1", "instead fit a new element"], "slow-boil", workshop=Workshop())
    assert "Not chosen.\n" in said
    assert not walker.case.overruled


def test_a_remedy_that_no_verdict_offers_is_not_chosen_unseen(kettle, talk):
    _, said, walker = talk(kettle, ["2", "1", "instead descale"], "no-heat", workshop=Workshop())
    assert "No remedy of these verdicts sounds like 'descale'." in said
    assert not walker.case.overruled


def test_a_fastener_with_a_figure_in_its_title_is_found(kettle, talk):
    nut = kettle.fasteners["kettle/element-nut"].model_copy(update={"title": "Nut of the 12 mm element"})
    library = replace(kettle, fasteners={**kettle.fasteners, "kettle/element-nut": nut})
    _, said, walker = talk(library, ["2", "1", "torque nut of the 12 mm element 5 N·m"], "no-heat")
    assert "Nut of the 12 mm element: 5 N·m entered." in said
    assert walker.case.torques["kettle/element-nut"].value == "5"


def test_what_has_no_price_is_named_beside_the_price(kettle, talk):
    parts = {name: part.model_copy(update={"price": None}) for name, part in kettle.parts.items()}
    _, said, _ = talk(replace(kettle, parts=parts), ["2", "1"], "no-heat", workshop=Workshop())
    assert "Not in the price: Heating element.\n" in said


def test_a_wish_is_called_by_the_remedy_that_is_done_for_it(kettle, talk):
    descale = kettle.jobs["kettle/base-off"].model_copy(update={"title": "Pour acid in"})
    library = replace(kettle, jobs={**kettle.jobs, "kettle/descale": descale})
    _, said, walker = talk(library, ["2", "1", "wish descale", "unwish"], "no-heat")
    assert "Wanted too: Descale.\n" in said
    assert "Taken back: Descale.\n" in said
    assert walker.case.wishes == ()


def test_a_torque_is_taken_back(kettle, talk):
    lines = [
        "untorque",
        "torque element nut 5",
        "torque base screw 1.2",
        "untorque",
        "untorque base screw",
        "untorque",
    ]
    _, said, walker = talk(kettle, ["2", "1", *lines], "no-heat")
    assert "No torque was entered yet." in said
    assert "Which fastener? Type its name after the word." in said
    assert not walker.case.torques


def test_at_the_hand_over_a_number_means_one_of_those_that_are_shown(kettle, talk):
    _, said, walker = talk(kettle, ["2", "1", "1", "hand over Kim", "99", "2", "1"], "no-heat", "leaks")
    assert "There is no 99 among them." in said
    assert walker.case.handed_over.confirmed["no-heat"] == walker.view.ranking("no-heat")[1][0]
    assert walker.case.handed_over.confirmed["leaks"] == walker.view.ranking("leaks")[0][0]
