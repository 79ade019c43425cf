"""Whatever is typed into line mode, nothing breaks, nothing acknowledged is lost, and it can be left."""

from __future__ import annotations

import io

from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.model.workshop import Workshop
from diagtree.screens.line import LineMode
from diagtree.screens.line_words import END_HELP, HELP

SENSIBLE = st.sampled_from(
    [
        "1",
        "2",
        "t",
        "",
        "back",
        "forward",
        "why",
        "why scale",
        "?",
        "note x",
        "jump 1",
        "jump 4",
        "way",
        "order",
        "likely",
        "picture",
        "again",
        "complaints",
        "list",
        "leaks",
        "finish",
        "stop",
        "ask on",
        "97 °C",
        "970",
        "yes",
        "choose 1",
        "choose",
        "c",
        "choose it",
        "unfound",
        "unfound fuse",
        "wish fit",
        "unwish",
        "figures",
        "scope service",
        "found fuse",
        "not scale",
        "done swap the fuse",
        "torque base screw 1.2",
        "torque element nut 99",
        "instead descale",
        "agree 5",
        "hand over Kim",
        "label blue",
        "found seal",
        "not fuse",
    ]
)
ANYTHING = st.text(st.characters(exclude_characters="\r\n"), max_size=30)
VERBS = st.sampled_from([key.split(" ")[0] for key, _ in (*HELP, *END_HELP)])


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.one_of(SENSIBLE, SENSIBLE, SENSIBLE, ANYTHING, VERBS), max_size=40),
    st.sampled_from([(), ("no-heat",), ("slow-boil", "leaks")]),
)
def test_any_lines_are_taken_in_good_order(kettle, lines, complaints):
    log = MemoryLog()
    sink = io.StringIO()
    walker = Walker(kettle, log, complaints=complaints)
    # The end of the input always leaves, whatever stood before it.
    status = LineMode(
        walker, io.StringIO("".join(f"{line}\n" for line in lines)), sink, workshop=Workshop()
    ).run()
    assert status == (0 if walker.finished else 3) or "quit" in lines
    said = sink.getvalue()
    assert not {letter for letter in said if letter != "\n" and ord(letter) < 32}
    again = Walker(kettle, MemoryLog(log.records))
    assert again.case == walker.case
    answered = {given.asked for given in walker.case.given.values()}
    assert answered == {step.asked for step in (*again.way, *again.aside)}
