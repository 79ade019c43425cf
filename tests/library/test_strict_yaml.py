"""Each way in which YAML can surprise or hurt, and the words and the place with which it is refused."""

import time
import unicodedata

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import ExpectedError
from diagtree.library import document as reader
from diagtree.library.assembly import assemble
from diagtree.library.document import read_document
from diagtree.library.sources import read_source


@pytest.fixture(params=["in C", "in Python"])
def either_parser(request, monkeypatch):
    if request.param == "in C":
        if not yaml.__with_libyaml__:
            pytest.fail("the parser in C is missing: reading would be many times slower")
    else:
        monkeypatch.setattr(reader, "PARSER", yaml.SafeLoader)


@pytest.mark.usefixtures("either_parser")
def test_every_scalar_stays_text():
    text = b"no: yes\non: off\n08: 010\ntrue: null\nnothing: ~\nwhen: 2024-01-02\nhex: 0x10\nbig: 1_000\nfloat: .inf\n"
    assert read_document(text, "a.yaml").data == {
        "no": "yes",
        "on": "off",
        "08": "010",
        "true": "null",
        "nothing": "~",
        "when": "2024-01-02",
        "hex": "0x10",
        "big": "1_000",
        "float": ".inf",
    }


@pytest.mark.usefixtures("either_parser")
def test_an_answer_no_is_an_answer():
    text = b"answers:\n  no: {says: Stays dark}\n  yes: {says: Comes on}\n"
    assert list(read_document(text, "a.yaml").data["answers"]) == ["no", "yes"]


