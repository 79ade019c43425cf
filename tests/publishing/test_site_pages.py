"""The site tells all that the library tells, its links lead somewhere, and nothing on it comes from elsewhere."""

from __future__ import annotations

import base64
import hashlib
import json
import posixpath
import re
from collections import Counter
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from diagtree.commands.main import main
from diagtree.library.library import join
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree
from diagtree.publishing.site.colours import DARK, DRAWN_ON, LIGHT, TEXT_ON, contrast
from diagtree.publishing.site.pages import site_pages
from diagtree.publishing.site.writing import FolderInUseError, write_site

HOSTILE = "</script><script>alert(1)</script><img src=x onerror=alert(2)>\"' {{7*7}} \u202e \\ & ]]>"


class Page(HTMLParser):
    """What a page holds: anchors, links, scripts, styles, plain text."""

    def __init__(self, content: bytes) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inside: dict[str, list[str]] = {"script": [], "style": []}
        self.words: list[str] = []
        self._in = ""
        self.feed(content.decode("utf-8"))
        self.text = " ".join(" ".join(self.words).split())

    def handle_starttag(self, tag, attrs):
        values = dict(attrs)
        self.tags.append((tag, values))
        self.ids += [values["id"]] if values.get("id") else []
        self.links += [values[name] for name in ("href", "src", "action") if values.get(name)]
        self._in = tag if tag in self.inside else ""
        if self._in:
            self.inside[tag].append("")

    def handle_endtag(self, tag):
        self._in = ""

    def handle_data(self, data):
        if self._in:
            self.inside[self._in][-1] += data
        else:
            self.words.append(data)


def html_pages(pages: dict[str, bytes]) -> dict[str, Page]:
    return {place: Page(content) for place, content in pages.items() if place.endswith(".html")}


def lost_links(pages: dict[str, bytes]) -> list[str]:
    """The links that lead nowhere, on pages and in drawings."""
    known = html_pages(pages)
    links = [(place, link) for place, page in known.items() for link in page.links]
    for place, content in pages.items():
        if place.endswith(".svg"):
            links += [
                (place, part.attrib["href"])
                for part in ElementTree.fromstring(content).iter()
                if "href" in part.attrib
            ]
    lost = []
    for place, link in links:
        if link.startswith("data:"):
            continue
        path, _, anchor = link.partition("#")
        target = posixpath.normpath(posixpath.join(posixpath.dirname(place), path)) if path else place
        if target not in pages or (anchor and anchor not in known[target].ids):
            lost.append(f"{place}: {link}")
    return lost


def test_every_link_leads_somewhere(kettle_pages):
    assert lost_links(kettle_pages) == []


def test_a_link_that_leads_nowhere_would_be_found():
    assert lost_links({"a/b.html": b'<a href="../c.html#d">x</a>', "c.html": b"<p>"}) == [
        "a/b.html: ../c.html#d"
    ]


def test_no_anchor_stands_twice_on_a_page(kettle_pages):
    for place, page in html_pages(kettle_pages).items():
        assert len(page.ids) == len(set(page.ids)), place


def test_nothing_on_the_site_names_another_place(kettle_pages):
    for place, content in kettle_pages.items():
        text = content.decode().replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"https?:|//[a-z]+\.[a-z]|url\(|@import|\bfetch\(|XMLHttp|sendBeacon", text), (
            place
        )


def test_the_policy_lets_in_our_own_style_and_scripts_by_their_hashes_and_nothing_else(kettle_pages):
    for place, page in html_pages(kettle_pages).items():
        policy = next(
            values["content"] for tag, values in page.tags
            if tag == "meta" and values.get("http-equiv") == "Content-Security-Policy"
        )  # fmt: skip
        rules = dict(part.strip().split(" ", 1) for part in policy.split(";"))
        assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
        kinds = [values.get("type") for tag, values in page.tags if tag == "script"]
        run = [text for text, kind in zip(page.inside["script"], kinds, strict=True) if kind is None]
        for rule, texts in (("script-src", run), ("style-src", page.inside["style"])):
            hashes = {
                f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
                for text in texts
            }
            assert hashes == set(rules[rule].split()), place
        assert not [name for _, values in page.tags for name in values if name.startswith("on")]
        assert not [tag for tag, values in page.tags if "style" in values], "the policy would refuse it"


def test_a_trees_page_tells_the_whole_tree(kettle, kettle_pages):
    for symptom, tree in kettle.trees.items():
        page = Page(kettle_pages[f"trees/{symptom}.html"])
        for check_name, check in tree.checks.items():
            assert f"q-{check_name}" in page.ids
            assert check.ask in page.text
            for text in (*check.how, *(answer.says for answer in check.answers.values())):
                assert text in page.text
            for name, answer in check.answers.items():
                link = next(
                    v["href"] for t, v in page.tags if t == "a" and v.get("id") == f"a-{check_name}.{name}"
                )
                assert link == (f"#q-{answer.next}" if answer.next else f"#f-{check_name}.{name}")
                assert (answer.stop or "") in page.text
        for name in kettle.causes_of[symptom]:
            cause = kettle.causes[name]
            assert cause.why in page.text
            for remedy in cause.remedies:
                assert kettle.remedies[remedy].title in page.text


