"""Line mode over the kettle: what is said, what can be typed, how it is left."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.places import Place
from diagtree.case.walker import Walker
from diagtree.errors import CannotWriteError
from diagtree.library.library import join
from diagtree.model.workshop import Workshop
from diagtree.screens.line import LineMode

RESUME = "diagtree diagnose --case x.case"


def test_a_whole_walk_reads_as_a_talk(kettle, talk):
    status, said, walker = talk(kettle, ["dead", "", "2", "t", "1", "1", "2", "2", ""])
    assert status == 0
    assert walker.finished
    assert said == WHOLE_WALK


WHOLE_WALK = """\
A kettle comes in. Type ? for help, quit to leave. Every answer is saved at once.

What is wrong with the kettle? Type what the customer says, or a number.
  1  The water stays cold
  2  It takes for ever to boil
  3  Water on the table
> dead
Chosen: The water stays cold. Say another, or press Enter to go on.
>\x20

How the kettle was kept and used
Question 1. Is there lime around the spout? (half a minute)
  1  Clean
  2  Limed
  t  Can't tell
> 2
Answered: Limed.
Element burnt out stays 1st and rose from 28 in 100 to 32 in 100.
Likely now: 1st Element burnt out, 32 in 100; 2nd Switch contacts worn, 22 in 100; 3rd Flex damaged, 16 in 100.

Question 2. How worn is the handle? (half a minute)
  1  Like new
  2  Shiny with wear
  t  Can't tell
> t
Answered: can't tell.
Nothing changed: Element burnt out stays 1st, 32 in 100.
Likely now: 1st Element burnt out, 32 in 100; 2nd Switch contacts worn, 22 in 100; 3rd Flex damaged, 16 in 100.

The water stays cold
Question 3. Does the lamp come on? (1 minute)
Switch it on with water in it.
  1  Stays dark
  2  Comes on
  t  Can't tell
> 1
Answered: Stays dark.
Switch contacts worn rose from 2nd to 1st, 34 in 100.
Likely now: 1st Switch contacts worn, 34 in 100; 2nd Flex damaged, 28 in 100; 3rd Fuse blown, 28 in 100.

Question 4. Does it work from another socket? (2 minutes)
  1  Still dead
  2  Works there
  t  Can't tell
> 1
Answered: Still dead.
Switch contacts worn stays 1st, 38 in 100; Flex damaged fell from 28 in 100 to 21 in 100.
Likely now: 1st Switch contacts worn, 38 in 100; 2nd Fuse blown, 31 in 100; 3rd Flex damaged, 21 in 100.

Question 5. Does the fuse let current through? (3 minutes)
Take the fuse out. Test it with the meter.
  1  No
  2  Yes
  t  Can't tell
> 2
Answered: Yes.
Switch contacts worn stays 1st, 54 in 100; Fuse blown fell from 31 in 100 to 1 in 100.
Likely now: 1st Switch contacts worn, 54 in 100; 2nd Flex damaged, 30 in 100; 3rd Element burnt out, 14 in 100.

Question 6. Is the flex hurt anywhere? (1 minute)
  1  Cut, kinked or scorched
  2  Sound
  t  Can't tell
> 2
Answered: Sound.
Switch contacts worn stays 1st, 71 in 100; Flex damaged fell from 30 in 100 to 8 in 100.
Likely now: 1st Switch contacts worn, 71 in 100; 2nd Element burnt out, 19 in 100; 3rd Flex damaged, 8 in 100.

