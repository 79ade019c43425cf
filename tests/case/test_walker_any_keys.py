"""Whatever is done in whatever order, nothing that was entered is lost and nothing breaks."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError

DOINGS = st.lists(
    st.tuples(
        st.sampled_from(
            ["answer"] * 6
            + ["cannot", "back", "jump", "forward", "note", "order", "finish", "choose", "found", "reading"]
        ),
        st.integers(0, 20),
    ),
    max_size=30,
)


def do(walker: Walker, what: str, number: int) -> None:
    if what == "answer" and walker.question:
        answers = walker.question.answers
        walker.answer(answers[number % len(answers)].name)
    elif what == "cannot" and walker.question:
        walker.cannot_tell()
    elif what == "back":
        walker.back()
    elif what == "jump":
        places = [*walker.way, *walker.skipped, *walker.aside]
        if places:
            walker.jump(places[number % len(places)])
    elif what == "forward":
        walker.forward()
    elif what == "note":
        walker.note(f"note {number}")
    elif what == "order":
        walker.set_order("shortest" if number % 2 else "guided")
    elif what == "finish":
        walker.finish()
    elif what == "choose":
        names = list(walker.library.trees)
        walker.choose(names[number % 3 :] if number % 2 else names[: 1 + number % 3])
    elif what == "found":
        causes = list(walker.library.causes)
        walker.found_out(causes[number % len(causes)], [True, False, None][number % 3])
    elif what == "reading" and walker.question and walker.question.reading:
        walker.enter_reading(str(number * 10), sure=True)


@settings(max_examples=60, deadline=None)
@given(DOINGS)
def test_any_doings_keep_every_answer_and_can_be_taken_up_again(kettle, doings):
    log = MemoryLog()
    walker = Walker(kettle, log, complaints=["no-heat", "slow-boil"])
    answered = {}
    for what, number in doings:
        question = walker.question
        try:
            do(walker, what, number)
        except ExpectedError:
            continue
        if question and (what in {"answer", "cannot"} or (what == "reading" and question.reading)):
            answered[question.place] = walker.case.given[question.place].answer
    # Nothing is lost: each question that was answered is on the way or set aside, as last answered.
    assert {place: given.answer for place, given in walker.case.given.items()} == answered
    assert {step.place for step in (*walker.way, *walker.aside)} == set(answered)
    assert not {step.place for step in walker.way} & {step.place for step in walker.aside}
    # The log tells all of it.
    again = Walker(kettle, MemoryLog(log.records))
    assert again.case == walker.case
    assert again.question == walker.question
    assert again.skipped == walker.skipped
    # And it can always be brought to its end.
    for _ in range(40):
        if again.question is None:
            break
        again.answer(again.question.answers[0].name)
    assert again.finished
