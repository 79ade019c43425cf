"""The walk in the author's order, over the kettle."""

from __future__ import annotations

from decimal import Decimal

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import NoQuestionError, Walker
from diagtree.errors import CannotWriteError, UnknownNameError
from diagtree.library.library import Library, join
from diagtree.model.tree import Tree


def walker(library: Library, *complaints: str, log: MemoryLog | None = None, looks: bool = False) -> Walker:
    ticks = iter(range(10_000))
    walked = Walker(
        library,
        MemoryLog() if log is None else log,
        complaints=complaints,
        clock=lambda: f"2026-01-02T03:{next(ticks) // 60:02}:00+00:00",
    )
    if not looks:
        for question in walked.looks:
            if question.previous is None and not question.could_not_tell and complaints:
                walked.cannot_tell(question.place)
    return walked


def asked(walked: Walker) -> str | None:
    return walked.question.place.key if walked.question else None


def test_the_quick_looks_come_first_then_each_tree_in_the_authors_order(kettle):
    walked = walker(kettle, "no-heat", "slow-boil", looks=True)
    seen = []
    for answer in ["limed", "worn", "no", "no", "no", "bare", "yes", "low"]:
        seen.append(asked(walked))
        walked.answer(answer)
    assert seen == [
        "look:lime",
        "look:handle",
        "check:no-heat:lamp",
        "check:no-heat:other-socket",
        "check:no-heat:fuse",
        "check:slow-boil:look-inside",
        "check:slow-boil:lid",
        "check:slow-boil:heat",
    ]
    assert walked.finished
    assert walked.stage == "end"
    assert [step.says for step in walked.way][:3] == ["Limed", "Shiny with wear", "Stays dark"]


def test_before_the_first_complaint_there_is_no_question(kettle):
    walked = walker(kettle)
    assert (walked.stage, walked.question, walked.finished) == ("complaints", None, False)
    with pytest.raises(NoQuestionError, match="There is no question to answer now"):
        walked.answer("yes")
    walked.choose(["leaks"])
    assert walked.stage == "looks"


def test_an_unknown_complaint_names_near_ones_and_writes_nothing(kettle):
    log = MemoryLog()
    with pytest.raises(UnknownNameError, match="There is no symptom 'no-heet'"):
        Walker(kettle, log, complaints=["no-heet"])
    assert not log.records


def test_an_unknown_answer_is_refused_and_nothing_is_written(kettle):
    log = MemoryLog()
    walked = walker(kettle, "no-heat", log=log)
    before = len(log.records)
    with pytest.raises(UnknownNameError, match=r"There is no answer 'maybe'\. Choose one of: no, yes\."):
        walked.answer("maybe")
    assert len(log.records) == before


def test_back_goes_any_number_of_answers_back_and_keeps_the_old_answer_selected(kettle):
    walked = walker(kettle, "no-heat")
    for answer in ["no", "no", "no"]:
        walked.answer(answer)
    assert walked.finished
    for place, previous in [("fuse", "no"), ("other-socket", "no"), ("lamp", "no")]:
        assert walked.back()
        assert (walked.question.name, walked.question.previous) == (place, previous)
        assert walked.revisiting
    assert walked.back()
    assert walked.back()
    assert asked(walked) == "look:lime"
    assert walked.question.could_not_tell
    assert not walked.back()
    walked.forward()
    assert walked.finished


def test_the_same_answer_again_changes_nothing_and_goes_on_to_the_first_open_question(kettle):
    walked = walker(kettle, "no-heat")
    walked.answer("no")
    walked.answer("no")
    walked.back()
    walked.back()
    walked.answer("no")
    assert asked(walked) == "check:no-heat:fuse"
    assert walked.change.startswith("Nothing changed:")