def test_a_remedy_shows_work_torque_turning_and_function_check(kettle_pages):
    text = Page(kettle_pages["trees/no-heat.html"]).text
    assert "Fit a new element holds 98 of 100" in text
    assert re.search(
        r"Take the base off 2 min \(1 to 4\) \[\d\] Swap the element 8 min .* Put the base back", text
    )
    assert "Element nut 4–6 N·m, anticlockwise (left-hand thread) , dry and clean" in text
    assert "Fill it and let it boil twice." in text


def test_tables_give_each_figure_with_its_basis(kettle, kettle_pages):
    torque = Page(kettle_pages["torque.html"])
    assert "1–1.4 N·m 9-12 lbf·in 1.2 N·m dry and clean invented" in torque.text
    assert {f"fastener-{name.replace('/', '.')}" for name in kettle.fasteners} <= set(torque.ids)
    fluids = Page(kettle_pages["fluids.html"])
    assert "Never with vinegar. Attacks steel." in fluids.text
    assert {f"fluid-{name.replace('/', '.')}" for name in kettle.fluids} <= set(fluids.ids)
    causes = Page(kettle_pages["causes.html"])
    assert {f"cause-{name.replace('/', '.')}" for name in kettle.causes} <= set(causes.ids)
    # The counts of one tree add up: 22 in one finding and 3 in another.
    assert (
        "Switch contacts worn Switch Electric kettle Does damage if it is left. The water stays cold 25 of 100"
        in causes.text
    )
    assert "The cable with its plug." in Page(kettle_pages["glossary.html"]).text


def test_the_quick_looks_stand_with_the_sides_that_they_speak_of(kettle, kettle_pages):
    page = Page(kettle_pages["looks.html"])
    assert {f"look-{name}" for name in kettle.looks} | {f"side-{name}" for name in kettle.conditions} <= set(
        page.ids
    )
    assert "Of 100 kettles that come in [1] : 60 soft water, 40 hard water." in page.text
    assert (
        "Is there lime around the spout? 0.5 min [1] Seen on so many of 100 soft water hard water "
        "Clean 90 20 Limed 10 80"
    ) in page.text


def test_a_cause_says_what_makes_it_likelier(kettle, kettle_pages):
    page = Page(kettle_pages["trees/slow-boil.html"])
    (factor,) = kettle.causes["kettle/scale"].more_likely["water"].values()
    assert f"hard water: {factor:f} times as likely" in page.text
    assert "../looks.html#side-water" in page.links


def test_all_that_the_search_finds_is_there(kettle, kettle_pages):
    search = Page(kettle_pages["search.html"])
    entries = json.loads(search.inside["script"][1])
    ids = {place: page.ids for place, page in html_pages(kettle_pages).items()}
    for _, _, place, _ in entries:
        page, _, anchor = place.partition("#")
        assert page in ids
        assert not anchor or anchor in ids[page], place
    kinds = Counter(kind for kind, *_ in entries)
    checks = sum(len(tree.checks) for tree in kettle.trees.values())
    assert kinds == {
        "Complaint": 3, "Question": checks, "Cause": len(kettle.causes), "Fastener": 2, "Fluid": 2,
        "Job": len(kettle.jobs), "Last check": 1, "Term": 1, "Quick look": 2,
    }  # fmt: skip


def test_the_same_library_gives_the_same_bytes(kettle, kettle_pages):
    assert site_pages(kettle) == kettle_pages


