"""The PDF: tagged, selectable, its font embedded, numbered pages, the same bytes for the same case."""

from __future__ import annotations

import io
import subprocess
import sys
from dataclasses import replace
from importlib.resources import files

import pytest
from pypdf import PdfReader

from diagtree.sheets import typeset as typeset_module
from diagtree.sheets.blocks import Column, Facts, Items, Section, Table, Words
from diagtree.sheets.paper import Kind, Paper
from diagtree.sheets.pdf import write_pdf
from diagtree.sheets.typeset import TypesetError, typeset


def read(content: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(content))


@pytest.mark.parametrize("kind", list(Kind))
def test_each_page_says_which_trees_and_which_page_of_how_many(sample, kind: Kind):
    pages = read(write_pdf(sample.paper(kind))).pages
    for number, page in enumerate(pages, 1):
        text = page.extract_text()
        assert f"Page {number} of {len(pages)}" in text
        assert sample.paper(kind).trees in text


def test_it_is_tagged_has_a_title_a_language_and_claims_pdf_ua(sample):
    reader = read(write_pdf(sample.paper("job")))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-GB"
    assert "/StructTreeRoot" in root
    assert b"pdfuaid:part" in root["/Metadata"].get_data()
    assert reader.metadata.title == "Job sheet: the blue one · The water stays cold"


def test_every_font_is_embedded_and_it_is_the_one_that_comes_along(sample):
    fonts = {}
    for page in read(write_pdf(sample.paper("job"))).pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            fonts[inner["/BaseFont"]] = inner["/FontDescriptor"]
    assert fonts
    for name, descriptor in fonts.items():
        assert "LiberationSans" in name
        assert "/FontFile2" in descriptor


def test_the_font_comes_with_its_licence():
    licence = (files("diagtree.sheets") / "fonts" / "LICENSE.txt").read_text("utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "LiberationSans-Regular.ttf" in licence


def test_the_same_case_gives_the_same_bytes_in_another_process(sample, tmp_path):
    once = typeset(("paper.typ",), DATA, "2026-01-02T03:04:05+00:00")
    code = (
        "import sys; from diagtree.sheets.typeset import typeset;"
        f"sys.stdout.buffer.write(typeset(('paper.typ',), {DATA!r}, '2026-01-02T03:04:05+00:00'))"
    )
    again = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout
    assert once == again
    assert write_pdf(sample.paper("job")) == write_pdf(sample.paper("job"))


def test_what_is_short_stands_side_by_side_so_that_a_sheet_takes_fewer_pages(sample):
    paper = sample.paper("job")
    at: list[tuple[str, int]] = []
    for page in read(write_pdf(paper)).pages:
        page.extract_text(visitor_text=lambda text, where, *_: at.append((text, round(where[5]))))

    def height(words: str, after: int = 0) -> tuple[int, int]:
        return next((place, y) for place, (text, y) in enumerate(at) if place >= after and words in text)

    place, title = height(f"1. {paper.data['jobs'][0]['title']}")
    assert height(" min (", place)[1] == title
    assert height("Worked by")[1] == height("Date")[1] == height("Time taken")[1]


DATA = {
    "title": "T",
    "subtitle": "S",
    "trees": "Tree",
    "head": {"block": "Facts", "pairs": [["a", "b"]]},
    "warnings": [],
    "sections": [],
}


def test_cautions_come_first_and_are_never_split(sample):
    long = tuple(f"Caution number {number}. " + "Mind your fingers. " * 12 for number in range(7))
    facts = replace(sample.facts, wishes=("x " * 300,))
    paper = replace(sample, work=replace(sample.work, cautions=long, stops=long[:6]), facts=facts).paper(
        "job"
    )
    pages = [page.extract_text() for page in read(write_pdf(paper)).pages]
    where = [[n for n, page in enumerate(pages) if text.split(".")[0] in page] for text in long]
    assert all(found for found in where)
    heads = [n for n, page in enumerate(pages) if "CAUTION" in page]
    assert len(heads) == 1
    assert all(heads[0] in found for found in where)


def test_a_caution_taller_than_a_page_is_split_rather_than_lost(sample):
    long = tuple(f"Caution number {number:03}. " + "Mind your fingers. " * 20 for number in range(60))
    paper = replace(sample, work=replace(sample.work, cautions=long)).paper("torque")
    text = " ".join(" ".join(page.extract_text().split()) for page in read(write_pdf(paper)).pages)
    assert all(caution.split(".")[0] in text for caution in long)


def test_a_tables_head_is_repeated_on_each_page(sample):
    lines = tuple(replace(sample.work.torque_round[1], title=f"Screw {n}") for n in range(80))
    paper = replace(sample, work=replace(sample.work, torque_round=lines)).paper("torque")
    pages = [page.extract_text() for page in read(write_pdf(paper)).pages]
    with_rows = [page for page in pages if "Screw " in page]
    assert len(with_rows) > 2
    assert all("Thread gets" in page for page in with_rows)


def paper_of(*blocks) -> Paper:
    section = Section("Body", blocks)
    return Paper(Kind.JOB, "T", "S", Facts((("a", "b"),)), (), (section,), "Trees", "2026-01-02T03:04:05")


def test_a_bill_is_never_split_from_its_total():
    rows = tuple((f"Row {letter}", "1.00") for letter in "ABCDEFGH")
    bill = Table((Column("What"), Column("EUR", right=True)), rows, sums=3)
    split = set()
    for lines in range(36, 64, 3):
        filler = Items(tuple(f"Line {n}" for n in range(lines)))
        pages = [page.extract_text() for page in read(write_pdf(paper_of(filler, bill))).pages]
        where = {n for n, page in enumerate(pages) for row, _ in rows if row in page}
        split |= {(lines, *where)} if len(where) > 1 else set()
    assert split == set()


def test_a_row_of_paragraphs_flows_from_page_to_page_and_each_lead_stays_with_its_own():
    """Held together they all went to the next page and left most of one empty."""
    blocks = [
        block
        for n in range(40)
        for block in (
            Words(f"Lead {n:02}", strong=True),
            Words(f"Paragraph {n:02}. " + "Words follow. " * 20),
        )
    ]
    filler = Items(tuple(f"Line {n}" for n in range(25)))
    pages = [page.extract_text() for page in read(write_pdf(paper_of(filler, *blocks))).pages]
    assert "Paragraph 05" in pages[0]
    assert all(
        any(f"Lead {n:02}" in page and f"Paragraph {n:02}" in page for page in pages) for n in range(40)
    )


def test_a_document_that_cannot_be_set_is_an_expected_error(monkeypatch: pytest.MonkeyPatch):
    with pytest.raises(TypesetError, match=r"could not be set: .*Write it as HTML instead"):
        typeset(("paper.typ",), {"title": "no more than a title"})
    assert issubclass(TypesetError, typeset_module.ExpectedError)
