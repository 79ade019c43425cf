"""The question screen at every size: nothing spills over, no answer vanishes without a sign."""

import dataclasses
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from prompt_toolkit.utils import get_cwidth

from diagtree.screens.bench.compose import compose
from diagtree.screens.bench.glyphs import ASCII, UNICODE
from diagtree.screens.bench.lines import plain
from diagtree.screens.bench.panes import foot, ranking, steps, traits
from diagtree.screens.bench.state import AnswerRow, BenchState, Hint, Ranked, Step, Trait

SIZES = [(120, 40), (100, 30), (80, 24), (60, 20), (44, 13)]

HINTS = tuple(
    Hint(key, does)
    for key, does in (("1-9", "answer"), ("0", "can't tell"), ("b", "back"), ("w", "why"), ("?", "help"))
)
FULL = BenchState(
    machine="kettle",
    label="the red one",
    complaint="The water stays cold",
    done="3 answered",
    question="Is the flex hurt anywhere?",
    how=("Run it through your fingers.",),
    caution=("Pull the plug first.",),
    aside="About 1 minute.",
    answers=(
        AnswerRow("1", "Cut, kinked or scorched"),
        AnswerRow("2", "Sound", given=True),
        AnswerRow("0", "I can't tell"),
    ),
    selected=1,
    ranking=(
        Ranked("Switch contacts worn", 0.52, 1),
        Ranked("Element burnt out", 0.30, -1),
        Ranked("Flex damaged", 0.18),
    ),
    picture=(Trait("hard water", 0.8), Trait("used all day", 0.73)),
    way=(Step(1, "Is there lime?", "Limed"), Step(2, "Handle?", "Worn"), Step(3, "Lamp?", "Comes on")),
    hints=HINTS,
)


@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
def test_everything_is_on_the_screen_at_every_size(width, height, glyphs):
    text = compose(FULL, width, height, glyphs).text
    for shown in (
        "the red one",
        "3 answered",
        "Is the flex hurt anywhere?",
        "Run it through your fingers.",
        "! Pull the plug first.",
        "  1 ( ) Cut, kinked or scorched",
        "> 2 (*) Sound",
        "  0 ( ) I can't tell",
        "52 %",
        "Switch contacts worn",
        "hard water",
        "80 %",
        "Comes on",
        "1-9 answer",
        "? help",
    ):
        assert shown in text, shown
    assert glyphs.steps[-1] in text


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_cursor_is_on_the_sign_of_the_selected_row(width, height):
    picture = compose(FULL, width, height)
    column, row = picture.cursor
    assert plain(picture.lines[row])[column:].startswith("> 2 (*) Sound")


@pytest.mark.parametrize(("width", "height"), [(39, 24), (80, 11), (20, 5), (1, 1), (39, 11)])
def test_a_window_that_is_too_small_says_so_and_that_nothing_is_lost(width, height):
    picture = compose(FULL, width, height)
    assert len(picture.lines) == height
    assert picture.cursor is None
    if width >= 20 and height >= 5:
        assert "too small" in " ".join(picture.text.split())
    if width >= 39:
        assert "Nothing is lost. Ctrl-C saves and leaves." in " ".join(picture.text.split())


def test_an_ascii_terminal_gets_ascii_only():
    for width, height in SIZES:
        assert compose(FULL, width, height, ASCII).text.isascii()


def test_the_ranking_gives_way_before_any_answer_does():
    many = tuple(AnswerRow(str(n), f"Answer number {n}") for n in range(1, 8))
    state = BenchState(question="Which?", answers=many, ranking=FULL.ranking, way=FULL.way, hints=HINTS)
    roomy = compose(state, 44, 16).text
    assert "52 %" in roomy
    tight = compose(state, 44, 12).text
    assert all(answer.says in tight for answer in many)
    short = compose(BenchState(question="Which?", answers=many * 2, ranking=FULL.ranking), 44, 12).text
    assert "52 %" not in short
    assert "more" in short


