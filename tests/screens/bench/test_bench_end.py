"""The page at the end: verdicts, price, jobs, torques, findings, papers, hand over."""

from decimal import Decimal

import pytest

from diagtree.errors import CannotWriteError
from diagtree.screens.bench.bench import BenchResult
from diagtree.screens.bench.end_actions import AmountError, amount
from diagtree.screens.bench.end_list import Item
from diagtree.screens.bench.glyphs import UNICODE
from diagtree.screens.bench.lines import line
from diagtree.screens.bench.page import Entry, Frame, ListPage
from diagtree.screens.bench.papers import Papers

WIDE = (100, 120)


@pytest.fixture
def bench(walk, pressed):
    """A kettle with a burnt-out element: base off, element in, base on."""
    bench = pressed(walk("no-heat"))
    bench.press("2", "1")
    assert "What is to be done" in bench.text()
    return bench


def go_to(bench, kind, name=None):
    """Move the cursor to an entry."""
    bench.press("home")
    bench.text()
    page = bench.bench.page
    for _ in range(200):
        item = page.chosen
        if isinstance(item, Item) and item.kind == kind and name in {None, item.name}:
            return
        bench.press("down")
        bench.text()
    raise AssertionError(f"no {kind} {name}")


def test_everything_is_on_one_page_that_scrolls(bench):
    text = bench.text(*WIDE)
    for shown in (
        "Heating element: replace. Element burnt out.",
        "Price, EUR",
        "Allowance for the unexpected",
        "Price, enough 80 times in 100",
        "[ ] 1 Take the base off",
        "Swap the element",
        "Put the base back",
        "Element nut",
        "4-6 N·m",
        "Fill it and let it boil twice.",
        "Boil once",
        "Enter something that was found",
        "Hand over",
    ):
        assert shown in text, shown


@pytest.mark.parametrize(("width", "height"), [(120, 40), (80, 24), (60, 20), (44, 13), (40, 12)])
def test_at_each_size_it_scrolls_from_end_to_end_and_says_how_much_is_out_of_sight(bench, width, height):
    top = bench.text(width, height)
    assert "What is to be done" in top
    assert ("↓" in top) == ("Hand over" not in top)
    bench.press("end")
    bottom = bench.text(width, height)
    assert "> Hand over (h)" in bottom
    bench.press("home")
    assert bench.text(width, height) == top


def test_jobs_are_ticked_off_and_the_ticks_taken_back(bench):
    go_to(bench, "job", "kettle/base-off")
    bench.press("enter")
    assert "kettle/base-off" in bench.walker.case.jobs_done
    assert "[x] 1 Take the base off" in bench.text(*WIDE)
    assert "(1 of 3 done)" in bench.text(*WIDE)
    go_to(bench, "job", "kettle/base-off")
    bench.press("enter")
    assert "kettle/base-off" not in bench.walker.case.jobs_done


def test_a_bounce_does_not_untick_the_job_that_it_ticked(bench):
    go_to(bench, "job", "kettle/base-off")
    bench.press("enter", "enter", after=0.01)
    assert list(bench.walker.case.jobs_done) == ["kettle/base-off"]


def test_a_torque_as_done_is_entered(bench):
    go_to(bench, "torque", "kettle/element-nut")
    assert "anticlockwise" in bench.text(*WIDE)
    bench.press("enter")
    assert "The range is 4 to 6 N·m." in bench.text()
    bench.type("5,2 N·m")
    bench.press("enter")
    assert bench.walker.case.torques["kettle/element-nut"].value == "5.2"
    assert "done: 5.2 N·m" in bench.text(*WIDE)


def test_a_torque_outside_the_range_is_questioned_first(bench):
    go_to(bench, "torque", "kettle/element-nut")
    bench.press("enter")
    bench.type("12")
    bench.press("enter")
    assert "12 N·m is over the range, 4 to 6 N·m. Is that right?" in bench.text()
    bench.press("enter")
    assert not bench.walker.case.torques
    assert "> 12" in bench.text()
    bench.press("enter", "2")
    assert bench.walker.case.torques["kettle/element-nut"].value == "12"


def test_a_torque_that_is_no_number_is_not_taken(bench):
    go_to(bench, "torque", "kettle/element-nut")
    bench.press("enter")
    bench.type("tight")
    bench.press("enter")
    assert "'tight' is no number. Write it like this: 1.2 N·m" in bench.text()
    assert not bench.walker.case.torques


def test_a_torque_can_be_taken_back(bench):
    go_to(bench, "torque", "kettle/element-nut")
    bench.press("enter", "5", "enter")
    assert bench.walker.case.torques
    bench.press("enter", "c-u", "enter")
    assert not bench.walker.case.torques


