"""Keys on the bench, without a terminal: what each does to the case and to the page."""

import dataclasses

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import Walker
from diagtree.errors import CannotWriteError
from diagtree.screens.bench.bench import BenchResult


@pytest.fixture
def bench(walk, pressed):
    return pressed(walk("no-heat"))


def answers(bench):
    return {step.place.name: step.answer for step in bench.walker.way}


# Answering


def test_a_digit_gives_that_answer_and_the_next_question_comes(bench):
    bench.press("1")
    assert answers(bench)["lamp"] == "no"
    assert "Does it work from another socket?" in bench.text()


def test_a_digit_without_an_answer_says_so(bench):
    bench.press("7")
    assert "There is no answer 7 here." in bench.text()
    assert "lamp" not in answers(bench)


def test_a_raised_two_is_no_digit_anywhere(walk, pressed):
    """It has a key of its own on a French keyboard, beside the 1."""
    bench = pressed(walk("no-heat", looked=False))
    bench.press("²")
    bench.press("end", "enter", "²", "o", "²", "escape")
    assert [step.says for step in bench.walker.way] == ["Can't tell", "Can't tell"]


def test_arrows_home_and_end_move_and_enter_answers(bench):
    bench.press("down", "enter")
    assert answers(bench)["lamp"] == "yes"
    bench.press("end")
    assert "> 0 ( ) I can't tell" in bench.text()
    bench.press("down")
    assert "> 0 ( ) I can't tell" in bench.text()
    bench.press("home", "enter")
    assert answers(bench)["hum"] == "no"


def test_page_keys_move_by_several_rows(bench):
    bench.press("pagedown")
    assert "> 0 ( )" in bench.text()
    bench.press("pageup")
    assert "> 1 ( )" in bench.text()


@pytest.mark.parametrize("key", ["0", "c"])
def test_cannot_tell_is_an_answer_of_its_own(bench, key):
    bench.press(key)
    assert bench.walker.way[-1].says == "Can't tell"


def test_capital_letters_are_taken_as_small_ones(bench):
    bench.press("C")
    assert bench.walker.way[-1].says == "Can't tell"


def test_after_an_answer_the_screen_says_what_it_changed(bench):
    bench.press("1")
    assert bench.walker.change
    assert bench.walker.change in " ".join(bench.text().split())


def test_the_ranking_moves_with_each_answer(bench):
    before = [cause.title for cause in bench.bench.facts.ranking]
    bench.press("2")
    after = bench.bench.facts.ranking
    assert [cause.title for cause in after] != before or any(cause.moved for cause in after)
    assert abs(sum(cause.chance for cause in after) - 1) < 1e-9


# Bursts, bounces, pastes


def test_a_burst_answers_one_question_only(bench):
    count = len(bench.walker.way)
    bench.press("1", "1", "1", after=0.0)
    assert len(bench.walker.way) == count + 1


def test_a_bounce_within_150_ms_is_let_go_by_and_a_key_after_that_counts(bench):
    bench.press("1")
    bench.press("1", after=0.14)
    assert "other-socket" not in answers(bench)
    bench.press("1", after=0.16)
    assert answers(bench)["other-socket"] == "no"


def test_a_bouncing_back_key_goes_back_once(bench):
    bench.press("1", "1")
    bench.press("b")
    bench.press("b", after=0.05)
    assert "Does it work from another socket?" in bench.text()


def test_moving_is_possible_at_once_after_a_new_question(bench):
    bench.press("1")
    bench.press("down", after=0.01)
    assert "> 2 ( )" in bench.text()


def test_a_clock_that_jumps_back_does_not_lock_the_keys(bench):
    bench.press("1")
    bench.clock.now = 5.0
    bench.bench.press("1")
    assert "other-socket" in answers(bench)


def test_pasted_text_never_answers(bench):
    count = bench.walker.case.count
    bench.bench.paste("1\n1\n")
    assert bench.walker.case.count == count
    assert "Pasted text never answers" in bench.text()


# Going back and forth


def test_back_keeps_the_old_answer_preselected(bench):
    bench.press("2", "b")
    assert "> 2 (*) Comes on" in bench.text()
    assert answers(bench)["lamp"] == "yes"


def test_back_works_to_the_first_question(bench):
    bench.press("1", "1", "1", "b", "b", "b")
    assert bench.walker.question.name == "lamp"
    bench.press("b")
    assert "> 1 (*) Like new" in bench.text()
    bench.press("b")
    assert "What does the customer say?" in bench.text()


def test_a_can_t_tell_is_preselected_too(bench):
    bench.press("0", "b")
    assert "> 0 (*) I can't tell" in bench.text()


def test_the_right_arrow_leaves_an_old_answer_as_it_was(bench):
    bench.press("2", "b", "right")
    assert answers(bench)["lamp"] == "yes"
    assert "Does it hum after a minute?" in bench.text()


