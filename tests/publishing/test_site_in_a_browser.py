"""The site in a real browser: no errors, nothing loaded, search, keyboard, the marked way, dark and light."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

CONTRASTS = """(() => {
  const parts = text => (text.match(/[\\d.]+/g) || [0, 0, 0, 0]).map(Number);
  const light = c => c.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = part => {
    for (let e = part; e; e = e.parentElement) {
      const c = parts(getComputedStyle(e).backgroundColor);
      if (c.length === 3 || c[3] === 1) return c;
    }
    return [255, 255, 255];
  };
  const low = [];
  let seen = 0;
  for (const details of document.querySelectorAll("details")) details.open = true;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const part = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !part.checkVisibility() || part.closest("script, style")) continue;
    const svg = part.closest("svg");
    let under = ground(part);
    const box = svg && part.closest("g").querySelector("polygon:not(.tip)");
    if (box) under = parts(getComputedStyle(box).fill);
    const ink = parts(svg ? getComputedStyle(part).fill : getComputedStyle(part).color);
    const [a, b] = [light(ink), light(under)].sort((x, y) => y - x);
    seen += 1;
    if ((a + 0.05) / (b + 0.05) < 4.5) low.push(walk.currentNode.data.trim() + " " + ink + " on " + under);
  }
  return {seen, low};
})()"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_opens_without_complaint_and_its_letters_stand_apart(browser, kettle_site, scheme):
    browser.media(scheme)
    for path in sorted(kettle_site.rglob("*.html")):
        browser.open(path)
        checked = browser.run(CONTRASTS)
        assert checked["seen"] > 10, path
        assert checked["low"] == [], path
    assert browser.complaints == []
    assert {url for url in browser.loaded if not url.startswith(("file:", "about:", "data:"))} == set()


def test_drawings_open_alone(browser, kettle_site):
    browser.open(kettle_site / "drawings" / "no-heat.svg")
    assert browser.run("document.querySelectorAll('g.question, g.finding, g.stop').length") > 8
    assert (
        browser.run("getComputedStyle(document.querySelector('g.finding polygon')).fill")
        == "rgb(236, 243, 230)"
    )
    assert browser.complaints == []


def test_the_search_finds_by_the_beginnings_of_words(browser, kettle_site):
    browser.open(kettle_site / "index.html")
    browser.key("/")
    assert browser.run("document.activeElement.id") == "asked"
    browser.type("elem burn")
    browser.key("Enter")
    browser.wait("document.querySelector('#results li') !== null")
    assert browser.run("document.title").startswith("Search")
    assert browser.run("document.querySelector('#results a').textContent") == "Element burnt out"
    assert browser.run("[...document.querySelectorAll('#results li:first-child a mark')].map(m => m.textContent)") == [
        "Element", "burnt",
    ]  # fmt: skip
    browser.run("document.querySelector('#asked').value = 'nothing of the kind'")
    browser.run("document.querySelector('#asked').dispatchEvent(new Event('input'))")
    assert browser.run("document.querySelector('#told').textContent").startswith("Nothing found.")
    assert browser.run("document.querySelectorAll('#results li').length") == 0
    assert browser.complaints == []


def test_what_is_found_leads_to_its_place(browser, kettle_site):
    browser.open(kettle_site / "search.html", "lamp%20come%20on")
    assert (
        browser.run("document.querySelector('#results a').getAttribute('href')")
        == "trees/no-heat.html#q-lamp"
    )
    browser.run("document.querySelector('#results a').click()")
    browser.wait("location.hash === '#q-lamp' && document.readyState === 'complete'")


def test_by_keyboard_alone_from_question_to_question_to_a_finding(browser, kettle_site):
    browser.open(kettle_site / "trees" / "no-heat.html")
    browser.key("Tab")
    assert browser.run("document.activeElement.className") == "skip"
    browser.key("Enter")
    browser.wait("location.hash === '#main'")
    chosen = []
    for wanted in ("a-lamp.yes", "a-hum.no"):
        for _ in range(12):
            browser.key("Tab")
            if browser.run("document.activeElement.id") == wanted:
                break
        assert browser.run("document.activeElement.id") == wanted
        assert browser.run("getComputedStyle(document.activeElement).outlineStyle") == "solid"
        browser.key("Enter")
        aim = browser.run(f"document.getElementById('{wanted}').hash")
        browser.wait(f"location.hash === '{aim}'")
        chosen.append(aim)
    assert chosen == ["#q-hum", "#f-hum.no"]
    assert browser.run("document.querySelector('#trail p').textContent") == "2 answers given. Now: Finding 2."
    # The way is marked among the questions and on the drawing, in words too.
    assert browser.run("[...document.querySelectorAll('.answers .went')].map(a => a.id)") == [
        "a-lamp.yes",
        "a-hum.no",
    ]
    assert browser.run("[...document.querySelectorAll('.tree .went')].map(g => g.dataset.at).sort()") == [
        "a-hum.no", "a-lamp.yes", "q-hum", "q-lamp",
    ]  # fmt: skip
    assert browser.run("document.querySelector('.tree .here').dataset.at") == "f-hum.no"
    assert browser.complaints == []


