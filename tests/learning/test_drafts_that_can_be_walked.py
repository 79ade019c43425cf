"""A draft is walked at once: what is missing does not matter until the walk comes to it, and is told there."""

from __future__ import annotations

import copy
import shutil
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.case.log import ScratchLog
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.learning.draft import read_draft
from diagtree.library.fault import FaultyFileError
from diagtree.library.plugins import load_plugins

KETTLE = Path(__file__).parents[1] / "kettle"

UNFINISHED = """\
symptom: silent-kettle
title: It says nothing
family: kettle
first: lamp
checks:
  lamp:
    ask: Does the lamp come on?
    minutes: 1
    answers:
      no: {says: Dark, next: plug}
      yes: {says: Lit, next: humm}
      blinks: {says: Blinks}
  plug:
    minutes: soon
    answers:
      in: {says: Plugged in, found: {fuse-blown: 30, gremlin: 10}}
      out: {says: Pulled, next: lamp}
  lid:
    ask: Is it shut?
    minutes: 1
    anytime: true
    answers: {yes: {says: Yes, found: {scale: 20}}}
cases:
  - {answers: {lamp: no}, expect: nobody}
"""

PLUGINS = load_plugins(points=())


@pytest.fixture
def beside(tmp_path):
    for name in ("catalogue.yaml", "conditions.yaml"):
        shutil.copy(KETTLE / name, tmp_path / name)
    return tmp_path


def draft_of(folder, text):
    path = folder / "draft.yaml"
    path.write_text(text, encoding="utf-8")
    return read_draft(path, PLUGINS)


def note_at(draft, check, answer):
    return draft.library.trees[draft.symptom].checks[check].answers[answer].note


def test_a_sound_way_is_walked_though_another_is_broken(beside):
    draft = draft_of(beside, UNFINISHED)
    tree = draft.library.trees["silent-kettle"]
    assert len(draft.faults) == 8
    assert tree.checks["plug"].answers["in"].found["kettle/fuse-blown"] == 30
    assert tree.checks["plug"].ask == "(no question is written yet for 'plug')"


@pytest.mark.parametrize(
    ("check", "answer", "told"),
    [
        ("lamp", "yes", "Line 11: There is no check 'humm' in this tree. Choose one of: lamp, lid, plug."),
        (
            "lamp",
            "blinks",
            "Line 12: An answer needs either 'next:' (a check) or 'found:' (causes with counts).",
        ),
        ("plug", "out", "Line 17: This leads round in a loop: lamp, plug, lamp."),
        ("lid", "not-written-yet", "There are too few entries here: at least 2 are needed."),
    ],
)
def test_where_the_draft_goes_no_further_the_answer_says_what_is_missing_and_how_to_go_on(
    beside, check, answer, told
):
    note = note_at(draft_of(beside, UNFINISHED), check, answer)
    assert note.startswith("The draft goes no further here. ")
    assert told in note
    assert note.endswith("Mend that and try again, or go back one question and take another way.")


def test_a_cause_that_is_in_no_catalogue_has_a_stand_in_and_is_told_where_it_is_found(beside):
    draft = draft_of(beside, UNFINISHED)
    assert draft.library.causes["kettle/gremlin"].title == "gremlin (not in a catalogue yet)"
    note = note_at(draft, "plug", "in")
    assert note.startswith("Line 16: There is no cause 'kettle/gremlin'. Choose one of: element-open, ")


@pytest.mark.parametrize(
    ("was", "now", "told"),
    [
        ("title: Fuse blown", "titel: Fuse blown", "The cause 'fuse-blown' has a fault: {}:36:3: "),
        (
            "new-fuse: {title: Fit a new fuse, verdict: replace,",
            "new-fuse: {title: Fit a new fuse, verdict: mend,",
            "The cause 'fuse-blown' has a fault: something that it needs has a fault. See: diagtree proofread {}",
        ),
    ],
)
def test_a_cause_with_a_fault_in_its_catalogue_does_not_stop_the_walk(beside, was, now, told):
    catalogue = beside / "catalogue.yaml"
    text = catalogue.read_text(encoding="utf-8")
    assert was in text
    catalogue.write_text(text.replace(was, now), encoding="utf-8")
    draft = draft_of(beside, (KETTLE / "no-heat.yaml").read_text(encoding="utf-8"))
    assert draft.library.causes["kettle/fuse-blown"].title == "fuse-blown (has a fault in its catalogue)"
    assert told.format(catalogue) in note_at(draft, "fuse", "no")
    assert draft.faults == ()
    assert {fault.file for fault in draft.faults_beside} == {str(catalogue)}


def test_what_is_not_written_yet_has_the_share_that_is_not_counted_out_yet(beside):
    tree = draft_of(beside, UNFINISHED).library.trees["silent-kettle"]
    counts = [n for c in tree.checks.values() for a in c.answers.values() for n in (a.found or {}).values()]
    assert sum(counts) == pytest.approx(100)


def test_a_draft_without_faults_is_walked_as_it_is(beside):
    text = (KETTLE / "no-heat.yaml").read_text(encoding="utf-8")
    draft = draft_of(beside, text)
    assert draft.faults == ()
    assert len(draft.library.trees["no-heat"].cases) == 2


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("symptom: x\nfamily: kettle\nchecks: {}\n", "draft.yaml"),
        ("symptom: [", "draft.yaml"),
        ("family: kettle\ntitle: No tree\n", "is not a tree, so there is nothing to walk."),
    ],
)
def test_a_file_with_nothing_to_walk_is_refused_with_what_is_wrong(beside, text, words):
    with pytest.raises(ExpectedError, match=words):
        draft_of(beside, text)


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(ExpectedError, match=r"There is no file '.*none\.yaml'\. Look at its name again\."):
        read_draft(tmp_path / "none.yaml", PLUGINS)


SOUND = yaml.load((KETTLE / "no-heat.yaml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


def _places(data, path=()):
    for key, value in data.items() if isinstance(data, dict) else enumerate(data):
        yield (*path, key)
        if isinstance(value, (dict, list)):
            yield from _places(value, (*path, key))


PLACES = [place for place in _places(SOUND) if place[0] != "cases"]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(PLACES),
            st.sampled_from(["gone", "", "no such thing", "lamp", "-3", ["a", "b"], {"a": "b"}]),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_whatever_is_broken_in_a_tree_each_way_that_is_left_comes_to_an_end(tmp_path_factory, slips):
    """Any six slips: the draft is walked to an end by each first and last answer, or refused in words."""
    data = copy.deepcopy(SOUND)
    for place, value in slips:
        holder = data
        for part in place[:-1]:
            holder = holder[part] if isinstance(holder, dict) and part in holder else {}
        if isinstance(holder, dict) and place[-1] in holder:
            if value == "gone":
                del holder[place[-1]]
            else:
                holder[place[-1]] = value
    folder = tmp_path_factory.mktemp("draft")
    shutil.copy(KETTLE / "catalogue.yaml", folder / "catalogue.yaml")
    try:
        draft = draft_of(folder, yaml.safe_dump(data, sort_keys=False))
    except FaultyFileError as error:
        assert error.faults  # noqa: PT017 - a refusal is one of two right ends
        return
    for pick in (0, -1):
        walker = Walker(draft.library, ScratchLog(), complaints=[draft.symptom])
        for _ in range(20):
            if walker.question is None:
                break
            walker.answer(walker.question.answers[pick].name)
        assert walker.finished
        assert walker.ranking
