"""What --fix mends, and what it leaves as its author wrote it."""

from pathlib import Path

import pytest

from diagtree.commands import main as door
from diagtree.commands import proofread as command
from diagtree.library.assembly import assemble
from diagtree.library.offers import Rule
from diagtree.library.sources import read_source
from diagtree.proofread.edits import Edit, applied, mended
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.rulebook import built_in

FAULTY = (Path(__file__).parent / "faulty_tree.txt").read_text(encoding="utf-8")


def run(capsys, *words):
    status = door.main(["proofread", *words])
    output = capsys.readouterr()
    return status, output.out, output.err


def test_windows_line_ends_survive_mending(mine, capsys):
    (mine / "hums.yaml").write_bytes(b"\xef\xbb\xbf" + FAULTY.replace("\n", "\r\n").encode())
    run(capsys, "--trees", ".", "hums.yaml", "--fix")
    mended_file = (mine / "hums.yaml").read_bytes()
    assert mended_file.count(b"\r\n") == mended_file.count(b"\n") == FAULTY.count("\n")
    assert b'how: "Use lamp #5 from the rack"\r\n' in mended_file


def test_a_byte_order_mark_survives_mending(mine, capsys):
    (mine / "hums.yaml").write_bytes(b"\xef\xbb\xbf" + FAULTY.encode())
    run(capsys, "--trees", ".", "hums.yaml", "--fix")
    mended_file = (mine / "hums.yaml").read_bytes()
    assert mended_file.startswith(b"\xef\xbb\xbfsymptom: hums\n")
    assert b'lamp #5 from the rack"' in mended_file


def test_a_link_stays_a_link_when_the_file_behind_it_is_mended(mine, capsys):
    (mine / "there").mkdir()
    (mine / "hums.yaml").replace(mine / "there" / "hums.yaml")
    (mine / "hums.yaml").symlink_to(mine / "there" / "hums.yaml")
    run(capsys, "hums.yaml", "--fix")
    assert (mine / "hums.yaml").is_symlink()
    assert "ask: Does the lamp come on\n    how: " in (mine / "there" / "hums.yaml").read_text(
        encoding="utf-8"
    )


def test_the_files_of_an_installed_plugin_are_not_mended(mine):
    shelf = Shelf(
        assemble(
            [
                read_source((mine / "catalogue.yaml").read_bytes(), "catalogue.yaml", "own"),
                read_source(FAULTY.encode(), str(mine / "hums.yaml"), "kettle"),
            ]
        )
    )
    assert not command._fix(shelf.manuscripts, list(built_in()))
    assert (mine / "hums.yaml").read_text(encoding="utf-8") == FAULTY


def test_counts_are_scaled_as_they_are_written(mine, capsys):
    """A count of 5e1 once became 61e1, and quotes were lost."""
    text = FAULTY.replace("fuse-blown: 30", "fuse-blown: 2e1").replace("scale: 30", 'scale: "20"')
    (mine / "hums.yaml").write_text(text, encoding="utf-8")
    run(capsys, "hums.yaml", "--fix", "--rule", "counts-not-100")
    assert (mine / "hums.yaml").read_text(encoding="utf-8") == text.replace("2e1", "50").replace(
        '"20"', '"50"'
    )


def test_no_count_is_scaled_where_one_cannot_be():
    """Written as a block, a count has no place in one line."""
    text = FAULTY.replace(
        "yes: {says: Comes on, found: {scale: 30}, healthy: true}",
        "yes:\n        says: Comes on\n        found:\n          scale: >-\n            30\n        healthy: true",
    )
    (manuscript,) = Shelf(assemble([read_source(text.encode(), "hums.yaml", "own")])).manuscripts
    rules = [rule for rule in built_in() if rule.name == "counts-not-100"]
    assert list(rules[0].finds(manuscript))
    assert mended(manuscript, rules) == (text, [])


@pytest.mark.parametrize(
    ("row", "better", "lost"),
    [
        ("how: Use lamp #5 # from the rack", 'how: "Use lamp #5" # from the rack', "#5"),
        ("how: It's lamp #5, isn't it", "how: \"It's lamp #5, isn't it\"", "#5, isn't it"),
        ("how: Use lamp five # that is #5", None, None),
        ("how: 'Use lamp #5' # that is #5", None, None),
        ("# how: Use lamp #5", None, None),
    ],
)
def test_a_comment_stays_a_comment(row, better, lost):
    """A comment that spoke of '#5' was once made a part of the text before it."""
    text = f"symptom: hums\nchecks:\n  lamp:\n    ask: On?\n    {row}\n"
    (manuscript,) = Shelf(assemble([read_source(text.encode(), "hums.yaml", "own")])).manuscripts
    rules = [rule for rule in built_in() if rule.name == "lost-hash"]
    told = [fault.text for fault in rules[0].finds(manuscript)]
    assert told == ([f"Everything from '#' on is lost: '{lost}'."] if lost else [])
    assert mended(manuscript, rules)[0] == text.replace(row, better or row)


def test_fix_mends_counts_quotes_and_order_and_nothing_else(mine, capsys):
    status, _, err = run(capsys, "--trees", ".", "hums.yaml", "--fix")
    assert (
        (mine / "hums.yaml").read_text(encoding="utf-8")
        == """\
symptom: hums
title: It hums
family: kettle
first: lamp
checks:
  lamp:
    # what the customer sees
    ask: Does the lamp come on
    how: "Use lamp #5 from the rack"
    minutes: 1
    answers:
      no: {says: Stays dark, found: {fuse-blown: 50}}
      yes: {says: Comes on, found: {scale: 50}, healthy: true}
cases:
  - {answers: {lamp: yes}, expect: scale}
  - {kind: misleading, answers: {lamp: yes}, expect: scale}
"""
    )
    assert status == 1, "the question mark is the author's to set"
    assert err == "mended: hums.yaml: counts-not-100, key-order, lost-hash\n1 fault in 1 file.\n"


def test_mending_twice_changes_nothing_more(mine, capsys):
    run(capsys, "--trees", ".", "hums.yaml", "--fix")
    before = (mine / "hums.yaml").read_bytes()
    _, _, err = run(capsys, "--trees", ".", "hums.yaml", "--fix")
    assert (mine / "hums.yaml").read_bytes() == before
    assert "mended" not in err


def test_an_edit_that_would_change_more_than_it_says_is_not_made():
    source = read_source(FAULTY.encode(), "hums.yaml", "own")
    shelf = Shelf(assemble([source]))

    def lies(manuscript):
        at = FAULTY.index("Stays dark")
        yield Edit(at, at + 5, "Is", ("title",))

    def breaks(manuscript):
        yield Edit(0, 0, "- ")

    for mends in (lies, breaks):
        rule = Rule("rash", "Rash.", lambda manuscript: [], mends=mends)
        assert mended(shelf.manuscripts[0], [rule]) == (FAULTY, [])


def test_edits_that_overlap_are_made_one_after_the_other():
    assert applied("abcdef", [Edit(1, 3, "X"), Edit(2, 4, "Y"), Edit(5, 6, "Z")]) == "aXdeZ"
