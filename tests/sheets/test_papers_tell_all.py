"""What each of the four papers tells, in the plain text form."""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.offers import SheetWriter
from diagtree.lines import cells
from diagtree.sheets.blocks import Column, Table
from diagtree.sheets.facts import Found, Tightened
from diagtree.sheets.figures import percents
from diagtree.sheets.html import to_html
from diagtree.sheets.paper import Paper
from diagtree.sheets.text import WIDTH, column_widths, to_text
from diagtree.sheets.writers import BUILT_IN, all_writers, writer_for


def told(paper: Paper) -> str:
    """All words of a paper in reading order, whatever the columns: those of the HTML form."""
    body = to_html(paper).partition("<body>")[2]
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", body)).split())


def test_the_job_sheet_warns_before_it_says_anything_else(sample):
    text = to_text(sample.paper("job"))
    stop, caution = text.index("Do not plug it in again"), text.index("Mains voltage kills")
    assert stop < caution < text.index("Kettle:") < text.index("WHAT IS LIKELY")
    assert "maker's instructions come before any figure here" in told(sample.paper("job"))
    assert "goes to a qualified mechanic" in text


def test_the_job_sheet_tells_causes_verdicts_jobs_torques_fluids_and_price(sample):
    text = told(sample.paper("job"))
    for said in [
        "Element burnt out 71 %",
        "hard water 79 % 40 % [1]",
        "REPLACE",
        "Replace: it holds 98 times in 100",
        "× 2. Swap the element",
        "Minutes [1]: likely (at least to at most).",
        "do · 8 min (5 to 15)",
        "The edge is sharp.",
        "Lay ready: screwdriver.",
        "5 N·m (4–6) [2]",
        "35–53 lbf·in",
        "No wrench here measures to the left.",
        "estimate: not above 11.3 N·m [3]",
        "the play is just gone [4]",
        "Never with Bleach",
        "Price 39.90",
        "switch contacts 1 in 10 5.20",
        "80 of 100 kettles like this one come in at or under EUR 39.90.",
        "Is there lime around the spout?",
        "Does it hum after a minute? Nobody could tell.",
        "Not asked: Is the flex hurt anywhere? The fuse says it already.",
        "Smells burnt.",
        "[1] invented · [2] common practice · [3] VDI 2230; limit: the thread in 6061-T6 strips · [4] from memory",
    ]:
        assert said in text, said


def test_no_caution_stands_twice_and_a_jobs_own_stands_at_the_job(sample):
    job = sample.work.plan[1]
    work = replace(
        sample.work,
        cautions=(*sample.work.cautions, "The edge is sharp."),
        plan=(*sample.work.plan[:2], replace(job, number=3, job="kettle/again", title="Look again")),
    )
    text = told(replace(sample, work=work).paper("job"))
    for caution in work.cautions:
        assert text.count(caution) == 1, caution
    assert text.index("The edge is sharp.") > text.index("2. Swap the element")
    assert "Fit a new element: Pull the plug first." in text


def test_the_text_form_ticks_warns_and_draws_bars(sample):
    text = to_text(sample.paper("job"))
    assert "[x] 2. Swap the element · " in text
    assert "       ! The edge is sharp.\n" in text
    assert "71 % ##############......\n" in text
    assert "[ ] Fill it and let it boil twice.\n" in text


def test_every_mark_on_a_paper_has_its_basis_at_the_foot(sample):
    for kind in ("job", "estimate", "torque", "handover"):
        text = to_text(sample.paper(kind))
        marks = set(re.findall(r"\[\d+\]", text))
        foot = " ".join(text[text.index("WHERE THE FIGURES COME FROM") :].split())
        assert marks
        assert all(f"{mark} " in foot for mark in marks)


def test_the_estimate_is_in_the_customers_words_and_says_when_we_stop_and_ask(sample):
    text = told(sample.paper("estimate"))
    assert "Most likely: element burnt out (7 in 10). A scaled element runs too hot and breaks." in text
    assert "But it may also be: scale on the element (1 in 6)" in text
    assert "Agreed on 2026-03-04 09:30: EUR 39.90, and not above EUR 45.00." in text
    assert "we stop and ask before we go on" in text
    assert "screwdriver" not in text
    open_one = replace(sample, facts=replace(sample.facts, agreed=None)).paper("estimate")
    assert "I agree to the work, up to" in to_text(open_one)


def test_the_torque_round_has_every_fastener_and_says_which_wrench(sample):
    text = told(sample.paper("torque"))
    for line in sample.work.torque_round:
        assert line.title in text
    assert "Small wrench: 2 to 24 N·m, measures to the right only" in text
    assert "Use Small wrench for: Element nut." in text


def test_the_handover_tells_what_was_checked_and_never_promises_safety(sample):
    text = told(sample.paper("handover"))
    assert "It was: Element burnt out." in text
    assert "Take the base off (2026-03-04 09:50)" in text
    assert "Planned, and not ticked off: Put the base back" in text
    assert "5 N·m by feel to the left" in text
    assert "Touched, and no torque recorded: Base screw." in text
    assert "Checked and handed over by A. Mechanic" in text
    assert "It is no promise that the kettle is safe." in text
    assert len(re.findall(r"\bsafe\b", text)) == 1