def test_the_how_to_gives_way_with_a_sign():
    how = tuple(f"Do step number {n} with care and then wait." for n in range(9))
    text = compose(BenchState(question="What?", how=how, answers=FULL.answers, hints=HINTS), 44, 13).text
    assert "(more: i)" in text
    assert "> " in text


@pytest.mark.parametrize(("width", "height"), [(40, 12), (44, 13), (60, 20), (80, 24)])
def test_a_caution_never_vanishes_however_many_answers_there_are(width, height):
    state = BenchState(
        question="Which?",
        how=("Look.",),
        caution=("Pull the plug first. Water on live parts kills. Wait until it is cold.",),
        answers=tuple(AnswerRow(str(n), f"Answer number {n}") for n in range(1, 31)),
    )
    text = compose(state, width, height).text
    assert "! Pull the plug first." in text
    assert "(more: i)" in text or "it is cold." in text
    assert "Look." in text or "(how: i)" in text


def _shown(text: str, says: str) -> bool:
    return "".join(says.split()) in "".join(text.split())


WORDS = st.sampled_from(
    ["scale", "the switch", "element is burnt out", "漢字", "a-very-long-word-without-an-end"]
)
ANSWERS = st.lists(st.tuples(WORDS, st.integers(1, 9)), min_size=1, max_size=14)


@settings(max_examples=120, deadline=None)
@given(st.data(), ANSWERS, st.integers(40, 130), st.integers(12, 45), st.booleans(), st.integers(0, 8))
def test_no_answer_is_cut_off_without_a_sign(data, answers, width, height, crowded, said):
    rows = tuple(
        AnswerRow(str(n) if n < 10 else "", f"A{n}: " + " ".join([word] * times) + f" :{n}Z")
        for n, (word, times) in enumerate(answers, 1)
    )
    selected = data.draw(st.integers(0, len(rows) - 1))
    state = BenchState(
        label="the red one",
        complaint="It stays cold",
        question="What do you see? " * (3 if crowded else 1),
        how=("Look closely.",) * (6 if crowded else 0),
        caution=("Mind your fingers.",) if crowded else (),
        answers=rows,
        selected=selected,
        ranking=tuple(Ranked(f"cause {n}", 1 / (n + 2)) for n in range(9 if crowded else 1)),
        picture=FULL.picture * (3 if crowded else 0),
        way=FULL.way * (4 if crowded else 0),
        hints=HINTS * 3,
        message="word " * said,
    )
    picture = compose(state, width, height)
    assert len(picture.lines) == height
    assert all(get_cwidth(plain(line)) == width for line in picture.lines)
    # The left column only: the ranking beside the answers must not come between their words.
    texts = []
    for line in picture.lines:
        text = plain(line)
        texts.append(text.partition(" │ ")[0])
    text = "\n".join(texts)
    hidden = [answer for answer in rows if not _shown(text, answer.says)]
    told = sum(int(count) for count in re.findall(r"[↑↓] (\d+) more", text))
    absent = [answer for answer in hidden if answer.says.split(" ")[0] not in text]
    signs = text.count("(more: i)") + text.count("(goes on: press i)")
    assert len(absent) == told, text
    assert len(hidden) - len(absent) <= signs, text
    if told:
        assert " %" not in text
    column, row = picture.cursor
    assert plain(picture.lines[row])[column] == ">"


LONG = (
    Ranked("Worn or scored piston seal, mineral oil", 0.3, 1),
    Ranked("Worn or scored piston seal, glycol fluid", 0.2, -1),
    Ranked("Leak at a hose joint with mineral oil", 0.15),
    Ranked("Leak at a hose joint with glycol fluid", 0.1),
    Ranked("Element burnt out", 0.05),
)


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
def test_causes_that_differ_in_their_last_word_only_are_told_apart_beside_the_question(glyphs):
    rows = [plain(row) for row in ranking(LONG, 31, 10, glyphs)]
    told = " ".join(" ".join(rows).split())
    assert "mineral oil" in told.partition("30 %")[0]
    assert "glycol fluid" in told.partition("30 %")[2].partition("20 %")[0]
    assert "2 more, together 15 %" in told
    assert len(rows) <= 10
    assert all(get_cwidth(row) <= 31 for row in rows)