REFUSED = {
    "equal keys": (
        "checks:\n  lamp: a\n  fuse: b\n  lamp: c\n",
        "a.yaml:4:3: checks > lamp: This key is there twice, first in line 2. Take one of them out.",
    ),
    "equal keys on one line": (
        "found: {scale: 3, scale: 4}\n",
        "a.yaml:1:19: found > scale: This key is there twice, first in line 1. Take one of them out.",
    ),
    "a colon in a text": (
        "ask: Check: tight?\n",
        "a.yaml:1:11: There is a ': ' inside a text. Put it in quotes: ask: \"Check: tight?\"",
    ),
    "a colon in a text between braces": (
        "lamp: {ask: Check: tight?, minutes: 1}\n",
        "a.yaml:1:18: There is a ': ' inside a text. Put it in quotes: ask: \"Check: tight?, minutes: 1\"",
    ),
    "an alias": (
        "a: {b: &here c}\nd: *here\n",
        (
            "a.yaml:1:8: a > b: This names a place to be repeated ('&here'); that is not allowed here. "
            "Write it out. If it is a text, put it in quotes."
        ),
        (
            "a.yaml:2:4: d: This repeats another place ('*here'); that is not allowed here. "
            "Write it out. If it is a text, put it in quotes."
        ),
    ),
    "an alias of itself": (
        "a: &a [*a]\n",
        (
            "a.yaml:1:4: a: This names a place to be repeated ('&a'); that is not allowed here. "
            "Write it out. If it is a text, put it in quotes."
        ),
        (
            "a.yaml:1:8: a > 1: This repeats another place ('*a'); that is not allowed here. "
            "Write it out. If it is a text, put it in quotes."
        ),
    ),
    "a merge key": (
        "a:\n  <<: {b: c}\n",
        "a.yaml:2:3: a > <<: '<<' copies another mapping in; that is not allowed here. Write it out.",
    ),
    "a tag": (
        "a:\n  b: !!python/name:os.system x\n",
        (
            "a.yaml:2:6: a > b: A text cannot begin with '!' ('tag:yaml.org,2002:python/name:os.system'): "
            "that is a tag, not allowed here. Put the whole text in quotes."
        ),
    ),
    "a text that begins with a star": (
        "says: *tight*\n",
        "a.yaml:1:7: A text cannot begin with '*', '&' or '!'. Put the whole text in quotes.",
    ),
    "two documents": (
        "a: b\n---\nc: d\n",
        "a.yaml:2:1: A second document begins here ('---'). Put it into a file of its own.",
    ),
    "a directive": (
        "%YAML 1.1\n---\na: b\n",
        "a.yaml:1:1: A line with '%' is not allowed here. Take it out.",
    ),
    "an empty file": ("", "a.yaml:1:1: The file is empty. Begin with 'symptom: name'."),
    "only comments": ("# to do\n", "a.yaml:1:1: The file is empty. Begin with 'symptom: name'."),
    "no keys": (
        "just a text\n",
        "a.yaml:1:1: The file holds no 'key: value' lines. Begin with 'symptom: name'.",
    ),
    "a tab": ("a:\n\tb: c\n", "a.yaml:2:1: There is a tab. Use spaces."),
    "a tab in a text": ("a: one\ttwo\n", "a.yaml:1:7: There is a tab. Use spaces."),
    "an escape sequence": (
        'a: "\\e]0;title"\n',
        "a.yaml:1:4: a: There is a letter that cannot be seen or that turns the text: U+001B. Take it out.",
    ),
    "a control letter of the second kind": (
        'a: "\\x9b31m"\n',
        "a.yaml:1:4: a: There is a letter that cannot be seen or that turns the text: U+009B. Take it out.",
    ),
    "a null": (
        'a: "x\\0"\n',
        "a.yaml:1:4: a: There is a letter that cannot be seen or that turns the text: U+0000. Take it out.",
    ),
    "an escaped letter in a key": (
        'a: {"b\\u202e": c}\n',
        "a.yaml:1:5: a: There is a letter that cannot be seen or that turns the text: U+202E. Take it out.",
    ),
    "a letter that turns the text": (
        "a: left\u202eright\n",
        "a.yaml:1:8: There is a letter that cannot be seen or that turns the text: U+202E. Take it out.",
    ),
    "a letter without width": (
        "a: le\u200bver\n",
        "a.yaml:1:6: There is a letter that cannot be seen or that turns the text: U+200B. Take it out.",
    ),
    "a byte order mark inside": (
        "a: b\n\ufeffc: d\n",
        "a.yaml:2:1: There is a letter that cannot be seen or that turns the text: U+FEFF. Take it out.",
    ),
    "a raw escape": (
        "a: \x1b[31m\n",
        "a.yaml:1:4: There is a letter that cannot be seen or that turns the text: U+001B. Take it out.",
    ),
    "a list as a key": ("? [a]\n: b\n", "a.yaml:1:3: A key must be a plain text. Put it in quotes."),
    "a bracket left open": (
        "a: [b, c\nd: e\n",
        "a.yaml:1:4: A '[' is opened here and never closed as it should. Close it with ']', with commas between.",
    ),
    "a quote left open": (
        'a: "b\nc: d\n',
        "a.yaml:1:4: A quote is opened here and never closed. Close it.",
    ),
    "a quote closed too early": (
        "a: 'it's so'\n",
        (
            "a.yaml:1:8: A text goes on after its closing quote. "
            "Write a quote inside single quotes twice, or use the other kind of quotes."
        ),
    ),
    "a line too far to the right": (
        "a: b\n  c: d\n",
        (
            "a.yaml:2:4: This line is indented under a text, or its ':' is out of place. "
            "Indent it like its neighbours. If it is part of the text above, put the whole text in quotes."
        ),
    ),
    "a line between two levels": (
        "a:\n    b: c\n  d: e\n",
        (
            "a.yaml:3:3: This line does not fit under the lines above it. "
            "Indent it exactly like its neighbours, and write 'key: value'. "
            "If it belongs to a text, put the whole text in quotes."
        ),
    ),
    "a blank from a web page behind a colon": (
        "a: b\nc:\u00a0d\n",
        (
            "a.yaml:2:3: This blank is not a plain one (U+00A0), so the line is not understood. "
            "Type a plain blank in its place."
        ),
    ),
    "a blank from a web page before a line": (
        "a:\n  b: c\n\u00a0 d: e\n  f: g\n",
        (
            "a.yaml:3:1: This blank is not a plain one (U+00A0), so the line is not understood. "
            "Type a plain blank in its place."
        ),
    ),
    "a colon from another keyboard": (
        "a: b\nc\uff1a d\n",
        (
            "a.yaml:2:2: This colon is not a plain one (U+FF1A), so the line is not understood. "
            "Type a plain colon in its place."
        ),
    ),
    "a blank from a web page in a line with another fault": (
        "a: 5\u00a0mm: tight\n",
        "a.yaml:1:8: There is a ': ' inside a text. Put it in quotes: a: \"5\u00a0mm: tight\"",
    ),
    "line ends of very old machines": (
        "a: b\rc: d\r",
        (
            "a.yaml:1:1: The lines end as on very old machines, in a carriage return alone. "
            "Save it with ordinary line ends."
        ),
    ),
    "an at sign": ("a: @b\n", "a.yaml:1:4: A text cannot begin with '@'. Put the whole text in quotes."),
}