def test_an_order_to_stop_stays_on_the_handover_until_all_the_work_is_ticked_off(sample):
    assert "Do not plug it in again" in to_text(sample.paper("handover"))
    done = tuple((job.job, "2026-03-04T10:10:00+00:00") for job in sample.work.plan)
    finished = replace(sample, facts=replace(sample.facts, jobs_done=done))
    assert "Do not plug it in again" not in to_text(finished.paper("handover"))


def test_what_must_be_ruled_out_is_a_box_for_the_mechanic_and_a_promise_to_the_customer(sample):
    assert "[ ] Ruled out: Body: Seal perished (1 in 17)." in to_text(sample.paper("handover"))
    assert "Seal perished (1 in 17): we rule it out before you get the kettle back." in told(
        sample.paper("estimate")
    )
    seen = (*sample.facts.found, Found("kettle/seal-perished", True))
    left = replace(sample, facts=replace(sample.facts, found=seen)).paper("handover")
    assert ("Mind", ("Look at the seal before it is used: water on live parts kills.",)) in [
        (warning.word, warning.texts) for warning in left.warnings
    ]


def test_the_estimate_says_what_is_paid_and_how_sure_each_remedy_is(sample):
    text = told(sample.paper("estimate"))
    assert (
        "You pay for what is done: EUR 33.00 if all goes as planned. Above EUR 45.00 we stop and ask" in text
    )
    assert "It holds 98 times in 100." in text
    dear = replace(sample.work.estimate, price=Decimal("59.90"), allowance=Decimal("26.90"))
    open_facts = replace(sample.facts, agreed=None)
    large = replace(sample, facts=open_facts, work=replace(sample.work, estimate=dear))
    assert "You may agree to the planned work alone" in told(large.paper("estimate"))


def test_a_handover_with_nothing_ticked_off_says_so(sample):
    bare = replace(sample, facts=replace(sample.facts, jobs_done=(), torques=(), handed_over=None, found=()))
    text = told(bare.paper("handover"))
    assert "No job has been ticked off as done." in text
    assert "Judged from the answers: Element burnt out (71 %)." in text


def test_unfinished_questions_and_missing_prices_are_named_as_not_known(sample):
    text = to_text(replace(sample, facts=replace(sample.facts, finished=False)).paper("job"))
    assert "The questions were not asked to the end." in text
    assert "Prices of: Descaler." in text


def test_each_paper_carries_version_and_identity_of_the_trees(sample):
    identity = sample.library.identity("no-heat")
    for kind in ("job", "estimate", "torque", "handover"):
        assert sample.paper(kind).trees == f"Tree: no-heat version 1 ({identity})"
    walked = replace(sample, facts=replace(sample.facts, trees=(("no-heat", "0123456789ab"),)))
    assert walked.paper("job").trees.endswith(f"({identity}, walked as 0123456789ab)")


def test_a_tree_that_has_changed_since_it_was_walked_is_told(sample):
    changed = "The tree has changed since its questions were asked"
    assert changed not in told(sample.paper("job"))
    walked = replace(sample, facts=replace(sample.facts, trees=(("no-heat", "0123456789ab"),)))
    assert changed in told(walked.paper("job"))
    assert changed in told(walked.paper("handover"))
    data = json.loads(BUILT_IN["json"].write(walked.paper("job")))
    assert data["complaints"][0]["walked"] == "0123456789ab"


def test_the_page_on_papers_names_every_key_of_the_json_form(sample):
    page = (Path(__file__).parents[2] / "docs" / "papers.md").read_text("utf-8")
    for key in json.loads(BUILT_IN["json"].write(sample.paper("job"))):
        assert f"`{key}`" in page, key


def test_no_line_of_the_text_form_is_wider_than_the_terminal(sample):
    for kind in ("job", "estimate", "torque", "handover"):
        assert max(map(cells, to_text(sample.paper(kind)).split("\n"))) <= WIDTH


def test_the_json_form_holds_all_with_exact_money(sample):
    data = json.loads(BUILT_IN["json"].write(sample.paper("job")))
    assert data["schema"] == 1
    assert data["kind"] == "job"
    assert data["complaints"][0]["causes"][0] == {
        "cause": "kettle/element-open",
        "title": "Element burnt out",
        "chance": 0.71,
    }
    assert data["picture"][0]["states"][1] == {"state": "hard", "says": "hard water", "chance": 0.79}
    assert data["estimate"]["price"] == "39.90"
    assert sum(Decimal(item["amount"]) for item in data["estimate"]["items"]) == Decimal("6.90")
    assert [job["job"] for job in data["jobs"]] == [
        "kettle/base-off",
        "kettle/swap-element",
        "kettle/base-on",
    ]
    assert data["torques"][0]["hand"] == "left"
    assert data["remedies"][0]["verdict"] == "replace"
    assert data["fluids"][0]["never_with"] == ["Bleach"]
    assert data["asked"][2]["told"] == "can't tell"
    kinds = {kind: json.loads(BUILT_IN["json"].write(sample.paper(kind))) for kind in ("job", "handover")}
    assert {**kinds["job"], "kind": ""} == {**kinds["handover"], "kind": ""}