The questions are at their end.
Likely now: 1st Switch contacts worn, 71 in 100; 2nd Element burnt out, 19 in 100; 3rd Flex damaged, 8 in 100.
Enter for the job sheet; ? for what else can be done.
>\x20
"""


def test_the_end_of_the_input_saves_and_says_how_to_go_on(kettle, talk):
    status, said, walker = talk(kettle, ["1"], "no-heat")
    assert status == 3
    assert said.endswith("> \nSaved. To go on: diagtree diagnose --case x.case\n")
    assert len(walker.way) == 3


@pytest.mark.parametrize("word", ["quit", "q", "QUIT", "exit"])
def test_quit_saves_and_says_how_to_go_on(kettle, word, talk):
    status, said, _ = talk(kettle, [word], "no-heat")
    assert (status, said.splitlines()[-1]) == (3, "Saved. To go on: diagtree diagnose --case x.case")


def test_the_end_of_the_input_after_the_last_question_is_an_end(kettle, talk):
    status, _, walker = talk(kettle, ["2", "2"], "no-heat")
    assert (status, walker.finished) == (0, True)


def test_ctrl_c_saves_and_says_how_to_go_on(kettle):
    class Interrupted(io.StringIO):
        def readline(self, *_):
            raise KeyboardInterrupt

    walker = Walker(kettle, MemoryLog(), complaints=["no-heat"])
    walker.answer("limed")
    sink = io.StringIO()
    assert LineMode(walker, Interrupted(), sink, resume=RESUME).run() == 130
    assert sink.getvalue().endswith("Saved. To go on: diagtree diagnose --case x.case\n")


@pytest.mark.parametrize("said", ["1", "stays dark", "Stays Dark", "no", "dark"])
def test_an_answer_is_given_by_its_number_its_name_or_its_words(kettle, said, talk):
    _, _, walker = talk(kettle, [said], "no-heat")
    assert walker.evidence.answers == {("no-heat", "lamp"): "no"}


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("3", "There is no answer 3. Type a number from 1 to 2."),
        ("0", "There is no answer 0. Type a number from 1 to 2."),
        ("99999999999999999999", "There is no answer 99999999999999999999. Type a number from 1 to 2."),
        ("c", "Type choose and a number from 1 to 2."),
        ("choose it", "Type choose and a number from 1 to 2."),
        ("perhaps", "'perhaps' is none of the answers. Type a number, or ? for help."),
        ("s", "'s' is none of the answers. Type a number, or ? for help."),
        ("", "Type the number of your answer, or ? for help."),
        ("\x1b[A", r"'\x1b[A' is none of the answers. Type a number, or ? for help."),
        ("x" * 5000, "That line is too long: 4,000 letters at most."),
        ("torque base screw 1", "That comes when the questions are at their end. Type finish to end them."),
        ("back", None),
    ],
)
def test_what_is_no_answer_is_told_and_answers_nothing(kettle, said, told, talk):
    _, heard, walker = talk(kettle, [said], "no-heat")
    assert not walker.evidence.answers
    if told is not None:
        assert told in heard.splitlines()


def test_back_keeps_the_old_answer_and_enter_leaves_it(kettle, talk):
    _, said, walker = talk(kettle, ["1", "1", "back", "b", "", "quit"], "no-heat")
    assert "  1  Stays dark (your answer before)\n" in said
    assert "Enter keeps the answer as it was.\n" in said
    assert walker.question.name == "fuse"
    assert "There is no question before this one." in talk(kettle, ["back"], "no-heat", looks=False)[1]


def test_back_to_what_nobody_could_tell_marks_that(kettle, talk):
    _, said, _ = talk(kettle, ["t", "back"], "no-heat")
    assert "  t  Can't tell (your answer before)\n" in said


def test_why_says_what_the_question_would_settle(kettle, talk):
    _, said, walker = talk(kettle, ["why"], "no-heat")
    chances = walker.belief.predict("no-heat", "lamp")
    assert f"'Stays dark' is likely {round(chances['no'] * 100)} in 100. Then first: " in said
    _, said, _ = talk(kettle, ["why"], "no-heat", looks=False)
    assert "It speaks of one side of how the kettle has lived: water." in said


def test_why_says_how_an_answer_would_change_the_plan_where_the_workshop_is_known(kettle, talk):
    _, said, _ = talk(kettle, ["why"], "no-heat", workshop=Workshop())
    told = re.findall(
        r"^'(.+)' is likely \d+ in 100\. Then first: .+ Start with: (.+)\.$", said, re.MULTILINE
    )
    assert {answer for answer, _ in told} == {"Stays dark", "Comes on"}
    assert len({start for _, start in told}) == 2, "the answers lead to different repairs"
    assert "\nTo start with as things stand: " in said
    assert "Start with: " not in talk(kettle, ["why"], "no-heat")[1]


def test_why_does_not_count_the_answer_that_the_question_has_already(kettle, talk):
    _, fresh, _ = talk(kettle, ["why"], "no-heat")
    _, said, _ = talk(kettle, ["1", "back", "why"], "no-heat")
    told = [line for line in fresh.splitlines() if " is likely " in line]
    assert told
    assert told == [line for line in said.splitlines() if " is likely " in line]


def test_the_picture_says_which_answer_moved_it_most(kettle, talk):
    _, said, _ = talk(kettle, ["2", "t", "picture"], "no-heat", looks=False)
    assert "Water: hard water, " in said
    assert "Moved most by: Is there lime around the spout? Limed.\n" in said


def test_why_a_cause_says_what_speaks_for_and_against_it(kettle, talk):
    _, said, _ = talk(kettle, ["1", "why flex damaged", "why fuze blown", "why zzzzz"], "no-heat")
    assert "The flex was bent sharply at the plug." in said
    assert re.search(
        r"^For it: Does the lamp come on\? Stays dark\. It speaks \w+( \w+)?: odds [\d.]+ times higher\.$",
        said,
        re.M,
    )
    assert "Something drew too much current once." in said
    assert "No cause sounds like 'zzzzz'. Type likely to see them." in said


def test_notes_the_way_and_jumping_back(kettle, talk):
    _, said, walker = talk(
        kettle,
        ["note smells burnt", "note", "and of fish", "note", "", "1", "way", "jump 3", "quit"],
        "no-heat",
    )
    assert "  3  Does the lamp come on? Stays dark. Note: smells burnt. Note: and of fish.\n" in said
    assert "Nothing noted." in said
    assert walker.question.name == "lamp"
    _, said, _ = talk(kettle, ["jump 9"], "no-heat")
    assert "Type jump and a number from 1 to 2." in said


def test_the_order_can_be_changed(kettle, talk):
    _, said, walker = talk(kettle, ["order", "order guided", "order shortest"], "no-heat", "slow-boil")
    assert "Order: shortest, first what leads to a finding soonest." in said
    assert walker.order == "shortest"


def test_a_reading_is_taken_echoed_and_asked_again_when_odd(kettle, talk):
    lines = ["2", "2", "970", "yes", "back", "970", "no", "hot", "97 °C", ""]
    status, said, walker = talk(kettle, lines, "slow-boil")
    assert status == 0
    assert "Water temperature: type what you measured, for example 97 °C. Or:" in said
    assert (
        "Water temperature 970 °C is more than 101 °C. Is that right? Type yes to take it, or measure again."
        in said
    )
    assert "Measured: 970 °C." in said
    assert "Not taken. Measure again and type the value, or type choose and a number." in said
    assert "'hot' is not a number with a unit. Write it like this: 97 °C" in said
    assert "Measured: 97 °C." in said
    assert walker.way[-1].says == "At the boil (97 °C)"


def test_the_answers_to_a_reading_can_be_chosen_without_measuring(kettle, talk):
    _, said, walker = talk(kettle, ["2", "2", "choose 1"], "slow-boil")
    assert "  choose 1  Well under boiling\n" in said
    assert walker.evidence.answers["slow-boil", "heat"] == "low"


def test_yes_takes_an_odd_value_only_at_once(kettle, talk):
    _, _, walker = talk(kettle, ["2", "2", "970", "likely", "yes"], "slow-boil")
    assert ("slow-boil", "heat") not in walker.evidence.answers


def test_a_question_that_was_not_asked_is_named_with_the_reason(kettle, talk):
    _, said, _ = talk(kettle, ["1", "1", "2", "1", "3"], "no-heat", "leaks")
    assert (
        "Not asked: Is the flex hurt anywhere? Asked already (The water stays cold): Cut, kinked or scorched.\n"
        in said
    )
    assert said.count("Not asked:") == 1


def test_a_finding_that_stops_the_work_says_stop_once(kettle, talk):
    _, said, _ = talk(kettle, ["1", "why seal", "likely"], "leaks")
    assert said.count("STOP. Do not switch it on. Refer it.") == 1


def test_an_answer_in_its_own_words_is_no_verb(kettle, talk):
    tree = kettle.trees["leaks"]
    where = tree.checks["where"]
    top = where.answers["top"].model_copy(update={"says": "Back of the lid"})
    where = where.model_copy(update={"answers": {**where.answers, "top": top}})
    library = join(
        kettle.families.values(), [], [tree.model_copy(update={"checks": {**tree.checks, "where": where}})]
    )
    _, _, walker = talk(library, ["back of the lid"], "leaks")
    assert walker.evidence.answers == {("leaks", "where"): "top"}


def test_nothing_that_an_author_writes_steers_the_terminal(kettle, talk):
    tree = kettle.trees["leaks"]
    where = tree.checks["where"].model_copy(update={"ask": "Where\x1b]0;owned\x07 from\u202e?"})
    library = join(
        kettle.families.values(), [], [tree.model_copy(update={"checks": {**tree.checks, "where": where}})]
    )
    _, said, _ = talk(library, ["note \x1b[2J", "1"], "leaks")
    assert "\x1b" not in said
    assert "\u202e" not in said
    assert r"Where\x1b]0;owned\x07 from\u202e?" in said


def test_a_full_disk_is_told_and_the_question_stands(kettle):
    class Full(MemoryLog):
        full = False

        def append(self, record):
            if self.full:
                raise CannotWriteError(
                    "Cannot write x.case: the disk is full.", "Everything before it is saved."
                )
            super().append(record)

    log = Full()
    walker = Walker(kettle, log, complaints=["no-heat"])
    log.full = True
    sink = io.StringIO()
    with pytest.raises(CannotWriteError, match="the disk is full"):
        LineMode(walker, io.StringIO("1\n2\n"), sink, resume=RESUME).run()
    assert sink.getvalue().count("Cannot write x.case: the disk is full. Everything before it is saved.") == 2
    assert not walker.way
    log.full = False
    assert LineMode(walker, io.StringIO("1\n"), sink, resume=RESUME).run() == 3
    assert len(walker.way) == 1


def test_lines_are_broken_to_the_width_that_is_asked_for(kettle, talk):
    _, said, _ = talk(kettle, ["1", "why flex damaged"], "no-heat", width=40)
    assert max(len(line) for line in said.splitlines()) <= 40


def test_a_case_taken_up_again_says_so(kettle, talk):
    log = MemoryLog()
    talk(kettle, ["1"], "no-heat", log=log)
    walker = Walker(kettle, log)
    sink = io.StringIO()
    LineMode(walker, io.StringIO(""), sink).run()
    assert "Taken up again after 3 answers.\n" in sink.getvalue()
    assert "Question 4. Does it work from another socket? (2 minutes)\n" in sink.getvalue()
    assert sink.getvalue().endswith("Saved.\n")


def test_the_advice_to_stop_asking_is_given_once_and_can_be_taken_or_overruled(kettle, talk):
    workshop = Workshop(rate=Decimal(120))
    _, said, walker = talk(kettle, ["1", "why", "1", "stop"], "no-heat", "slow-boil", workshop=workshop)
    assert said.count("Stop asking: start with 'Fit a new fuse'") == 1
    assert "Type stop to do so, or answer on.\n" in said
    assert "No more questions about: The water stays cold. Type ask on to take them up again.\n" in said
    assert walker.question.symptom == "slow-boil"
    _, said, walker = talk(kettle, ["ask on", "1", "1"], "no-heat", workshop=workshop)
    assert "Stop asking" not in said
    assert walker.case.asking_on
    assert "Nothing is asked about a complaint now." in talk(kettle, ["stop"], "no-heat", looks=False)[1]


def test_an_answer_that_does_not_fit_is_named_with_the_way_back(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=["no-heat", "leaks"])
    for look in walker.looks:
        walker.cannot_tell(look.place)
    for name, answer in [("fuse", "no"), ("flex", "hurt")]:
        walker.answer(answer, Place.check("no-heat", name))
    walker.answer("below", Place.check("leaks", "where"))
    sink = io.StringIO()
    LineMode(walker, io.StringIO("2\n2\njump 6\n"), sink).run()
    assert (
        "These answers do not fit together. Look again at this one first: Does the lamp come on? "
        "You said: Comes on. Type jump 6 to go back to it.\n"
    ) in sink.getvalue()
    assert walker.question.name == "lamp"


def test_a_draft_that_leads_in_a_circle_is_talked_through_and_the_circle_is_named(kettle, talk):
    tree = kettle.trees["leaks"]
    where = tree.checks["where"]
    dry = where.answers["dry"].model_copy(update={"next": "where"})
    where = where.model_copy(update={"answers": {**where.answers, "dry": dry}})
    library = join(
        kettle.families.values(), [], [tree.model_copy(update={"checks": {**tree.checks, "where": where}})]
    )
    _, said, _ = talk(library, ["why", "picture", "likely", "3", ""], "leaks", workshop=Workshop())
    assert "Nothing can be worked out for this draft yet: see diagtree proofread." in said
    assert "Water on the table: The tree leads back to 'where', in a circle." in said


def test_a_bare_no_is_never_taken_for_an_answer_in_which_these_letters_stand(kettle, talk):
    _, said, walker = talk(kettle, ["limed no", "no", "yes", "le", "quit"], "no-heat", looks=False)
    for typed in ("limed no", "no", "yes", "le"):
        assert f"'{typed}' is none of the answers. Type a number, or ? for help." in said
    assert not walker.case.given


def test_whole_words_of_an_answer_give_it_and_words_of_two_do_not(kettle, talk):
    _, said, walker = talk(kettle, ["flex damaged", "from", "the top", "quit"], "leaks")
    assert said.count("is none of the answers") == 2
    assert [given.says for given in walker.case.given.values() if not given.place.is_look] == ["From the top"]


def test_what_a_measured_answer_means_is_told_as_for_any_other(kettle, talk):
    tree = kettle.trees["slow-boil"]
    check = tree.checks["heat"]
    low = check.answers["low"].model_copy(update={"caution": ("Steam scalds.",), "note": "It never boils."})
    check = check.model_copy(update={"answers": {**check.answers, "low": low}})
    tree = tree.model_copy(update={"checks": {**tree.checks, "heat": check}})
    library = replace(kettle, trees={**kettle.trees, "slow-boil": tree})
    _, said, _ = talk(library, ["2", "2", "85"], "slow-boil")
    assert "Measured: 85 °C.\nBeware: Steam scalds.\nIt never boils.\n" in said


def test_a_reading_is_answered_by_the_words_of_an_answer_as_well(kettle, talk):
    _, said, walker = talk(kettle, ["2", "2", "at the boil"], "slow-boil")
    assert walker.evidence.answers["slow-boil", "heat"] == "full"
    assert "Answered: At the boil." in said


def test_the_word_label_alone_takes_no_label_away(kettle, talk):
    _, said, walker = talk(kettle, ["label", "label the red one", "label"], "no-heat")
    assert "Label: none. To change it, type label and the new one." in said
    assert "Label: the red one. To change it, type label and the new one." in said
    assert walker.case.label == "the red one"