def test_a_verdict_can_be_overruled_with_a_reason_and_that_taken_back(walk, pressed):
    bench = pressed(walk("slow-boil"))
    bench.press("1")
    go_to(bench, "verdict", "kettle/element")
    assert "clean" in bench.text()
    bench.press("enter")
    assert "> 1 (*) clean: Descale" in bench.text()
    bench.press("2")
    bench.type("she wants a new one")
    bench.press("enter")
    event = bench.walker.case.overruled["kettle/element"]
    assert (event.remedy, event.reason) == ("kettle/new-element", "she wants a new one")
    assert "Heating element: replace" in bench.text()
    go_to(bench, "verdict", "kettle/element")
    bench.press("enter", "3")
    assert not bench.walker.case.overruled
    assert "Heating element: clean" in bench.text()


def test_what_is_found_on_the_way_changes_the_plan(bench):
    before = bench.text(*WIDE)
    assert "Fit a new flex" not in before
    bench.press("m")
    bench.type("flex damaged")
    bench.press("enter", "1", "1")
    assert bench.walker.case.found["kettle/flex-damaged"].present is True
    after = bench.text(*WIDE)
    assert "Flex damaged: it is there." in after
    assert "Swap the flex" in after


def test_what_is_found_can_be_taken_back(bench):
    bench.press("m")
    bench.type("flex damaged")
    bench.press("enter", "1", "2")
    assert bench.walker.case.found["kettle/flex-damaged"].present is False
    go_to(bench, "found", "kettle/flex-damaged")
    bench.press("enter", "3")
    assert not bench.walker.case.found


def test_nothing_that_sounds_like_it_is_told_and_the_field_stays(bench):
    bench.press("m")
    bench.type("qqqq")
    bench.press("enter")
    assert "Nothing sounds like that. Try another word." in bench.text()
    assert "> qqqq" in bench.text()


def test_the_price_passing_what_was_agreed_says_stop_and_ask(bench):
    bench.press("g")
    bench.press("enter")
    agreed = bench.walker.case.agreed
    assert Decimal(agreed.price) == Decimal(agreed.ceiling) == bench.bench.page.work.estimate.price
    assert "Agreed: at most" in bench.text()
    assert "Stop and ask" not in bench.text()
    bench.press("m")
    bench.type("flex damaged")
    bench.press("enter", "1", "1")
    bench.press("home")
    assert "! Stop and ask: the price is now" in bench.text()


def test_the_scope_can_be_changed(bench):
    bench.press("s")
    assert "(*) Service" in bench.text()
    bench.press("1")
    assert bench.walker.case.brief == "roadworthy"
    assert bench.walker.case.label == "the red one"


def test_papers_are_written_and_where_is_told(walk, pressed):
    written = []

    def write(kind):
        written.append(kind)
        return f"/tmp/{kind}.pdf"

    bench = pressed(walk("no-heat"), papers=Papers(write))
    bench.press("2", "1")
    go_to(bench, "paper", "estimate")
    bench.press("enter")
    assert written == ["estimate"]
    assert "Written: /tmp/estimate.pdf" in bench.text()


def test_a_paper_that_cannot_be_written_is_told_and_nothing_is_lost(walk, pressed):
    def write(kind):
        raise CannotWriteError("The folder '/sheets' cannot be written.", "Choose another with --to.")

    bench = pressed(walk("no-heat"), papers=Papers(write))
    bench.press("2", "1")
    way = bench.walker.way
    go_to(bench, "paper", "job")
    bench.press("enter")
    assert "The folder '/sheets' cannot be written." in bench.text()
    assert bench.walker.way == way


def test_without_a_writer_no_paper_is_offered(bench):
    assert "Papers" not in bench.text(*WIDE)


def test_handing_over_needs_a_name_and_says_what_is_still_open(bench):
    bench.press("h")
    assert "! Jobs not ticked off: 3." in bench.text()
    assert "! Torques not entered: 2." in bench.text()
    bench.press("enter")
    assert "A hand-over needs a name." in bench.text()
    bench.type("Jo")
    bench.press("enter")
    assert "The water stays cold: it turned out to be" in bench.text()
    assert bench.walker.case.handed_over is None
    bench.press("1")
    assert bench.walker.case.handed_over.by == "Jo"
    assert dict(bench.walker.case.handed_over.confirmed) == {"no-heat": "kettle/element-open"}
    assert "Handed over by Jo." in bench.text()
    bench.press("q", "q")
    assert bench.bench.result == BenchResult("done", 0)


def test_back_leads_to_the_last_question_and_asking_on_to_an_open_one(walk, pressed):
    bench = pressed(walk("no-heat"))
    bench.press("1")
    bench.press("f", "2")
    assert bench.walker.finished
    assert "What is to be done" in bench.text()
    bench.press("a")
    assert "Does it work from another socket?" in bench.text()
    bench.press("f", "2", "b")
    assert "> 1 (*) Stays dark" in bench.text()