def test_jump_goes_to_any_earlier_answer_and_later_ones_are_kept_where_they_fit(bench):
    bench.press("1", "1")
    bench.press("j")
    assert "Later answers are kept where they still fit." in bench.text()
    bench.press("1")
    assert "Is there lime around the spout?" in bench.text()
    bench.press("1")
    assert bench.walker.evidence.looks["lime"] == "clean"
    assert answers(bench)["other-socket"] == "no"


def test_jump_before_the_first_answer_says_that_there_is_nothing(walk, pressed, kettle):
    walker = walk("no-heat", looked=False)
    bench = pressed(walker)
    bench.press("g")
    assert len(walker.way) == 2
    bench.press("j")
    assert "Go to which question?" in bench.text()
    bench.press("escape")
    assert "Does the lamp come on?" in bench.text()


@pytest.mark.parametrize("key", [*"bjnwyxoiq?/", "escape", "left", "right", "backspace", "f1"])
def test_escape_leads_back_and_destroys_nothing(bench, key):
    bench.press("2")
    way = bench.walker.way
    bench.press(key, "escape", "escape", "escape")
    assert bench.walker.way == way
    assert bench.bench.result is None


# Finding an answer


def test_digits_and_letters_are_typed_only_after_a_slash(bench):
    bench.press("/")
    bench.type("come")
    text = bench.text()
    assert "Comes on" in text
    assert "Stays dark" not in text
    bench.press("enter")
    assert answers(bench)["lamp"] == "yes"


def test_a_search_without_a_find_says_so_and_escape_shows_all_again(bench):
    bench.press("/")
    bench.type("b1x")
    assert "no answer fits what was typed" in bench.text()
    bench.press("enter", "escape")
    assert "Stays dark" in bench.text()
    assert "lamp" not in answers(bench)


def test_what_is_pasted_into_a_search_answers_nothing(bench):
    bench.press("/")
    bench.bench.paste("come\n")
    assert "lamp" not in answers(bench)


# Explanations


def test_why_this_question_says_what_each_answer_would_bring(bench):
    bench.press("w")
    text = bench.text()
    assert "Stays dark" in text
    assert "Comes on" in text
    assert text.count("in 100") >= 4


def test_why_a_cause_names_the_answers_for_and_against_it(bench):
    bench.press("1", "1", "y", "1")
    text = bench.text()
    assert "Fuse blown" in text
    assert "For it" in text
    assert "Does the lamp come on? Stays dark" in text


def test_what_next_and_help_and_the_question_in_full_can_be_read(bench):
    bench.press("x")
    assert "What next" in bench.text()
    bench.press("escape", "?")
    assert "Every answer is saved when it is given." in bench.text()
    bench.press("escape", "i")
    text = bench.text()
    assert "Switch it on with water in it." in text
    assert "Basis: invented." in text


def test_what_next_offers_a_fact_of_two_complaints_once_and_says_whose_it_is(walk, pressed):
    walker = walk("no-heat", "leaks")
    walker.answer("dry", Place.check("leaks", "where"))
    open_now = [walker.library.trees[each.symptom].checks[each.check].fact for each in walker.view.gains]
    assert open_now.count("flex-looks") == 2, "both trees could be asked about the flex now"
    bench = pressed(walker)
    bench.press("x")
    text = bench.text(80, 40)
    assert text.count("Is the flex hurt anywhere?") == 1
    assert "The water stays cold. Settles" in text


def test_a_note_is_kept_with_its_question(bench):
    bench.press("n")
    bench.type("smells burnt")
    bench.press("enter")
    assert "Noted." in bench.text()
    note = bench.walker.case.notes[-1]
    assert (note.text, note.place.name) == ("smells burnt", "lamp")


def test_a_note_can_be_left(bench):
    bench.press("n")
    bench.type("x")
    bench.press("escape")
    assert not bench.walker.case.notes


def test_the_label_can_be_changed(bench):
    bench.press("l")
    assert "> the red one" in bench.text()
    bench.press("c-u", *"blue", "enter")
    assert bench.walker.case.label == "blue"
    assert bench.text().splitlines()[0].startswith(" blue")


def test_the_order_can_be_changed(bench):
    bench.press("o")
    assert "(*) Guided" in bench.text()
    bench.press("2")
    assert bench.walker.order == "shortest"
    bench.press("1", "b")
    here, count = bench.walker.question.place, bench.walker.case.count
    bench.press("o", "2")
    assert (bench.walker.question.place, bench.walker.case.count) == (here, count), "it was that already"


# Leaving


def test_control_c_leaves_at_once_from_every_page(walk, pressed):
    for keys in ((), ("n", "x"), ("/",), ("?",), ("j",), ("f",), ("o",)):
        bench = pressed(walk("no-heat"))
        bench.press(*keys, "c-c")
        assert bench.bench.result == BenchResult("interrupted", 130)


