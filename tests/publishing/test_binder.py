"""The binder holds every tree, cause and fastener, and its links lead to the pages that it names."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from diagtree.commands.main import main
from diagtree.library.library import join
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.publishing.binder.contents import binder_pdf, only_trees

HOSTILE = '#panic("no") $x$ </b> \\u{41} "quoted" [a] * _ @x <y> \u202e \u6f22'


def read(content: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(content))


def packed(text: str) -> str:
    """A text without white space: lines are broken anew in boxes."""
    return "".join(text.split())


def links(reader: PdfReader, place: int) -> list[int]:
    """The pages (from 0) that the links on a page lead to, top down and from left to right."""
    numbers = {page.indirect_reference.idnum: number for number, page in enumerate(reader.pages)}
    found = []
    for reference in reader.pages[place].get("/Annots") or ():
        note = reference.get_object()
        assert note["/Subtype"] == "/Link"
        aim = note["/Dest"] if "/Dest" in note else note["/A"]["/D"]
        if not isinstance(aim, list):
            aim = reader.named_destinations[str(aim)].dest_array
        left, _, _, top = (float(side) for side in note["/Rect"])
        found.append((-round(top), left, numbers[aim[0].idnum]))
    return [target for _, _, target in sorted(found)]


@pytest.fixture(scope="module")
def binder(kettle) -> PdfReader:
    return read(binder_pdf(kettle))


@pytest.fixture(scope="module")
def texts(binder) -> list[str]:
    return [page.extract_text() for page in binder.pages]


def chapter(texts: list[str], title: str) -> int:
    """The first page that begins with a title."""
    return next(place for place, text in enumerate(texts) if text.lstrip().startswith(title))


def test_every_line_of_the_contents_leads_to_the_page_that_carries_its_title(kettle, binder, texts):
    lines = re.findall(r"^(.+?)\s*(?:\. ?){3,}\s*(\d+)$", texts[chapter(texts, "Contents")], re.MULTILINE)
    assert [title for title, _ in lines] == [
        "Cautions", "How to use this binder", "Quick looks", "Electric kettle",
        *(tree.title for tree in kettle.trees.values()),
        "Fasteners", "Fluids, greases and compounds", "Glossary", "Index of causes", "Where the figures come from",
    ]  # fmt: skip
    assert len(set(links(binder, chapter(texts, "Contents")))) == len({number for _, number in lines})
    assert set(links(binder, chapter(texts, "Contents"))) == {int(number) - 1 for _, number in lines}
    for title, number in lines:
        assert title in texts[int(number) - 1], title


def test_every_bookmark_leads_to_its_heading(binder, texts):
    def flat(marks):
        for mark in marks:
            if isinstance(mark, list):
                yield from flat(mark)
            else:
                yield mark

    marks = list(flat(binder.outline))
    assert len(marks) > 8
    for mark in marks:
        assert mark.title in texts[binder.get_destination_page_number(mark)]


def test_every_tree_cause_fastener_fluid_and_term_is_in_it_with_its_basis(kettle, texts):
    whole = " ".join(" ".join(texts).split())
    tight = packed(whole)
    for tree in kettle.trees.values():
        for check in tree.checks.values():
            assert packed(check.ask) in tight
            assert all(packed(answer.says) in tight for answer in check.answers.values())
    index = packed(" ".join(texts[chapter(texts, "Index of causes") :]))
    for cause in kettle.causes.values():
        assert packed(cause.title) in index
        assert all(packed(kettle.remedies[name].title) in index for name in cause.remedies)
    for fastener in kettle.fasteners.values():
        assert f"{fastener.title} {fastener.thread}" in whole
    for fluid in kettle.fluids.values():
        assert fluid.title in whole
    assert "anticlockwise (left-hand thread)" in whole
    assert "4–6 N·m 35-53 lbf·in 5 N·m dry and clean [1]" in whole
    assert "[1] invented" in whole
    assert "flex The cable with its plug." in whole
    assert "Mains voltage kills." in texts[chapter(texts, "Cautions")]
    assert "It does not say that a kettle is safe." in texts[0]


def test_the_quick_looks_are_told_and_each_cause_says_what_makes_it_likelier(kettle, texts):
    page = " ".join(texts[chapter(texts, "Quick looks")].split())
    assert "Of 100 kettles that come in: 60 soft water, 40 hard water." in page
    assert "Is there lime around the spout? 0.5 min [1]" in page
    assert "Clean 90 20 Limed 10 80" in page
    assert all(look.ask in page for look in kettle.looks.values())
    (times,) = kettle.causes["kettle/scale"].more_likely["water"].values()
    index = " ".join(" ".join(texts[chapter(texts, "Index of causes") :]).split())
    assert f"Hard water: {times:f} times as likely." in index


def test_the_index_of_causes_leads_to_the_sheets_that_name_them(binder, texts, kettle):
    first = chapter(texts, "Index of causes")
    sheets = [place for place, text in enumerate(texts) if re.search(r"Sheet \d+ of \d+", text)]
    expected = [
        place
        for _, title in sorted((cause.title.casefold(), cause.title) for cause in kettle.causes.values())
        for place in sheets
        if packed(title) in packed(texts[place])
    ]
    found = [target for place in range(first, len(texts)) for target in links(binder, place)]
    assert found == expected
    numbers = re.findall(r"\b\d+\b", re.sub(r"\[\d+\]", "", texts[first].partition("Pages")[2]))
    assert {str(place + 1) for place in expected} <= set(numbers)


def test_each_page_says_which_of_how_many_it_is(binder, texts):
    for place, text in enumerate(texts[1:], 2):
        assert f"Page {place} of {len(texts)}" in text


def test_fonts_are_embedded_and_the_file_is_tagged(binder):
    assert binder.trailer["/Root"]["/MarkInfo"]["/Marked"]
    seen = 0
    for page in binder.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            below = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            assert "LiberationSans" in below["/FontName"]
            assert "/FontFile2" in below
            seen += 1
    assert seen >= len(binder.pages)


def test_the_same_library_gives_the_same_bytes(kettle):
    steps = []
    one = binder_pdf(only_trees(kettle, ["no-heat"]), told=lambda done, of: steps.append((done, of)))
    assert one == binder_pdf(only_trees(kettle, ["no-heat"]))
    assert steps == [(0, 2), (1, 2)]


def test_some_trees_alone_bring_only_their_causes(kettle):
    content = binder_pdf(only_trees(kettle, ["leaks"]), "letter")
    reader = read(content)
    whole = " ".join(page.extract_text() for page in reader.pages)
    assert "Seal perished" in whole
    assert "Fuse blown" not in whole
    assert [round(float(side)) for side in reader.pages[0].mediabox[2:]] == [612, 792]


def _long_tree(title: str = "It does nothing at all"):
    """A chain of questions that no single sheet holds, with a way that leaps ahead."""
    checks = {}
    for number in range(30):
        onward = {"next": f"check-{number + 1}"} if number < 29 else {"found": {"fuse": 1}}
        other = {"next": "check-20"} if number in {2, 5} else {"found": {"fuse": 2}}
        checks[f"check-{number}"] = {
            "ask": f"Is part number {number} as it should be, seen from above and from below?",
            "minutes": 1,
            "answers": {"yes": {"says": "Yes, quite so", **onward}, "no": {"says": "No, not so", **other}},
        }
    tree = {"symptom": "dead", "title": title, "family": "box", "first": "check-0", "checks": checks}
    family = {
        "family": "box", "title": "Box", "parts": {}, "remedies": {"swap": {"title": "Swap it", "verdict": "replace", "holds": 90}},
        "causes": {"fuse": {"title": "Fuse blown", "out-of-100": 5, "risk": "nuisance", "why": "Wear.", "remedies": ["swap"]}},
    }  # fmt: skip
    return join([Family.model_validate(family)], trees=[Tree.model_validate(tree)])


def test_connectors_lead_to_the_sheets_that_they_name_and_back():
    reader = read(binder_pdf(_long_tree()))
    texts = [page.extract_text() for page in reader.pages]
    at = {}
    for place, text in enumerate(texts):
        if match := re.search(r"Sheet (\d+) of (\d+)", text):
            at[int(match[1])] = place
            total = int(match[2])
    assert sorted(at) == list(range(1, total + 1))
    assert total >= 3
    ways = 0
    for number, place in at.items():
        flat = " ".join(texts[place].split())
        onward = {int(sheet) for sheet in re.findall(r"Question \d+, sheet (\d+)", flat)}
        back = [
            int(one)
            for found in re.findall(r"from sheets? ([\d, ]+)", flat)
            for one in re.findall(r"\d+", found)
        ]
        targets = {sheet for sheet, where in at.items() if where in links(reader, place)}
        assert targets == onward | ({min(back)} if back else set()), number
        for sheet in onward:
            assert re.search(rf"from sheets? [\d, ]*\b{number}\b", " ".join(texts[at[sheet]].split()))
        ways += len(onward)
    assert ways >= total - 1


def test_hostile_texts_are_printed_as_they_are():
    content = binder_pdf(_long_tree(HOSTILE))
    text = packed(" ".join(page.extract_text() for page in read(content).pages))
    assert packed('#panic("no") $x$ </b> \\u{41} "quoted" [a] * _ @x <y> \\u202e \\u6f22') in text


def test_the_command_says_what_it_cannot_do_before_any_work(tmp_path, capsys):
    there = tmp_path / "binder.pdf"
    there.write_bytes(b"mine")
    for words, said in (
        (["--to", str(there)], "is there already. Add --force"),
        (["--to", str(tmp_path / "binder.doc")], "End it in .pdf."),
        (
            ["--to", str(tmp_path / "b.pdf"), "--paper", "a5"],
            "There is no paper 'a5'. Choose one of: a4, letter.",
        ),
        (
            ["--to", str(tmp_path / "b.pdf"), "--only", "no-such-thing"],
            "There is no symptom 'no-such-thing'.",
        ),
    ):
        assert main(["binder", *words]) == 2
        assert said in capsys.readouterr().err
    assert there.read_bytes() == b"mine"