def test_a_changed_answer_sets_aside_what_no_longer_fits_and_brings_it_back_when_it_does(kettle):
    walked = walker(kettle, "no-heat")
    for answer in ["no", "no", "yes", "sound"]:
        walked.answer(answer)
    walked.jump(Place.check("no-heat", "lamp"))
    walked.answer("yes")
    # The fuse and the flex can be looked at any time; trying another socket makes no sense with a lit lamp.
    assert [step.place.name for step in walked.aside] == ["other-socket"]
    assert {step.place.name for step in walked.way} >= {"lamp", "fuse", "flex"}
    assert ("no-heat", "other-socket") not in walked.evidence.answers
    assert walked.change.endswith("1 later answer has no place now and is set aside.")
    assert asked(walked) == "check:no-heat:hum"
    walked.jump(Place.check("no-heat", "lamp"))
    walked.answer("no")
    assert not walked.aside
    assert walked.finished
    assert walked.evidence.answers["no-heat", "other-socket"] == "no"


def test_one_fact_is_asked_once_and_entered_in_each_complaint(kettle):
    walked = walker(kettle, "no-heat", "leaks")
    for answer in ["no", "no", "yes", "hurt", "dry"]:
        walked.answer(answer)
    assert walked.finished
    assert walked.evidence.answers["no-heat", "flex"] == "hurt"
    assert walked.evidence.answers["leaks", "flex-look"] == "hurt"
    (told,) = walked.skipped
    assert told.place == Place.check("leaks", "flex-look")
    assert told.reason == "Asked already (The water stays cold): Cut, kinked or scorched."


def test_a_fact_answered_anew_elsewhere_counts_as_it_was_told_last(kettle):
    walked = walker(kettle, "no-heat", "leaks")
    for answer in ["no", "no", "yes", "hurt", "dry"]:
        walked.answer(answer)
    walked.jump(walked.skipped[0])
    assert walked.question.previous == "hurt"
    walked.answer("sound")
    assert walked.evidence.answers["no-heat", "flex"] == "sound"
    assert walked.evidence.answers["leaks", "flex-look"] == "sound"
    assert "set aside" not in walked.change, "it was told anew, and has lost no place"
    assert walked.aside == ()
    assert [(each.place.key, each.reason) for each in walked.skipped] == [
        (
            "check:no-heat:flex",
            "Answered here first, and asked again later (Water on the table): Sound.",
        )
    ]


def test_cannot_tell_is_no_evidence_and_the_walk_goes_on_with_the_likeliest_way(kettle):
    walked = walker(kettle, "no-heat")
    walked.cannot_tell()
    assert not walked.evidence.answers
    chances = walked.belief.predict("no-heat", "lamp")
    likeliest = max(chances, key=chances.__getitem__)
    assert asked(walked) == {"no": "check:no-heat:other-socket", "yes": "check:no-heat:hum"}[likeliest]
    assert walked.way[-1].says == "Can't tell"
    walked.back()
    assert walked.question.could_not_tell


def test_cannot_tell_follows_the_authors_way_on_where_there_is_one(kettle):
    tree = kettle.trees["no-heat"]
    lamp = tree.checks["lamp"].model_copy(update={"cannot_tell": "hum"})
    library = join(trees=[tree.model_copy(update={"checks": {**tree.checks, "lamp": lamp}})])
    walked = Walker(library, MemoryLog(), complaints=["no-heat"])
    walked.cannot_tell()
    assert asked(walked) == "check:no-heat:hum"


def test_where_nobody_can_tell_and_nothing_leads_on_the_complaint_ends(kettle):
    walked = walker(kettle, "no-heat")
    walked.answer("yes")
    walked.cannot_tell()
    assert walked.finished
    assert walked.standing.walks["no-heat"].leaf is None


def test_the_way_followed_where_nobody_could_tell_stays_when_belief_moves(kettle):
    log = MemoryLog()
    walked = walker(kettle, "no-heat", log=log)
    walked.cannot_tell()
    first = asked(walked)
    walked.jump(Place.look("lime"))
    walked.answer("limed")
    assert asked(walked) == first
    assert asked(Walker(kettle, MemoryLog(log.records))) == first