def _hostile_library():
    family = Family.model_validate({
        "family": "kettle", "title": HOSTILE, "basis": HOSTILE,
        "parts": {"base": {"title": HOSTILE}},
        "causes": {"fuse": {"title": HOSTILE, "part": "base", "out-of-100": 5, "risk": "unsafe", "why": HOSTILE,
                            "tell": HOSTILE, "caution": [HOSTILE], "refer": HOSTILE, "remedies": ["swap"]}},
        "remedies": {"swap": {"title": HOSTILE, "verdict": "replace", "holds": 90, "jobs": ["swap"], "verify": HOSTILE}},
        "jobs": {"swap": {"title": HOSTILE, "minutes": [1, 2, 3], "how": [HOSTILE], "tools": [HOSTILE], "fasteners": ["screw"]}},
        "fasteners": {"screw": {"title": HOSTILE, "thread": HOSTILE, "until": HOSTILE, "preparation": HOSTILE}},
        "fluids": {"oil": {"title": HOSTILE, "kind": "oil", "never-on": [HOSTILE], "colour": HOSTILE}},
    })  # fmt: skip
    tree = Tree.model_validate({
        "symptom": "dead", "title": HOSTILE, "family": "kettle", "first": "lamp", "also-called": [HOSTILE], "caution": [HOSTILE],
        "checks": {"lamp": {"ask": HOSTILE, "how": [HOSTILE], "minutes": 1, "caution": [HOSTILE], "answers": {
            "no": {"says": HOSTILE, "found": {"fuse": 60}, "stop": HOSTILE, "note": HOSTILE},
            "yes": {"says": HOSTILE, "found": {"fuse": 40}}}}},
    })  # fmt: skip
    words = Conditions.model_validate({
        "machine": {"one": HOSTILE, "many": HOSTILE}, "cautions": [HOSTILE], "glossary": {HOSTILE: HOSTILE},
        "conditions": {"kept": {"title": HOSTILE, "states": {"dry": {"says": HOSTILE, "out-of-100": 30},
                                                             "damp": {"says": HOSTILE, "out-of-100": 70}}}},
        "looks": {"where": {"ask": HOSTILE, "how": [HOSTILE], "minutes": 1, "speaks-of": "kept", "answers": {
            "in": {"says": HOSTILE, "shows": {"dry": 100, "damp": 0}}, "out": {"says": HOSTILE, "shows": {"damp": 100, "dry": 0}}}}},
    })  # fmt: skip
    return join([family], [words], [tree])


def test_hostile_texts_stay_texts():
    pages = site_pages(_hostile_library())
    for place, content in pages.items():
        text = content.decode()
        assert "\u202e" not in text, place
        assert "49" not in re.sub(r"[\d.]{3,}|#[0-9a-f]+", "", Page(content).text), "a template was evaluated"
        if place.endswith(".svg"):
            names = {part.tag.rpartition("}")[2] for part in ElementTree.fromstring(content).iter()}
            assert names == {"svg", "style", "g", "path", "polygon", "text", "a"}
            continue
        page = Page(content)
        assert [tag for tag, _ in page.tags].count("script") == (3 if place == "search.html" else 2), place
        assert "img" not in [tag for tag, _ in page.tags], place
        assert "</script><script>alert(1)</script><img src=x onerror=alert(2)>\"'" in page.text, place
    assert lost_links(pages) == []


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_colours_stand_apart_as_wcag_aa_asks(palette, kettle_pages):
    css = Page(kettle_pages["index.html"]).inside["style"][0]
    for name, value in palette.items():
        assert f"--{name}:{value};" in css
    for letters, grounds in TEXT_ON.items():
        for ground in grounds:
            assert contrast(palette[letters], palette[ground]) >= 4.5, (letters, ground)
    for drawn, grounds in DRAWN_ON.items():
        for ground in grounds:
            assert contrast(palette[drawn], palette[ground]) >= 3, (drawn, ground)


def test_letters_are_only_set_in_colours_whose_contrast_is_reckoned(kettle_pages):
    css = Page(kettle_pages["index.html"]).inside["style"][0].replace(" ", "")
    used = set(re.findall(r"[{;]color:([^;}]+)", css))
    assert used == {"inherit"} | {f"var(--{name})" for name in TEXT_ON}


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path, kettle_pages):
    (tmp_path / "letter.txt").write_text("mine")
    with pytest.raises(FolderInUseError, match=r"holds something else. Name an empty one, or add --force"):
        write_site(tmp_path, kettle_pages)
    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]
    write_site(tmp_path, kettle_pages, force=True)
    assert (tmp_path / "letter.txt").read_text() == "mine"
    assert (tmp_path / "index.html").read_bytes() == kettle_pages["index.html"]


def test_an_earlier_site_is_replaced_and_what_is_gone_from_it_goes(tmp_path, kettle_pages):
    write_site(tmp_path, {**kettle_pages, "trees/old.html": b"old"})
    write_site(tmp_path, kettle_pages)
    made = {str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*") if path.is_file()}
    assert made == {*kettle_pages, "diagtree-page.json"}


def test_a_list_of_files_that_was_meddled_with_removes_nothing_outside(tmp_path, kettle_pages):
    outside = tmp_path / "outside.txt"
    outside.write_text("mine")
    site = tmp_path / "site"
    site.mkdir()
    (site / "diagtree-page.json").write_text('{"schema": 1, "files": ["../outside.txt"]}')
    write_site(site, kettle_pages)
    assert outside.read_text() == "mine"


def test_the_command_refuses_a_used_folder_before_any_work(tmp_path, capsys):
    (tmp_path / "letter.txt").write_text("mine")
    assert main(["page", "--to", str(tmp_path)]) == 2
    assert "holds something else" in capsys.readouterr().err
