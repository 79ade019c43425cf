"""The page at the end: verdicts, price, jobs, torques, findings, papers, hand over."""

from dataclasses import replace
from decimal import Decimal

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.errors import CannotWriteError
from diagtree.model.family import Fluid, System, Use
from diagtree.model.workshop import Workshop
from diagtree.screens.bench.bench import BenchResult
from diagtree.screens.bench.end_list import Item
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
    assert "'tight' is not a number with a unit. Write it like '5 N·m'." in bench.text()
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
    assert "Nothing sounds like that. Try another word, or press Esc." in bench.text()
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


def test_a_torque_is_held_against_the_workshop_s_own_range(walk, pressed):
    own = {"kettle/element-nut": {"from": "8", "to": "10", "basis": "mark on our kettles"}}
    bench = pressed(walk("no-heat"), workshop=Workshop.model_validate({"torques": own}))
    bench.press("2", "1")
    go_to(bench, "torque", "kettle/element-nut")
    bench.press("enter")
    assert "The range is 8 to 10 N·m." in bench.text()
    bench.type("80 lbf·in")
    bench.press("enter")
    assert "done: 9.04 N·m" in bench.text(*WIDE), "80 x 0.1129848 (NIST SP 811)"
    go_to(bench, "torque", "kettle/element-nut")
    bench.press("enter", "c-u", "5", "enter")
    assert "5 N·m is under the range, 8 to 10 N·m. Is that right?" in bench.text()


def test_the_verdicts_on_one_part_are_opened_and_chosen_for_each_by_itself(walk, pressed):
    bench = pressed(walk("no-heat"))
    bench.press("f", "2")
    work = bench.bench.page.work
    first, second = [each for each in work.verdicts if each.part == "kettle/element"]
    go_to(bench, "verdict", "kettle/element")
    bench.press("down")
    while bench.bench.page.chosen.about != second.cause:
        bench.press("down")
    bench.press("enter")
    text = bench.text()
    for option in second.options:
        assert option.title in text
    other = next(n for n, option in enumerate(second.options, 1) if option.remedy != second.remedy)
    bench.press(str(other), "enter")
    assert list(bench.walker.case.overruled) == [second.cause]
    after = {each.cause: each for each in bench.bench.page.work.verdicts}
    assert after[second.cause].remedy == second.options[other - 1].remedy
    assert after[first.cause].remedy == first.remedy


def test_a_work_that_is_refused_says_why_and_lets_go_of_what_it_was_refused_for(kettle, pressed):
    fluids = {
        name: Fluid.model_validate({"title": name, "kind": "fluid", "never-with": [never]})
        for name, never in (("kettle/amber", "kettle/green"), ("kettle/green", "kettle/amber"))
    }
    systems = {
        name: System.model_validate({"title": name, "takes": [fluid], "read": "Read the cap."})
        for name, fluid in (("kettle/one", "kettle/amber"), ("kettle/two", "kettle/green"))
    }
    use = [Use.model_validate({"fluid": fluid, "into": system})
           for system, fluid in (("kettle/one", "kettle/amber"), ("kettle/two", "kettle/green"))]  # fmt: skip
    remedies = dict(kettle.remedies)
    for name, each in (("kettle/new-element", use[0]), ("kettle/descale", use[1])):
        remedies[name] = remedies[name].model_copy(update={"fluids": (each,)})
    library = replace(kettle, fluids=fluids, systems=systems, remedies=remedies)
    walker = Walker(library, MemoryLog(), complaints=["no-heat"], label="the red one")
    for look in walker.looks:
        walker.cannot_tell(look.place)
    bench = pressed(walker)
    bench.press("2", "1")
    assert bench.bench.page.work is not None
    bench.press("w")
    bench.type("descale")
    bench.press("enter", "1")
    assert "must never meet" in " ".join(bench.text().split())
    go_to(bench, "wish", "kettle/descale")
    bench.press("enter", "2")
    assert bench.bench.page.work is not None
    walker.overrule("kettle/element", "kettle/descale")
    walker.wish(["kettle/new-element"])
    bench.press("g")
    assert "There is no price yet to agree to." in bench.text()
    go_to(bench, "choice", "kettle/element")
    bench.press("enter", "2")
    assert not walker.case.overruled
    assert bench.bench.page.work is not None


def test_a_finding_that_the_library_knows_no_more_can_be_taken_back(kettle, pressed):
    log = MemoryLog()
    walker = Walker(kettle, log, complaints=["leaks"], label="the red one")
    walker.found_out("kettle/scale", True)
    walker.finish()
    causes = {name: cause for name, cause in kettle.causes.items() if name != "kettle/scale"}
    bench = pressed(Walker(replace(kettle, causes=causes), log))
    go_to(bench, "found", "kettle/scale")
    bench.press("enter", "2")
    assert not bench.walker.case.found


def test_a_note_at_the_end_is_kept_with_the_case(bench):
    bench.press("n")
    assert "It is kept with the case and printed on the sheet." in bench.text()
    bench.type("collects on Friday")
    bench.press("enter")
    assert [(note.text, note.place) for note in bench.walker.case.notes] == [("collects on Friday", None)]