def test_a_finding_that_says_stop_says_so(kettle):
    walked = walker(kettle, "leaks")
    walked.answer("below")
    assert walked.stops == (("leaks", "Do not switch it on. Refer it."),)


def test_notes_stay_with_the_question_at_which_they_were_made(kettle):
    walked = walker(kettle, "leaks")
    walked.note("drips after a minute")
    walked.answer("top")
    assert walked.way[-1].notes == ("drips after a minute",)


def test_a_complaint_can_be_added_and_dropped_and_its_answers_wait(kettle):
    walked = walker(kettle, "no-heat")
    for answer in ["no", "no", "no"]:
        walked.answer(answer)
    assert walked.finished
    walked.choose(["no-heat", "leaks"])
    assert asked(walked) == "check:leaks:where"
    walked.answer("top")
    walked.choose(["no-heat"])
    assert [step.place.key for step in walked.aside] == ["check:leaks:where"]
    assert walked.evidence.complaints == ("no-heat",)
    walked.choose(["leaks", "no-heat"])
    assert not walked.aside
    assert walked.finished


def test_finishing_early_ends_the_questions_until_one_is_taken_up_again(kettle):
    walked = walker(kettle, "no-heat")
    walked.answer("no")
    walked.finish("the customer is waiting")
    assert walked.finished
    assert walked.question is None
    walked.back()
    assert not walked.finished
    assert walked.question.name == "lamp"


def test_a_question_whose_answer_is_as_good_as_certain_is_passed_over_and_said():
    tree = Tree.model_validate(
        {
            "symptom": "dim",
            "title": "The lamp is dim",
            "family": "lamp",
            "first": "bulb",
            "checks": {
                "bulb": {
                    "ask": "Is the bulb black?",
                    "minutes": "1",
                    "trust": "sure",
                    "answers": {
                        "yes": {"says": "Black", "found": {"bulb-old": "50"}},
                        "no": {"says": "Clear", "next": "cable"},
                    },
                },
                "cable": {
                    "ask": "Is the cable the long one?",
                    "minutes": "1",
                    "answers": {
                        "yes": {"says": "Long", "next": "socket"},
                        "no": {"says": "Short", "found": {"shade-dirty": "1"}},
                    },
                },
                "socket": {
                    "ask": "Is the socket loose?",
                    "minutes": "1",
                    "answers": {
                        "yes": {"says": "Loose", "found": {"socket-loose": "30"}},
                        "no": {"says": "Tight", "found": {"cable-thin": "19"}},
                    },
                },
            },
        }
    )
    from diagtree.model.family import Family

    family = Family.model_validate(
        {
            "family": "lamp",
            "title": "Lamp",
            "causes": {
                name: {"title": name, "out-of-100": "5", "risk": "nuisance", "why": "?", "remedies": ["fix"]}
                for name in ("bulb-old", "shade-dirty", "socket-loose", "cable-thin")
            },
            "remedies": {"fix": {"title": "Fix", "verdict": "service", "holds": "90"}},
        }
    )
    # One in fifty is asked for: what the cable could still find is not unlikely enough.
    rare = tree.model_copy()
    walked = Walker(join([family], trees=[rare]), MemoryLog(), complaints=["dim"])
    walked.answer("no")
    assert asked(walked) == "check:dim:cable"
    # One in five hundred is passed over.
    answers = tree.checks["cable"].answers
    few = answers["no"].model_copy(update={"found": {"shade-dirty": Decimal("0.05")}})
    cable = tree.checks["cable"].model_copy(update={"answers": {**answers, "no": few}})
    rare = tree.model_copy(update={"checks": {**tree.checks, "cable": cable}})
    walked = Walker(join([family], trees=[rare]), MemoryLog(), complaints=["dim"])
    walked.answer("no")
    assert asked(walked) == "check:dim:socket"
    (told,) = walked.skipped
    assert told.reason == "Settled by what was told: 'Long' is as good as certain."
    # But never where something unsafe could be overlooked.
    causes = {**family.causes}
    unsafe = causes["shade-dirty"].model_validate(
        {**causes["shade-dirty"].model_dump(by_alias=True), "risk": "unsafe"}
    )
    causes["shade-dirty"] = unsafe
    walked = Walker(
        join([family.model_copy(update={"causes": causes})], trees=[rare]), MemoryLog(), complaints=["dim"]
    )
    walked.answer("no")
    assert asked(walked) == "check:dim:cable"