def test_going_back_and_answering_anew_forgets_the_rest_of_the_way(browser, kettle_site):
    browser.open(kettle_site / "trees" / "no-heat.html")
    for answer in ("a-lamp.yes", "a-hum.no"):
        browser.run(f"document.getElementById('{answer}').click()")
    browser.run("document.getElementById('back').click()")
    assert browser.run("document.querySelector('#trail p').textContent") == "1 answer given. Now: Question 3."
    assert browser.run("document.activeElement.id") == "q-hum"
    browser.run("document.getElementById('a-lamp.no').click()")
    assert browser.run("[...document.querySelectorAll('.answers .went')].map(a => a.id)") == ["a-lamp.no"]
    browser.run("document.getElementById('again').click()")
    assert browser.run("document.getElementById('trail').hidden") is True


def test_a_box_of_the_drawing_leads_to_its_question_and_the_drawing_follows(browser, kettle_site):
    browser.open(kettle_site / "trees" / "no-heat.html")
    browser.run(
        "document.querySelector('.tree [data-at=q-flex] a').dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true}))"
    )
    browser.wait("location.hash === '#q-flex'")
    browser.run("document.getElementById('a-lamp.no').click()")
    browser.wait("""(() => {
        const box = document.querySelector('.tree .here').getBoundingClientRect();
        const frame = document.querySelector('.scroll').getBoundingClientRect();
        return box.left >= frame.left && box.right <= frame.right && box.top >= frame.top && box.bottom <= frame.bottom;
    })()""")


def test_dark_and_light_follow_the_system_until_the_reader_chooses(browser, kettle_site):
    ground = "getComputedStyle(document.body).backgroundColor"
    browser.media("dark")
    browser.open(kettle_site / "index.html")
    browser.wait(f"{ground} === 'rgb(20, 24, 26)'")
    browser.media("light")
    browser.wait(f"{ground} === 'rgb(245, 242, 234)'")
    browser.run("document.getElementById('theme').click()")
    browser.wait(f"{ground} === 'rgb(20, 24, 26)'")
    # The choice holds on other pages.
    browser.run("document.querySelector('nav a[href=\"causes.html\"]').click()")
    browser.wait(f"document.title.startsWith('Causes') && {ground} === 'rgb(20, 24, 26)'")
    browser.media("dark", "print")
    browser.wait(f"{ground} === 'rgb(255, 255, 255)'")  # paper is white
    browser.run("localStorage.clear()")


@pytest.mark.parametrize("width", [390, 1280])
def test_no_page_is_wider_than_the_screen(browser, kettle_site, width):
    browser.size(width, 800)
    for path in sorted(kettle_site.rglob("*.html")):
        browser.open(path)
        assert browser.run("document.documentElement.scrollWidth") <= width, path


def test_without_scripts_everything_can_be_read(browser, kettle_site):
    browser.do("Emulation.setScriptExecutionDisabled", value=True)
    try:
        browser.open(kettle_site / "trees" / "no-heat.html")
    finally:
        browser.do("Emulation.setScriptExecutionDisabled", value=False)
    assert browser.run("document.documentElement.className") == ""
    for hidden in ("#find", "#theme", "#trail", "#size"):
        assert browser.run(f"document.querySelector('{hidden}').checkVisibility()") is False
    assert browser.run("document.querySelector('.tree').checkVisibility()") is True
    assert browser.run("document.getElementById('a-lamp.yes').hash") == "#q-hum"


def test_a_tree_prints_with_page_numbers_and_its_drawing(browser, kettle_site, tmp_path):
    from pypdf import PdfReader

    browser.open(kettle_site / "trees" / "no-heat.html")
    browser.pdf(tmp_path / "tree.pdf")
    pages = [page.extract_text() for page in PdfReader(tmp_path / "tree.pdf").pages]
    assert f"Page 1 of {len(pages)}" in pages[0]
    assert "Search" not in pages[0]
    assert "Complaint" in pages[-1]
    assert "Question 1" in pages[-1]
    assert "It does not say that a kettle is safe." in pages[-2]
