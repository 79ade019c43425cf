"""Texts from authors, customers and mechanics can neither run nor restyle anything, in any form."""

from __future__ import annotations

import io
import json
import re
import unicodedata
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from diagtree.clean import clean
from diagtree.sheets.blocks import (
    Blanks,
    Chance,
    Chances,
    Column,
    Facts,
    Items,
    Section,
    Step,
    Steps,
    Table,
    Warn,
    Words,
)
from diagtree.sheets.html import to_html
from diagtree.sheets.letters import FONT_FILES, covered, font_bytes, printable, text_width
from diagtree.sheets.markdown import escape, to_markdown
from diagtree.sheets.paper import Kind, Paper
from diagtree.sheets.pdf import write_pdf
from diagtree.sheets.text import to_text
from diagtree.sheets.writers import BUILT_IN

HOSTILE = [
    "\x1b]0;owned\x07\x1b[2J",
    "<script>alert(1)</script>",
    "</style><img src=x onerror=alert(1)>",
    "\"><a href='javascript:x'>y</a>",
    '#panic("run") $x$ *bold* _it_ `raw` @ref <label> //no',
    "\\ #sys.inputs.data // /* */ = Heading",
    "**bold** [link](http://x.y) ![i](z) <b>b</b> | cell",
    "# heading",
    "- item",
    "1. first",
    "> quote",
    "``` code",
    "http://example.org www.example.org a@example.org",
    "{{ 7*7 }} {% raw %} ${x} %s {0}",
    "turn\u202eround zero\u200bwidth",
    "a\nb\r\nc",
    "漢字 ع 😀",
    "--- *** ___ +++ ===",
    "&lt; &amp; &#60;",
]


def paper_with(text: str) -> Paper:
    """Make a paper that shows a text in every place where a text can stand."""
    return Paper(
        kind=Kind.JOB,
        title=f"T {text}",
        subtitle=text,
        head=Facts(((text, text),)),
        warnings=(Warn(text, (text, text)),),
        sections=(
            Section(
                text,
                (
                    Words(text, strong=True),
                    Words(text, small=True),
                    Items((text,)),
                    Items((text,), boxes=True, ticked=(True,)),
                    Chances(text, (Chance(text, 0.5, text),)),
                    Table((Column(text), Column(text, blank=True)), ((text, text), (text, text)), sums=1),
                    Steps((Step(1, text, text, (text,), (text,), text),)),
                    Blanks(((text, text),)),
                ),
            ),
        ),
        trees=text,
        date="2026-01-02T03:04:05+00:00",
        data={"text": text},
    )