def test_ending_the_questions_is_asked_first(walk, pressed):
    bench = pressed(walk("no-heat"))
    bench.press("f", "enter")
    assert not bench.walker.finished


def test_asking_on_where_all_was_asked_says_so(bench):
    bench.press("a")
    assert "All that can be asked was asked." in bench.text()


@pytest.mark.parametrize("text", ["", "x", "-1", "0", "1e9", "nan", "inf", "1 2"])
def test_what_is_no_amount_is_refused(text):
    with pytest.raises(AmountError):
        amount(text, "N·m")


@pytest.mark.parametrize(
    ("text", "value"), [("5", "5"), ("5.5 N·m", "5.5"), ("5,5Nm", "5.5"), (" 12.40 ", "12.40")]
)
def test_an_amount_is_read_with_or_without_its_unit(text, value):
    assert amount(text, "N·m") == Decimal(value)


def test_each_verdict_names_what_is_to_be_done_and_says_nothing_twice(bench):
    text = bench.text(*WIDE)
    assert "To do: Fit a new element." in text
    rows = [row.strip("> ") for row in text.splitlines() if "Heating element: replace" in row]
    assert len(rows) == 1
    assert "Lid: Lid: leave" not in text
    assert "(if fitted) (if fitted)" not in text


def test_an_entry_that_is_taller_than_the_window_is_read_to_its_end(bench):
    wide = bench.text(*WIDE)
    last = "Enter: choose another remedy." if "Enter: choose another" in wide else "! Pull the plug first."
    go_to(bench, "verdict")
    seen = []
    for _ in range(40):
        text = bench.text(40, 12)
        seen += [row.strip() for row in text.splitlines()[2:-2]]
        assert bench.bench.compose(40, 12).cursor is not None
        if not isinstance(bench.bench.page.chosen, Item) or bench.bench.page.chosen.kind != "verdict":
            break
        bench.press("down")
    told = " ".join(seen)
    for text in bench.bench.page.work.verdicts[0].caution:
        assert text in told
    assert last.split()[-1] in told
    bench.press("up")
    assert isinstance(bench.bench.page.chosen, Item)


class TallPage(ListPage):
    """Three entries of twenty rows each."""

    def entries(self, width, glyphs):
        return [Entry(tuple(line(f"{name}{row}") for row in range(20)), name) for name in "abc"]

    def around(self, width, glyphs):
        return Frame("Tall")

    def press(self, key):
        self.move(key)


def test_down_and_up_pass_every_row_of_tall_entries():
    page, seen = TallPage(), []
    for _ in range(30):
        seen += page.compose(44, 13, UNICODE).text.split()
        page.press("down")
    assert {f"{name}{row}" for name in "abc" for row in range(20)} <= set(seen)
    assert page.chosen == "c"
    seen.clear()
    for _ in range(30):
        seen += page.compose(44, 13, UNICODE).text.split()
        page.press("up")
    assert page.chosen == "a"
    assert "a0" in page.compose(44, 13, UNICODE).text.split()
    page.press("end")
    page.compose(44, 13, UNICODE)
    assert page.chosen == "c"


def test_a_long_line_of_the_price_is_wrapped_and_its_odds_are_told(bench):
    items = [f"{item.what}, {item.odds}" for item in bench.bench.page.work.estimate.items[:4] if item.odds]
    assert items
    told = " ".join(bench.text(50, 200).split())
    for text in items:
        assert all(word in told for word in text.split()), text


def test_the_customers_wish_is_entered_planned_and_taken_back(bench):
    before = bench.bench.page.work.estimate.price
    bench.press("w")
    assert "What else does the customer want done?" in bench.text()
    bench.press("enter")
    assert "Nothing sounds like that." in bench.text()
    bench.type("descale")
    bench.press("enter", "1")
    assert bench.walker.case.wishes == ("kettle/descale",)
    text = bench.text(*WIDE)
    assert "Wanted too: Descale." in text
    assert "The customer wishes it." in text
    assert "under 1 in 100" not in next(row for row in text.splitlines() if "The customer wishes it." in row)
    assert bench.bench.page.work.estimate.price > before
    go_to(bench, "wish", "kettle/descale")
    bench.press("enter", "enter")
    assert bench.walker.case.wishes == ("kettle/descale",)
    go_to(bench, "wish", "kettle/descale")
    bench.press("enter", "2")
    assert bench.walker.case.wishes == ()
    assert bench.bench.page.work.estimate.price == before


def test_an_answer_that_ends_the_questions_says_so_and_which_answers_lost_their_place(walk, pressed):
    bench = pressed(walk("no-heat"))
    bench.press("2", "1")
    assert "The questions are at their end." in bench.text()
    bench = pressed(walk("leaks"))
    bench.press("3", "2", "b", "b", "2")
    told = " ".join(bench.text().split())
    assert "The questions are at their end." in told
    assert "1 later answer has no place now and is set aside." in told