def test_q_asks_once_and_leaves_the_second_time(bench):
    bench.press("q")
    assert bench.bench.result is None
    assert "Everything is saved. Press q again" in bench.text()
    bench.press("down", "q")
    assert bench.bench.result is None
    bench.press("q")
    assert bench.bench.result == BenchResult("left", 3)


# Stop


def test_a_finding_that_stops_the_work_is_read_before_anything_else(walk, pressed):
    bench = pressed(walk("leaks"))
    bench.press("1")
    assert "Stop work" in bench.text()
    assert "! Do not switch it on. Refer it." in bench.text()
    bench.press("enter")
    assert "! Do not switch it on. Refer it." in bench.text()
    assert "What is to be done" in bench.text()


# Taking a case up again


def test_what_to_know_on_taking_up_a_case_is_read_first(walk, pressed):
    walker = walk("no-heat")
    walker.notices = ("The tree of 'The water stays cold' has changed.",)
    bench = pressed(walker)
    assert "The tree of 'The water stays cold' has changed." in bench.text()
    bench.press("enter")
    assert "Does the lamp come on?" in bench.text()


# A disk that is full


class FullLog:
    """A log on a disk that is full now and then."""

    def __init__(self):
        self.records = []
        self.full = False

    def append(self, record):
        if self.full:
            raise CannotWriteError("The disk is full.", "Make room, then answer again.")
        self.records.append(record)


def test_a_full_disk_is_told_the_question_stands_and_nothing_is_lost(walk, pressed):
    log = FullLog()
    bench = pressed(walk("no-heat", log=log))
    kept = list(log.records)
    log.full = True
    bench.press("1")
    assert "The disk is full. Make room, then answer again." in bench.text()
    assert "Does the lamp come on?" in bench.text()
    assert log.records == kept
    log.full = False
    bench.press("1")
    assert answers(bench)["lamp"] == "no"


def test_a_note_that_cannot_be_kept_is_still_in_the_field(walk, pressed):
    log = FullLog()
    bench = pressed(walk("no-heat", log=log))
    bench.press("n")
    bench.type("smells burnt")
    log.full = True
    bench.press("enter")
    assert "The disk is full." in bench.text()
    assert "> smells burnt" in bench.text()
    log.full = False
    bench.press("enter")
    assert bench.walker.case.notes[-1].text == "smells burnt"


# What is settled


def test_a_question_that_is_settled_is_not_asked_and_the_screen_says_why(walk, pressed):
    bench = pressed(walk("no-heat", "leaks"))
    bench.press("1", "1", "2")
    assert "Is the flex hurt anywhere?" in bench.text()
    bench.press("2")
    assert "Where does the water come from?" in bench.text()
    bench.press("3")
    assert "flex-look" not in answers(bench)
    assert bench.walker.finished


def test_what_was_just_passed_over_is_told_once(walk, pressed):
    bench = pressed(walk("leaks", "no-heat", "slow-boil"))
    bench.press("3", "2", "1", "1")
    assert "Does the fuse let current through?" in bench.text()
    assert "Not asked" not in bench.text(120, 40)
    bench.press("2")
    assert "What does the element look like?" in bench.text()
    assert "* Not asked: Is the flex hurt anywhere? Asked already" in bench.text(120, 40)
    bench.press("x")
    assert "Not asked: Is the flex hurt anywhere? Asked already" in " ".join(bench.text(40, 24).split())
    bench.press("escape", "2")
    assert "Not asked" not in bench.text(120, 40)


def test_what_next_can_be_read_where_nothing_tells_more(walk, pressed):
    bench = pressed(walk("leaks"))
    bench.press("1", "escape", "x")
    assert "Nothing that could be asked now would tell more." in bench.text()
    assert "Likely now: 1st Seal perished" in bench.text()
    bench.press("enter")
    assert "What is to be done" in bench.text()


def test_what_must_be_opened_is_said_with_its_minutes_and_once(kettle, pressed):
    """The lamp is behind the base, which is off then for the hum."""
    tree = kettle.trees["no-heat"]
    behind = {
        "lamp": ("kettle/base-off",),
        "hum": ("kettle/base-off",),
        "other-socket": ("kettle/swap-element",),
    }
    checks = {n: c.model_copy(update={"behind": behind.get(n, ())}) for n, c in tree.checks.items()}
    library = dataclasses.replace(
        kettle, trees={**kettle.trees, "no-heat": tree.model_copy(update={"checks": checks})}
    )
    walker = Walker(library, MemoryLog(), complaints=("no-heat",))
    for _ in library.looks:
        walker.cannot_tell()
    bench = pressed(walker)
    base, element = (library.jobs[f"kettle/{job}"].title for job in ("base-off", "swap-element"))
    assert f"First: {base} (2 minutes)." in bench.text(120, 40)
    walker.answer("yes")
    assert walker.question.name == "hum"
    assert "First:" not in bench.text(120, 40)
    walker.back()
    walker.answer("no")
    assert walker.question.name == "other-socket"
    assert f"First: {element} (8 minutes)." in bench.text(120, 40)