class Reader(HTMLParser):
    """Gathers what a browser would show and which elements there are."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: set[str] = set()
        self.shown: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_data(self, data):
        if self.tags[-1:] != ["style"]:
            self.shown.append(data)


def without_breaks(tags: list[str]) -> list[str]:
    return [tag for tag in tags if tag != "br"]


def read_html(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    return reader


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def pdf_text(content: bytes) -> str:
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)


@pytest.mark.parametrize("text", HOSTILE)
def test_the_text_form_shows_what_steers_a_terminal(text: str):
    out = to_text(paper_with(text))
    assert all(letter == "\n" or unicodedata.category(letter) not in {"Cc", "Cf", "Cs"} for letter in out)
    assert squeezed(clean(text)) in squeezed(out)


@pytest.mark.parametrize("text", HOSTILE)
def test_the_html_form_gains_no_element_and_shows_the_text(text: str):
    plain, page = read_html(to_html(paper_with("plain"))), read_html(to_html(paper_with(text)))
    assert without_breaks(page.tags) == without_breaks(plain.tags)
    assert page.attributes == plain.attributes
    assert squeezed(clean(text)) in squeezed("".join(page.shown))
    assert """content="default-src 'none'; style-src 'unsafe-inline'">""" in to_html(paper_with(text))


@pytest.mark.parametrize("text", HOSTILE)
def test_the_pdf_form_shows_the_text_and_runs_nothing(text: str):
    content = write_pdf(paper_with(text))
    assert squeezed(printable(clean(text))) in squeezed(pdf_text(content))
    assert b"/JavaScript" not in content
    assert b"/Launch" not in content


@pytest.mark.parametrize("text", HOSTILE)
def test_the_markdown_form_shows_the_text_as_written(text: str):
    markdown_it = pytest.importorskip("markdown_it", reason="markdown-it-py is not installed")
    reader = markdown_it.MarkdownIt().enable(["table", "strikethrough"])
    plain = read_html(reader.render(to_markdown(paper_with("plain"))))
    page = read_html(reader.render(to_markdown(paper_with(text))))
    assert without_breaks(page.tags) == without_breaks(plain.tags)
    assert squeezed(clean(text)) in squeezed("".join(page.shown))


def test_markdown_makes_no_links_of_addresses():
    assert escape("http://example.org") == r"http\://example.org"
    assert escape("see www.example.org, a@b.c") == r"see www\.example.org, a\@b.c"


@pytest.mark.parametrize("text", HOSTILE)
def test_the_json_form_gives_the_text_back(text: str):
    assert json.loads(BUILT_IN["json"].write(paper_with(text)))["text"] == text


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=40))
def test_any_text_comes_out_as_written_or_visibly_cleaned(text: str):
    paper = paper_with(text)
    wanted = squeezed(clean(text))
    assert wanted in squeezed(to_text(paper))
    page = read_html(to_html(paper))
    assert wanted in squeezed("".join(page.shown))
    assert page.tags.count("section") == 2
    assert wanted in squeezed(re.sub(r"\\([!-/:-@\[-`{-~])", r"\1", to_markdown(paper)))


@settings(max_examples=12, deadline=None)
@given(st.text(st.characters(max_codepoint=0x600), min_size=1, max_size=30))
def test_any_text_can_be_set_as_pdf(text: str):
    assert len(PdfReader(io.BytesIO(write_pdf(paper_with(text)))).pages) >= 1


def test_a_case_full_of_escape_sequences_cannot_steer_the_terminal(sample):
    facts = replace(sample.facts, label="\x1b[31mred", notes=("a\x1b]8;;x\x07b\nc",), wishes=("\u202ex",))
    for kind in Kind:
        text = to_text(replace(sample, facts=facts).paper(kind))
        assert "\x1b" not in text
        assert r"\x1b[31mred" in text
    assert r"a\x1b]8;;x\x07b c" in to_text(replace(sample, facts=facts).paper("job"))


def test_the_fonts_letters_are_those_that_its_map_names():
    ttlib = pytest.importorskip("fontTools.ttLib", reason="fontTools is not installed")
    maps = [set(ttlib.TTFont(io.BytesIO(font_bytes(name))).getBestCmap()) for name in FONT_FILES]
    assert covered() == frozenset(set.intersection(*maps) - {0xFFFF})


def test_a_texts_width_is_what_the_fonts_own_tables_say():
    ttlib = pytest.importorskip("fontTools.ttLib", reason="fontTools is not installed")
    text = "Größe 5 N·m: Wenn's wackelt, Жду 4–6 ½"
    for name, bold in zip(FONT_FILES, (False, True), strict=True):
        font = ttlib.TTFont(io.BytesIO(font_bytes(name)))
        names, advances = font.getBestCmap(), font["hmtx"]
        wanted = sum(advances[names[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
        assert text_width(text, 10, bold) == pytest.approx(10 * wanted, rel=1e-9)


def test_letters_that_the_font_lacks_are_shown_by_their_number():
    assert printable("5 N·m, ±2 °C, Größe, Ω, Ж, ש") == "5 N·m, ±2 °C, Größe, Ω, Ж, ש"
    assert printable("漢😀") == r"\u6f22\U0001f600"
