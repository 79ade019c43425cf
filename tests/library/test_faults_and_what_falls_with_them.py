"""Faults in models and references over a whole library, and how much of it stays."""

from pathlib import Path

import pytest

from diagtree.errors import ExpectedError, UnknownNameError
from diagtree.library.assembly import assemble
from diagtree.library.sources import read_source

KETTLE = Path(__file__).parent.parent / "kettle"
FILES = ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "slow-boil.yaml", "leaks.yaml")


def told(library):
    return [str(problem) for problem in library.problems]


def test_the_kettle_is_without_fault(changed):
    library = changed()
    assert told(library) == []
    assert list(library.trees) == ["no-heat", "slow-boil", "leaks"]


CATALOGUE_FAULTS = {
    "a number beyond reason": (
        "out-of-100: 30", "out-of-100: 1e-999999999",
        "catalogue.yaml:15:17: causes > scale > out-of-100: Nobody means so small a number: look at it again.",
    ),
    "a key that is empty": (
        "out-of-100: 30", "out-of-100: 30\n    '': 1",
        ("catalogue.yaml:16:5: causes > scale > '': There is no key '' here. Choose one of: basis, caution, "
        "more-likely, out-of-100, part, refer, remedies, risk, tell, title, why."),
    ),
    "a key with a letter of another alphabet": (
        "out-of-100: 30", "out-of-100: 30\n    tit\u0430l: 1",
        ("catalogue.yaml:16:5: causes > scale > tit\u0430l: There is no key 'tit\u0430l' here. Did you mean 'title'? "
        "The '\u0430' in it is a cyrillic small letter a: type it anew."),
    ),
    "a value out of range": (
        "out-of-100: 30", "out-of-100: 300",
        "catalogue.yaml:15:17: causes > scale > out-of-100: '300' must not be more than 100.",
    ),
    "no number": (
        "out-of-100: 30", "out-of-100: many",
        "catalogue.yaml:15:17: causes > scale > out-of-100: 'many' is not a number. Write a number, without its unit.",
    ),
    "a decimal comma": (
        "out-of-100: 30", "out-of-100: 2,5",
        "catalogue.yaml:15:17: causes > scale > out-of-100: '2,5' is not a number. Write 1.5, not 1,5.",
    ),
    "an unknown choice": (
        "risk: nuisance", "risk: nuisanc",
        ("catalogue.yaml:17:11: causes > scale > risk: 'nuisanc' is not one of unsafe, damage, nuisance. "
        "Did you mean 'nuisance'?"),
    ),
    "an unknown key": (
        "    why: Hard water", "    wy: Hard water",
        "catalogue.yaml:12:3: causes > scale: 'why:' is missing. Add it.",
        "catalogue.yaml:18:5: causes > scale > wy: There is no key 'wy' here. Did you mean 'why'?",
    ),
    "an empty text": (
        "title: Scale on the element", "title:",
        "catalogue.yaml:13:11: causes > scale > title: There is nothing here. Write something, or take the line out.",
    ),
    "a remedy that is not there": (
        "remedies: [descale, new-element]", "remedies: [descal, new-element]",
        ("catalogue.yaml:19:16: causes > scale > remedies > 1: There is no remedy 'kettle/descal'. "
        "Did you mean 'descale'?"),
    ),
    "a part that is not there": (
        "the element\n    part: element", "the element\n    part: elment",
        "catalogue.yaml:14:11: causes > scale > part: There is no part 'kettle/elment'. Did you mean 'element'?",
    ),
    "a list where a text must stand": (
        "title: Scale on the element", "title: [Scale, on the element]",
        "catalogue.yaml:13:5: causes > scale > title: A list stands where a text must stand.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", CATALOGUE_FAULTS)
def test_a_fault_in_one_cause_takes_out_that_cause_and_the_trees_that_need_it(changed, what):
    old, new, *faults = CATALOGUE_FAULTS[what]
    library = changed(("catalogue.yaml", old, new))
    assert told(library)[: len(faults)] == faults
    assert told(library)[len(faults) :] == [
        "no-heat.yaml:45:36: The tree 'no-heat' is left out: it needs the cause 'kettle/scale', which has a fault.",
        (
            "slow-boil.yaml:12:46: The tree 'slow-boil' is left out: it needs the cause 'kettle/scale', "
            "which has a fault."
        ),
    ]
    assert list(library.trees) == ["leaks"]
    assert len(library.causes) == 6


def test_what_falls_with_a_job_is_told_down_to_the_tree(changed):
    library = changed(
        ("catalogue.yaml", "bend-catch: {title: Bend the catch,", "bend-catch: {titel: Bend the catch,")
    )
    assert told(library) == [
        "catalogue.yaml:87:3: jobs > bend-catch: 'title:' is missing. Add it.",
        "catalogue.yaml:87:16: jobs > bend-catch > titel: There is no key 'titel' here. Did you mean 'title'?",
        (
            "catalogue.yaml:76:79: The remedy 'bend-catch' is left out: it needs the job 'kettle/bend-catch', "
            "which has a fault."
        ),
        (
            "catalogue.yaml:67:16: The cause 'lid-loose' is left out: it needs the remedy 'kettle/bend-catch', "
            "which has a fault."
        ),
        (
            "slow-boil.yaml:18:30: The tree 'slow-boil' is left out: it needs the cause 'kettle/lid-loose', "
            "which has a fault."
        ),
        "leaks.yaml:11:41: The tree 'leaks' is left out: it needs the cause 'kettle/lid-loose', which has a fault.",
    ]
    assert list(library.trees) == ["no-heat"]


TREE_FAULTS = {
    "a check that is not there": (
        "next: fuse", "next: fuze",
        ("no-heat.yaml:20:36: checks > other-socket > answers > no > next: There is no check 'fuze' in this tree. "
        "Did you mean 'fuse'?"),
    ),
    "a first check that is not there": (
        "first: lamp", "first: lamb",
        "no-heat.yaml:6:8: first: There is no check 'lamb' in this tree. Did you mean 'lamp'?",
    ),
    "a cause that is not there": (
        "fuse-blown: 18", "fuse-blow: 18",
        ("no-heat.yaml:29:30: checks > fuse > answers > no > found > fuse-blow: There is no cause 'kettle/fuse-blow'. "
        "Did you mean 'fuse-blown'?"),
    ),
    "a family that is not there": (
        "fuse-blown: 18", "plug/fuse-blown: 18",
        ("no-heat.yaml:29:30: checks > fuse > answers > no > found > plug/fuse-blown: There is no family 'plug'. "
        "Choose one of: kettle."),
    ),
    "a loop": (
        "found: {scale: 11}", "next: lamp",
        ("no-heat.yaml:45:34: checks > hum > answers > yes > next: This leads round in a loop: lamp, hum, lamp. "
        "Lead it to a check that was not asked yet, or to a finding."),
    ),
    "a check that nobody comes to": (
        "next: hum", "found: {scale: 5}",
        "no-heat.yaml:40:3: checks > hum: No answer leads to this check. Lead one to it, or take it out.",
    ),
    "an answer that leads nowhere": (
        "{says: Stays dark, next: other-socket}", "{says: Stays dark}",
        ("no-heat.yaml:14:7: checks > lamp > answers > no: An answer needs either 'next:' (a check) or 'found:' "
        "(causes with counts)."),
    ),
    "a finding without counts": (
        "found: {fuse-blown: 18}", "found: fuse-blown",
        ("no-heat.yaml:29:29: checks > fuse > answers > no > found: A finding needs a count for each cause. "
        "Write found: {fuse-blown: 20}, out of 100."),
    ),
    "a cannot-tell that leads nowhere": (
        "    trust: sure\n    answers:\n      no: {says: Stays", "    cannot-tell: humm\n    answers:\n      no: {says: Stays",
        "no-heat.yaml:12:18: checks > lamp > cannot-tell: There is no check 'humm' in this tree. Did you mean 'hum'?",
    ),
    "a row for an answer that is not there": (
        "  hum:\n    ask:", "  hum:\n    shows: {scale: yess, element-open: {no: 90, mabe: 10}}\n    ask:",
        "no-heat.yaml:41:20: checks > hum > shows > scale: There is no answer 'yess' to that check. Did you mean 'yes'?",
        ("no-heat.yaml:41:49: checks > hum > shows > element-open > mabe: There is no answer 'mabe' to that check. "
        "Choose one of: no, yes."),
    ),
    "a job that is not there": (
        "  hum:\n    ask:", "  hum:\n    behind: base-of\n    ask:",
        ("no-heat.yaml:41:13: checks > hum > behind: There is no job 'kettle/base-of'. "
        "Did you mean 'base-off' or 'base-on'?"),
    ),
    "a bad name": (
        "  other-socket:\n", "  Other Socket:\n",
        ("no-heat.yaml:14:36: checks > lamp > answers > no > next: There is no check 'other-socket' in this tree. "
        "Did you mean 'Other Socket'?"),
        ("no-heat.yaml:16:3: checks > Other Socket: 'Other Socket' is not a name. "
        "Use small letters, digits and hyphens, a letter first: 'other-socket'."),
        ("no-heat.yaml:47:39: cases > 1 > answers > other-socket: There is no check 'other-socket' in this tree. "
        "Did you mean 'Other Socket'?"),
    ),
    "a text with a comma between braces": (
        '"Cut, kinked or scorched"', "Cut, kinked or scorched",
        ("no-heat.yaml:38:25: checks > flex > answers > hurt > kinked or scorched: There is no key "
        "'kinked or scorched' here. If it belongs to a text with a comma, put the whole text in quotes."),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", TREE_FAULTS)
def test_a_tree_with_a_fault_names_it_and_the_other_trees_work(changed, what):
    old, new, *faults = TREE_FAULTS[what]
    library = changed(("no-heat.yaml", old, new))
    assert told(library) == faults
    assert list(library.trees) == ["slow-boil", "leaks"]
    assert len(library.causes) == 7


def test_a_catalogue_works_without_any_conditions(changed):
    library = changed(files=tuple(name for name in FILES if name != "conditions.yaml"))
    assert told(library) == []
    assert library.causes["kettle/scale"].more_likely == {}


def test_jobs_that_need_each_other_are_told_with_the_whole_ring(changed):
    library = changed(
        (
            "catalogue.yaml",
            "minutes: [1, 2, 4], after: [base-on]",
            "minutes: [1, 2, 4], needs: [swap-flex], after: [base-on]",
        )
    )
    assert told(library)[0] == (
        "catalogue.yaml:85:66: jobs > swap-flex > needs > 1: Each of these jobs needs the next: "
        "kettle/base-off, kettle/swap-flex, kettle/base-off. Take one of the needs out."
    )
    assert library.trees == {}
    assert "kettle/soak" in library.jobs


def test_jobs_that_close_each_other_in_a_ring_are_told_before_any_machine_is_opened():
    """Two that close each other were told by the proofreader alone; three in a ring by nobody before the plan."""
    catalogue = """\
family: kettle
title: Kettle
jobs:
  one: {title: One, minutes: [1, 2, 3], after: [two]}
  two: {title: Two, minutes: [1, 2, 3], after: [three]}
  three: {title: Three, minutes: [1, 2, 3], after: [one]}
"""
    (problem, *fallen) = told(assemble([read_source(catalogue.encode(), "c.yaml", "own")]).library)
    assert problem == (
        "c.yaml:5:49: jobs > two > after > 1: Each of these jobs closes the next: "
        "kettle/two, kettle/one, kettle/three, kettle/two. Take 'after:' out of the closing job."
    )
    assert len(fallen) == 2


def test_a_job_that_needs_what_closes_it_is_told(changed):
    library = changed(
        (
            "catalogue.yaml",
            "minutes: [1, 2, 4], after: [base-on]",
            "minutes: [1, 2, 4], needs: [base-on], after: [base-on]",
        )
    )
    assert told(library)[0].endswith(
        "These jobs wait for each other: kettle/base-off, kettle/base-on, kettle/base-off. "
        "Take one out of 'needs:' or 'after:'."
    )


@pytest.mark.parametrize(
    ("file", "old", "new", "where"),
    [
        (
            "leaks.yaml",
            "{lid-loose: 24}",
            "{lid-loose: 14, kettle/lid-loose: 10}",
            "leaks.yaml:11:56: checks > where > answers > top > found",
        ),
        (
            "catalogue.yaml",
            "parts: [element]",
            "parts: {element: 1, kettle/element: 1}",
            "catalogue.yaml:70:",
        ),
    ],
)
def test_one_thing_by_both_of_its_names_is_told_and_no_count_is_lost(changed, file, old, new, where):
    """Of two names in one mapping that mean one thing, the count of the first was once lost without a word."""
    problem = told(changed((file, old, new)))[0]
    assert problem.startswith(where)
    bare = new.partition("{")[2].partition(":")[0]
    assert problem.endswith(f"'kettle/{bare}' and '{bare}' are one and the same. Write it once.")


def test_a_tree_without_any_count_is_refused_with_a_way_to_mend_it():
    catalogue = (KETTLE / "catalogue.yaml").read_bytes()
    tree = b"""
symptom: dead
title: Dead
family: kettle
first: lamp
checks:
  lamp:
    ask: Does it light?
    minutes: 1
    answers:
      no: {says: No, found: {fuse-blown: 0}}
      yes: {says: Yes, found: {scale: 0}}
"""
    sources = [read_source(catalogue, "catalogue.yaml", "own"), read_source(tree, "dead.yaml", "own")]
    library = assemble(sources).library
    assert told(library) == [
        (
            "dead.yaml:6:1: checks: No finding has a count, so nothing says which cause is likely. "
            "Write behind each cause how many of 100 with this complaint have it: found: {the-cause: 20}."
        )
    ]


def test_all_faults_of_a_file_come_at_once(changed):
    library = changed(
        ("no-heat.yaml", "trust: sure", "trust: certain"),
        ("no-heat.yaml", "minutes: 3", "minutes: three"),
        ("no-heat.yaml", "next: hum", "next: humm"),
        ("no-heat.yaml", "element-open: 24", "element-opn: 24"),
        ("no-heat.yaml", "expect: fuse-blown", "expect: fuse"),
    )
    assert [problem.where for problem in library.problems] == [
        "no-heat.yaml:12:12",
        "no-heat.yaml:15:35",
        "no-heat.yaml:25:14",
        "no-heat.yaml:44:34",
        "no-heat.yaml:47:76",
    ]


def test_a_file_that_is_neither_tree_nor_catalogue_says_so():
    library = assemble([read_source(b"sympton: dead\n", "a.yaml", "own")]).library
    assert told(library) == ["a.yaml:1:1: sympton: There is no key 'sympton' here. Did you mean 'symptom'?"]


def test_a_job_with_one_number_of_minutes_is_told_to_have_three(changed):
    library = changed(("catalogue.yaml", "minutes: [5, 10, 20]", "minutes: 10"))
    assert told(library)[0] == (
        "catalogue.yaml:80:45: jobs > soak > minutes: '10' is not enough: a job may go well or badly. "
        "Write three: [low, likely, high]."
    )


def test_who_asks_for_a_tree_that_was_left_out_is_told_its_file(changed):
    library = changed(("no-heat.yaml", "first: ", "first: x"))
    with pytest.raises(ExpectedError) as caught:
        library.tree("no-heat")
    assert str(caught.value) == (
        "The tree 'no-heat' is left out: it has faults, or needs something that has. "
        "See: diagtree proofread no-heat.yaml"
    )
    with pytest.raises(UnknownNameError, match="Did you mean"):
        library.tree("slow-boill")
