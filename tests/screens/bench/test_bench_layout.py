"""The question screen at every size: nothing spills over, no answer vanishes without a sign."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from prompt_toolkit.utils import get_cwidth

from diagtree.screens.bench.compose import compose
from diagtree.screens.bench.glyphs import ASCII, UNICODE
from diagtree.screens.bench.lines import plain
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
    picture=(Trait("Water", "hard water", 0.8), Trait("Use", "used all day", 0.73)),
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
