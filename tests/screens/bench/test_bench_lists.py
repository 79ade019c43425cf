"""Lists on the bench: entries that are taller than the window, heads that are wider."""

from diagtree.screens.bench.glyphs import UNICODE
from diagtree.screens.bench.lines import line
from diagtree.screens.bench.page import Entry, Frame, ListPage
from diagtree.screens.bench.reading_pages import ChoicePage, Option


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


def test_a_head_that_is_cut_off_stands_whole_above_the_list_and_one_that_fits_does_not():
    def shown(title):
        page = ChoicePage(title, [Option("No"), Option("Yes")], lambda number: None, lambda: None)
        return " ".join(page.compose(44, 13, UNICODE).text.split())

    long = "Ask nothing more about a complaint with quite a long title?"
    assert shown(long).count(long) == 1
    assert "…" in shown(long)
    assert shown("Sure?").count("Sure?") == 1