def test_an_unknown_paper_names_those_there_are(sample):
    with pytest.raises(UnknownNameError, match=r"There is no paper 'invoice'\. Choose one of: job, estimate"):
        sample.paper("invoice")


def test_a_form_is_chosen_by_name_or_by_the_files_end(tmp_path):
    assert writer_for(tmp_path / "a.HTML", BUILT_IN).name == "html"
    assert writer_for(tmp_path / "a", BUILT_IN, "pdf").name == "pdf"
    with pytest.raises(UnknownNameError, match=r"no form 'pfd'\. Did you mean 'pdf'"):
        writer_for(tmp_path / "a", BUILT_IN, "pfd")
    with pytest.raises(ExpectedError, match=r"End it in one of: \.txt, \.md, \.html, \.pdf, \.json"):
        writer_for(tmp_path / "sheet.doc", BUILT_IN)


def test_a_plugin_adds_a_form_but_cannot_take_the_place_of_another(sample):
    labels = SheetWriter("label", "a label", ".lbl", lambda paper: paper.subtitle.encode())
    rival = SheetWriter("mine", "mine", ".pdf", lambda paper: b"")
    writers, problems = all_writers([("labels", labels), ("rival", rival)])
    assert writers["label"].write(sample.paper("job")) == "the blue one · The water stays cold".encode()
    assert "mine" not in writers
    assert [str(problem) for problem in problems] == [
        "rival: its sheet writer 'mine' (.pdf) clashes with 'pdf' (.pdf). Give it another name and suffix."
    ]


@settings(max_examples=60)
@given(st.lists(st.integers(1, 1000), min_size=1, max_size=9))
def test_per_cents_that_belong_together_add_up_to_a_hundred(weights: list[int]):
    shown = percents([weight / sum(weights) for weight in weights])
    figures = [int(text.removesuffix(" %")) for text in shown if text[0].isdigit()]
    words = [text for text in shown if not text[0].isdigit()]
    if not words:
        assert sum(figures) == 100
    assert all(text in {"under 1 %", "over 99 %"} for text in words)


@settings(max_examples=60)
@given(
    st.lists(st.lists(st.text(max_size=60), min_size=3, max_size=3), min_size=1, max_size=5),
    st.integers(30, 120),
)
def test_columns_always_fit_the_width(rows: list[list[str]], width: int):
    table = Table((Column("A"), Column("B", right=True), Column("C", blank=True)), tuple(map(tuple, rows)))
    assert sum(column_widths(table, width)) + 4 <= width


def test_a_fluid_s_limits_stand_with_what_they_rest_on(sample):
    """49 CFR 571.116, S5.1.1 to S5.1.3: DOT 5.1 boils at 260 °C, 180 °C wet; at most 900 mm²/s at -40 °C."""
    limits = {"boils_dry": Decimal(260), "boils_wet": Decimal(180), "viscosity_cold": Decimal(900)}
    fluid = replace(
        sample.work.fluids[0],
        **limits,
        colour="colourless to amber",
        basis="49 CFR 571.116, S5.1.1 to S5.1.3",
    )
    paper = replace(sample, work=replace(sample.work, fluids=(fluid,))).paper("job")
    text = " ".join(to_text(paper).split())
    assert (
        "Boils at 260 °C or more, 180 °C wet. At most 900 mm²/s at -40 °C. Colour: colourless to amber."
        in text
    )
    assert "49 CFR 571.116, S5.1.1 to S5.1.3" in text


def test_the_job_sheet_is_signed_by_whoever_handed_the_machine_over(sample):
    assert "Worked by A. Mechanic Date 2026-03-04 10:30" in told(sample.paper("job"))
    blank = replace(sample, facts=replace(sample.facts, handed_over=None))
    assert "A. Mechanic" not in told(blank.paper("job"))


def test_what_no_torque_rules_is_recorded_as_done_and_not_as_a_number(sample):
    facts = replace(sample.facts, torques=(("kettle/element-nut", Tightened(None)),))
    by_feel = replace(sample, facts=facts)
    assert "Done." in told(by_feel.paper("job"))
    assert "None" not in told(by_feel.paper("handover"))


def test_a_trial_that_was_ticked_off_too_early_is_open_again_on_job_sheet_and_handover(sample):
    first, swap, *rest = sample.work.plan
    trial = replace(first, tries=(swap.job,))
    early = replace(sample, work=replace(sample.work, plan=(trial, swap, *rest)))
    said = f"It was done before this work: {swap.title}. Do it again after it."
    assert said in told(early.paper("job"))
    assert f"{trial.title}. {said}" in told(early.paper("handover"))
    assert said not in told(sample.paper("job"))


def test_a_job_whose_title_and_minutes_fit_one_line_takes_one_line_in_the_text_form(sample):
    lines = to_text(sample.paper("job")).split("\n")
    (title,) = [line for line in lines if "2. Swap the element" in line]
    assert "min (5 to 15)" in title
    assert all(cells(line) <= WIDTH for line in lines)
