"""Walks with nobody there: answers from a file, and the missing one named."""

from __future__ import annotations

import pytest

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.errors import ExpectedError
from diagtree.library.fault import FaultyFileError
from diagtree.screens.line_unattended import MissingAnswerError, read_answers, run_unattended

WHOLE = """\
complaints: [no-heat, slow-boil]
label: the blue one
brief: full
looks: {lime: limed, handle: cannot-tell}
answers:
  no-heat: {lamp: no, other-socket: no, fuse: no, hum: no}
  slow-boil:
    look-inside: bare
    lid: yes
    heat: 97 °C
notes: [smells burnt]
found: [kettle/fuse-blown]
not-found: [kettle/scale]
"""


@pytest.fixture
def file(tmp_path):
    def write(text):
        path = tmp_path / "answers.yaml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_a_file_with_all_answers_walks_to_the_end(kettle, file):
    walker = Walker(kettle, MemoryLog())
    walked = run_unattended(walker, read_answers(file(WHOLE), kettle))
    assert walker.finished
    assert walked.unused == ("no-heat: hum",)
    assert walker.case.label == "the blue one"
    assert walker.case.brief == "full"
    assert dict(walker.evidence.looks) == {"lime": "limed"}
    assert walker.evidence.answers["slow-boil", "heat"] == "full"
    assert walker.evidence.answers["no-heat", "lamp"] == "no"
    assert walker.case.notes[0].text == "smells burnt"
    assert walker.evidence.found == {"kettle/fuse-blown": True, "kettle/scale": False}


def test_the_first_missing_answer_is_named_with_what_it_could_be(kettle, file):
    walker = Walker(kettle, MemoryLog())
    answers = read_answers(file(WHOLE.replace("lamp: no, ", "")), kettle)
    with pytest.raises(MissingAnswerError) as missing:
        run_unattended(walker, answers)
    assert missing.value.exit_code == 2
    assert str(missing.value) == (
        "There is no answer for the check 'lamp' of 'no-heat': Does the lamp come on? "
        "Add it to answers: {no-heat: {lamp: ...}} One of: no, yes, cannot-tell."
    )
    # What was answered before it is kept.
    assert dict(walker.evidence.looks) == {"lime": "limed"}


def test_a_missing_look_and_a_missing_reading_are_named_too(kettle, file):
    with pytest.raises(
        MissingAnswerError, match=r"the quick look 'lime'.* Add it to looks: \{lime: \.\.\.\}"
    ):
        run_unattended(
            Walker(kettle, MemoryLog(), complaints=["leaks"]), read_answers(file("notes: [x]"), kettle)
        )
    with pytest.raises(
        MissingAnswerError, match=r"One of: low, full, cannot-tell, or a value like '97 °C'\."
    ):
        run_unattended(
            Walker(kettle, MemoryLog()), read_answers(file(WHOLE.replace("    heat: 97 °C\n", "")), kettle)
        )


def test_without_a_complaint_there_is_nothing_to_walk(kettle, file):
    with pytest.raises(ExpectedError, match="No complaint is given"):
        run_unattended(Walker(kettle, MemoryLog()), read_answers(file("looks: {}"), kettle))


def test_the_complaints_of_the_command_line_stand(kettle, file):
    walker = Walker(kettle, MemoryLog(), complaints=["slow-boil"])
    walked = run_unattended(walker, read_answers(file(WHOLE), kettle))
    assert walker.case.complaints == ("slow-boil",)
    assert "no-heat: lamp" in walked.unused


def test_an_odd_value_is_not_taken_without_a_person(kettle, file):
    with pytest.raises(
        ExpectedError, match=r"is more than 101 °C\. Is that right\? If it is, write .* instead: full"
    ):
        run_unattended(Walker(kettle, MemoryLog()), read_answers(file(WHOLE.replace("97 °C", "970")), kettle))


def test_it_walks_in_the_engines_order_too(kettle, file):
    walker = Walker(kettle, MemoryLog())
    more = WHOLE.replace("hum: no}", "hum: no, flex: sound}") + "order: shortest\n"
    run_unattended(walker, read_answers(file(more), kettle))
    assert walker.finished
    assert walker.order == "shortest"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("looks: {lime: limed", "answers.yaml:1:8: A '{' is opened here and never closed"),
        (
            "complaints: [no-heet]",
            "answers.yaml:1:14: complaints > 1: There is no symptom 'no-heet'. Did you mean 'no-heat'?",
        ),
        (
            "looks: {lyme: limed}",
            "answers.yaml:1:9: looks > lyme: There is no quick look 'lyme'. Did you mean 'lime'?",
        ),
        (
            "looks: {lime: lined}",
            "answers.yaml:1:15: looks > lime: There is no answer 'lined'. Did you mean 'limed'?",
        ),
        ("answers: {leeks: {where: top}}", "There is no symptom 'leeks'. Did you mean 'leaks'?"),
        ("answers: {leaks: {were: top}}", "There is no check 'were'. Did you mean 'where'?"),
        ("answers: {leaks: {where: tip}}", "There is no answer 'tip'. Did you mean 'top'?"),
        (
            "answers: {slow-boil: {heat: warm}}",
            "'warm' is not a number with a unit. Write it like this: 97 °C",
        ),
        ("found: [kettle/scales]", "There is no cause 'kettle/scales'. Did you mean 'kettle/scale'?"),
        ("labels: x", "There is no key 'labels' here. Did you mean 'label'?"),
        ("order: sideways", "answers.yaml:1:8: order:"),
    ],
)
def test_what_is_wrong_in_the_file_is_told_with_its_place(kettle, file, text, told):
    path = file(text)
    with pytest.raises(FaultyFileError) as refused:
        read_answers(path, kettle)
    assert told in str(refused.value).replace(f"{path.parent}/", "")


def test_all_faults_are_told_at_once(kettle, file):
    with pytest.raises(FaultyFileError) as refused:
        read_answers(file("complaints: [x]\nlooks: {y: z}\nanswers: {leaks: {where: q}}\n"), kettle)
    assert len(refused.value.faults) == 3


def test_a_file_that_is_not_there_is_told(kettle, tmp_path):
    with pytest.raises(ExpectedError, match=r"Cannot read the answers in .*no such file"):
        read_answers(tmp_path / "none.yaml", kettle)
