"""The plot of progress, in letters and as a picture."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from diagtree.practice.progress import plot_svg, plot_text, running_mean

POINTS = [20, 35, 60, 30, 80, 75, 90, 0, 100, 88]


def test_the_mean_is_of_the_last_five():
    # (20+35+60+30+80)/5 = 45, (35+60+30+80+75)/5 = 56, and so on
    assert running_mean(POINTS)[4:] == [45, 56, 67, 55, 69, 70.6]


@pytest.mark.parametrize(("width", "height"), [(78, 12), (44, 8), (30, 6)])
def test_the_plot_keeps_to_its_room_and_says_what_it_shows(width, height):
    rows = plot_text(POINTS * 4, width, height)
    assert len(rows) <= height
    assert all(len(row) <= max(width, len(rows[-1])) for row in rows)
    assert rows[0].startswith("100 |")
    assert f"of {len(POINTS) * 4}" in rows[-1]


def test_the_plot_in_plain_letters_is_ascii():
    assert all(row.isascii() for row in plot_text(POINTS, fine=False))


def test_the_picture_is_whole_steady_and_has_a_dot_a_machine():
    svg = plot_svg(POINTS, "Sam <the> first", [f"machine {n}" for n in range(10)])
    assert svg == plot_svg(POINTS, "Sam <the> first", [f"machine {n}" for n in range(10)])
    picture = ElementTree.fromstring(svg)
    space = "{http://www.w3.org/2000/svg}"
    dots = picture.findall(f"{space}circle")
    assert len(dots) == 10
    heights = [float(dot.get("cy")) for dot in dots]
    # the higher the points the further up, in proportion
    best, worst = heights[8], heights[7]
    assert heights[2] == pytest.approx(worst + (best - worst) * 0.6, abs=0.06)
    assert picture.find(f"{space}title").text == "Sam <the> first"
    assert "mean of the last five 71" in picture.find(f"{space}desc").text


def test_nothing_to_plot_is_a_picture_too():
    assert "Nothing is finished yet." in plot_svg([], "Sam")