def test_short_names_leave_room_for_a_fourth_cause():
    short = tuple(Ranked(f"cause {n}", 0.2) for n in range(6))
    assert "cause 3" in "\n".join(plain(row) for row in ranking(short, 31, 9, UNICODE))


@settings(max_examples=60, deadline=None)
@given(st.integers(20, 60), st.integers(1, 20), st.integers(1, 5), st.integers(1, 60))
def test_the_ranking_keeps_to_its_room_and_says_how_many_are_left_out(width, room, count, long):
    causes = tuple(Ranked(f"c{n} {'word ' * long}".strip()[: long + 3], 1 / count) for n in range(count))
    rows = ranking(causes, width, room, UNICODE)
    assert len(rows) <= room
    assert all(get_cwidth(plain(row)) <= width for row in rows)
    text = "\n".join(plain(row) for row in rows)
    shown = sum(f"c{n}" in text for n in range(count))
    left_out = re.search(r"(\d+) more, together", text)
    assert shown + int(left_out[1] if left_out else 0) == count or room <= 2


def test_how_the_machine_lived_begins_with_the_state_and_is_not_cut_where_a_row_is_free():
    picture = (Trait("put together and kept up well by somebody", 0.61), Trait("kept dry", 0.84))
    rows = [plain(row) for row in traits(picture, 31, 4, UNICODE)]
    assert rows[0].startswith("put together and kept up ")
    assert rows[0].endswith(" 61 %")
    assert rows[1] == "well by somebody"
    assert rows[2] == "kept dry" + " " * 18 + " 84 %"
    assert "…" in plain(traits(picture, 31, 2, UNICODE)[0])


def test_a_question_that_would_be_cut_to_nothing_leaves_its_row_to_the_answer():
    way = (Step(9, "Is the plating blistered?", "Blistered, soft or stained"), Step(10, "Lamp?", "On"))
    rows = [plain(row) for row in steps(way, 31, 4, UNICODE)]
    assert rows == [" 9 Blistered, soft or stained", "10 Lamp? On"]


@pytest.mark.parametrize(("width", "height"), [(100, 30), (80, 24), (72, 18), (60, 20), (44, 24)])
def test_the_how_to_makes_room_for_advice(width, height):
    said = "Not asked: Is the flex hurt anywhere? Asked already (The kettle leaks): Sound."
    state = dataclasses.replace(
        FULL, how=("Run it through your fingers, bend it, look at both ends.",) * 30, advice=(said,)
    )
    text = compose(state, width, height).text
    assert "* Not asked: Is the" in text
    assert "(more: i)" in text
    assert "  0 ( ) I can't tell" in text


def test_advice_without_room_for_all_of_it_is_cut_with_a_sign():
    advice = ("These answers do not fit together. Look again at this one first: Is the handle worn? " * 3,)
    state = BenchState(
        question="Where does it get hot?",
        how=("Look at it closely.",) * 10,
        answers=FULL.answers,
        ranking=FULL.ranking,
        advice=advice,
        hints=HINTS,
    )
    text = compose(state, 80, 24).text
    assert "* These answers do not fit together." in text
    assert "(more: x)" in text


def test_a_message_that_is_too_long_for_the_foot_ends_with_a_sign():
    rows = [plain(row) for row in foot(HINTS, "word " * 60, 40, 1)][:5]
    assert rows[4].endswith("...")
    assert all(get_cwidth(row) <= 40 for row in rows)