@pytest.mark.usefixtures("either_parser")
@pytest.mark.parametrize("what", REFUSED)
def test_what_could_surprise_is_refused_in_plain_words(what):
    text, *told = REFUSED[what]
    assert [str(fault) for fault in read_document(text.encode(), "a.yaml").faults] == told


@pytest.mark.usefixtures("either_parser")
def test_a_half_letter_is_refused():
    """The parser in C refuses it as an escape, the one in Python lets it through to us."""
    (fault,) = read_document(b'a: "\\ud83d"', "a.yaml").faults
    assert (fault.line, fault.text) in {
        (1, "An escape in double quotes names no letter."),
        (1, "There is a letter that cannot be seen or that turns the text: U+D83D."),
    }


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16_is_refused(encoding):
    raw = "a: b\n".encode(encoding)
    if encoding != "utf-16":
        raw = {"utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}[encoding] + raw
    assert [str(fault) for fault in read_document(raw, "a.yaml").faults] == [
        "a.yaml:1:1: The file is written in UTF-16. Save it as UTF-8."
    ]


@pytest.mark.parametrize("raw", ["a: b\n".encode("utf-16-le"), b"a: b\x00\n"])
def test_bytes_of_nothing_are_told_once_and_not_one_by_one(raw):
    assert [str(fault) for fault in read_document(raw, "a.yaml").faults] == [
        "a.yaml:1:1: The file holds bytes of nothing (0x00), so it is no text, or text in UTF-16. Save it as UTF-8."
    ]


def test_a_file_that_is_not_begun_is_told_how_its_kind_begins():
    (fault,) = read_document(b"", "workshop.yaml", begins="title: Our workshop").faults
    assert str(fault) == "workshop.yaml:1:1: The file is empty. Begin with 'title: Our workshop'."


def test_bytes_that_are_no_utf_8_are_refused_where_they_stand():
    raw = "a: grün\nb: ".encode() + "grün".encode("latin-1")
    assert [str(fault) for fault in read_document(raw, "a.yaml").faults] == [
        "a.yaml:2:6: The file is not UTF-8: byte 0xfc stands for no letter. Save it as UTF-8."
    ]


def test_a_byte_order_mark_at_the_beginning_and_windows_line_ends_do_no_harm():
    assert read_document(b"\xef\xbb\xbfa: b\r\nc: d\r\n", "a.yaml").data == {"a": "b", "c": "d"}


def test_columns_count_letters_not_bytes():
    (fault,) = read_document("größe: {a: 1, a: 2}".encode(), "a.yaml").faults
    assert (fault.line, fault.column) == (1, 15)


def nested(levels, opener="[", closer="]"):
    return f"a: {opener * levels}{closer * levels}\n".encode()


@pytest.mark.usefixtures("either_parser")
def test_depth_has_a_limit():
    assert read_document(nested(reader.MOST_DEPTH - 1), "a.yaml").faults == ()
    assert [str(fault) for fault in read_document(nested(reader.MOST_DEPTH), "a.yaml").faults] == [
        "a.yaml:1:27: This is nested more than 24 levels deep. Write it flatter."
    ]


@pytest.mark.usefixtures("either_parser")
@pytest.mark.parametrize("opener", ["[", "{a: ", "- ", "? "])
def test_five_hundred_thousand_levels_neither_crash_nor_hang(opener):
    (fault,) = read_document(("a:\n " + opener * (490_000 // len(opener))).encode(), "a.yaml").faults
    assert fault.line == 2


@pytest.mark.usefixtures("either_parser")
def test_the_number_of_keys_and_values_has_a_limit():
    def rows(count):
        return "".join(f"k{number}: v\n" for number in range(count)).encode()

    assert read_document(rows(9_999), "a.yaml").faults == ()
    assert [str(fault) for fault in read_document(rows(10_000), "a.yaml").faults] == [
        "a.yaml:10000:8: The file holds more than 20,000 keys and values. Split it into several files."
    ]


@pytest.mark.usefixtures("either_parser")
def test_a_text_has_a_limit():
    assert read_document(b"a: " + b"x" * 4_000, "a.yaml").faults == ()
    assert [str(fault) for fault in read_document(b"a: " + b"x" * 4_001, "a.yaml").faults] == [
        "a.yaml:1:4: a: This text is longer than 4,000 letters (4,001). Say it shorter."
    ]


def test_a_file_has_a_limit():
    assert [str(fault) for fault in read_document(b"#" * 1_000_001, "a.yaml").faults] == [
        "a.yaml:1:1: The file is larger than 1 MB (1,000,001 bytes). Split it into several files."
    ]


@pytest.mark.usefixtures("either_parser")
def test_an_alias_bomb_costs_nothing():
    bomb = "a0: &a0 [x, x]\n" + "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 60))
    faults = read_document(bomb.encode(), "bomb.yaml").faults
    assert len(faults) == 60 + 2 * 59


def test_all_faults_of_one_file_are_told_at_once():
    text = b"a: &x b\nc: *x\nd: 1\nd: 2\ne: !t f\n"
    assert [(fault.line, fault.column) for fault in read_document(text, "a.yaml").faults] == [
        (1, 4),
        (2, 4),
        (4, 1),
        (5, 4),
    ]


@pytest.mark.parametrize(
    "raw",
    [
        b"\x00" * 999_999,
        b"a:\tb\n" * 190_000,
        b"a: b\n" * 190_000,
        b"- &a b\n" * 120_000,
        b"{" + b"a," * 490_000 + b"}",
        b"a: " * 330_000,
        "\u202e".encode() * 330_000,
        b"'" * 999_999,
        b'a: "' + b"\\x41" * 240_000 + b'"',
    ],
    ids=["nulls", "tabs", "equal keys", "anchors", "flow", "colons", "bidi", "quotes", "escapes"],
)
def test_a_megabyte_of_anything_is_refused_in_a_moment(raw):
    """Letters were once told one by one with a search of the whole file for each: minutes for one file."""
    began = time.process_time()
    faults = read_document(raw, "a.yaml").faults
    assert time.process_time() - began < 5
    assert faults
    assert max(len(str(fault)) for fault in faults) < 1_000


def test_every_letter_that_steers_or_hides_is_refused():
    """Unicode's own categories are the judge: control, format and half letters."""
    fillers = "\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0"
    steering = [
        letter
        for letter in map(chr, range(0x110000))
        if unicodedata.category(letter) in {"Cc", "Cf", "Cs"} or letter in fillers
    ]
    assert len(steering) > 2_000
    assert [hex(ord(letter)) for letter in steering if not reader._REFUSED.search(letter)] == ["0xa"]


@pytest.mark.parametrize(
    "text", ["Größe 5 N·m", "漢字", "naïve — “quoted”…", "Ω µm °C ½ × ≥", "नमस्ते", "مرحبا", "🔧"]
)
def test_letters_of_all_languages_are_welcome(text):
    document = read_document(f"ask: {text}\n".encode(), "a.yaml")
    assert document.faults == ()
    assert document.data == {"ask": text}


YAML_PIECES = st.lists(
    st.sampled_from(
        ["symptom: a", "family: b", "checks:", "  ", "\n", ": ", "- ", "{", "}", "[", "]", ",", "&a ", "*a", "!t ",
         '"', "'", "\\", "|\n", ">\n", "#", "%", "@", "---\n", "...\n", "? ", "<<: ", "\t", "\x00", "\u202e", "é",
         "first: a", "\r", "\x85", "causes:", "out-of-100: 7", "answers: {no: {found: {a: 3}}}"]
    ),
    max_size=30,
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.one_of(st.binary(max_size=200), YAML_PIECES.map(lambda pieces: "".join(pieces).encode())))
def test_no_bytes_at_all_raise_anything_but_an_expected_error(raw):
    try:
        library = assemble([read_source(raw, "a.yaml", "own")]).library
    except ExpectedError:
        return
    assert all(problem.where for problem in library.problems)


@settings(max_examples=60, deadline=None)
@given(YAML_PIECES)
def test_both_parsers_read_the_same(pieces):
    raw = "".join(pieces).encode()
    in_c = read_document(raw, "a.yaml")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reader, "PARSER", yaml.SafeLoader)
        in_python = read_document(raw, "a.yaml")
    if not in_c.faults and not in_python.faults:
        assert in_c.data == in_python.data