def test_a_draft_with_a_loop_or_a_hole_is_walked_as_far_as_it_goes(kettle):
    def check(**answers):
        return {"ask": "?", "minutes": "1", "answers": answers}

    draft = Tree.model_validate(
        {
            "symptom": "draft",
            "title": "A draft",
            "family": "kettle",
            "first": "one",
            "checks": {
                "one": check(a={"says": "A", "next": "two"}, b={"says": "B", "next": "nowhere"}),
                "two": check(a={"says": "A", "next": "one"}, b={"says": "B", "found": {"scale": "100"}}),
            },
        }
    )
    library = join(families=kettle.families.values(), trees=[draft])
    walked = Walker(library, MemoryLog(), complaints=["draft"])
    walked.answer("b")
    assert (
        walked.standing.walks["draft"].stuck == "The tree leads to a check 'nowhere' that it does not have."
    )
    walked.jump(walked.way[0])
    walked.answer("a")
    walked.answer("a")
    assert walked.standing.walks["draft"].stuck == "The tree leads back to 'one', in a circle."
    walked.back()
    walked.answer("b")
    assert walked.finished


def test_a_log_taken_up_again_stands_where_it_stood(kettle):
    log = MemoryLog()
    walked = walker(kettle, "no-heat", log=log)
    walked.answer("no")
    walked.note("smells")
    again = Walker(kettle, MemoryLog(log.records))
    assert again.case == walked.case
    assert asked(again) == asked(walked)
    assert again.notices == ()


def test_the_first_question_needs_no_belief(kettle, monkeypatch):
    from diagtree.reasoning.belief import BeliefModel

    monkeypatch.setattr(BeliefModel, "of", None)
    assert Walker(kettle, MemoryLog(), complaints=["no-heat"]).question.name == "lime"
    assert Walker(
        join(kettle.families.values(), [], kettle.trees.values()), MemoryLog(), complaints=["no-heat"]
    ).question


def test_an_answer_that_could_not_be_kept_is_not_taken(kettle):
    class Full(MemoryLog):
        full = False

        def append(self, record):
            if self.full:
                raise CannotWriteError("The disk is full.")
            super().append(record)

    log = Full()
    walked = walker(kettle, "no-heat", log=log)
    case, question = walked.case, walked.question
    log.full = True
    with pytest.raises(CannotWriteError):
        walked.answer("no")
    assert (walked.case, walked.question) == (case, question)
    log.full = False
    walked.answer("no")
    assert asked(walked) == "check:no-heat:other-socket"


def test_an_answer_stands_where_only_what_follows_by_itself_could_not_be_kept(kettle):
    class FullAfterTheAnswer(MemoryLog):
        full = False

        def append(self, record):
            if self.full and record["kind"] == "passed":
                raise CannotWriteError("The disk is full.")
            super().append(record)

    log = FullAfterTheAnswer()
    walked = walker(kettle, "no-heat", log=log)
    log.full = True
    walked.cannot_tell()
    assert [step.place.name for step in walked.way][-1] == "lamp"
    log.full = False
    # Taken up again, or at the next thing that is done, the walk goes on.
    assert asked(Walker(kettle, MemoryLog(log.records))) in {
        "check:no-heat:hum",
        "check:no-heat:other-socket",
    }
    walked.note("made room")
    assert asked(walked) in {"check:no-heat:hum", "check:no-heat:other-socket"}
