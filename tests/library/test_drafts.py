"""Drafts are valid as they are written, and proofread without a fault."""

import io
import os

import pytest

from diagtree import testing
from diagtree.case.measuring import band_of
from diagtree.commands import main as door
from diagtree.library.drafts import family_draft, plugin_draft, quoted, tree_draft
from diagtree.library.loading import collected
from diagtree.library.plugins import load_plugins
from diagtree.proofread.manuscript import Shelf
from diagtree.proofread.proofreader import proofread
from diagtree.proofread.rulebook import built_in


@pytest.fixture(autouse=True)
def elsewhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setitem(door.COMMANDS, "new", "Begin.")
    return tmp_path


def new(capsys, *words):
    status = door.main(["new", *words])
    output = capsys.readouterr()
    return status, output.out, output.err


def test_a_new_family_and_a_new_tree_are_proofread_without_a_fault(capsys, elsewhere):
    status, out, _ = new(capsys, "family", "--title", "Bread slicer", "--to", "mine")
    assert (status, out) == (0, "mine/bread-slicer.yaml\n")
    status, out, _ = new(
        capsys,
        "tree",
        "--title",
        'It "jams": always #1',
        "--family",
        "bread-slicer",
        "--ask",
        "Does it turn",
        "--to",
        "mine",
    )
    assert (status, out) == (0, "mine/it-jams-always-1.yaml\n")
    texts = {
        name: (elsewhere / "mine" / name).read_text()
        for name in ("bread-slicer.yaml", "it-jams-always-1.yaml")
    }
    for name, text in texts.items():
        beside = {other: one for other, one in texts.items() if other != name}
        assert testing.faults_of(text, beside) == [], name
    library = testing.library_of(folders=[elsewhere / "mine"])
    testing.assert_nothing_left_out(library)
    testing.assert_cases_hold(library, "it-jams-always-1")
    assert library.trees["it-jams-always-1"].title == 'It "jams": always #1'


def test_a_new_tree_goes_into_the_users_own_folder(capsys, elsewhere):
    new(capsys, "family", "--title", "Bread slicer")
    status, out, _ = new(
        capsys, "tree", "--title", "It jams", "--family", "bread-slicer", "--ask", "Does it turn?"
    )
    assert status == 0
    assert out == f"{elsewhere / 'config' / 'diagtree' / 'trees' / 'it-jams.yaml'}\n"


def test_what_is_missing_is_named(capsys):
    assert new(capsys, "tree", "--no-input") == (
        2, "", "diagtree: The answer to 'What does the customer say?' is missing. Give it with --title.\n",
    )  # fmt: skip


def test_at_a_terminal_it_asks(capsys, elsewhere, monkeypatch):
    new(capsys, "family", "--title", "Bread slicer", "--to", "mine")

    class Terminal(io.StringIO):
        def isatty(self):
            return True

    monkeypatch.setattr("sys.stdin", Terminal("It jams\nbread-slicer\nDoes it turn?\n"))
    status, _, err = new(capsys, "tree", "--to", "mine")
    assert status == 0
    assert err.startswith("What does the customer say? Which family are its causes in? (")
    assert err.endswith("What is looked at first? ")
    assert "Does it turn?" in (elsewhere / "mine" / "it-jams.yaml").read_text()


def test_an_unknown_family_and_an_unknown_cause_list_near_ones(capsys):
    new(capsys, "family", "--title", "Bread slicer", "--to", "mine")
    status, _, err = new(
        capsys, "tree", "--title", "X", "--family", "bread-slice", "--ask", "Y?", "--to", "mine"
    )
    assert (status, err) == (2, "diagtree: There is no family 'bread-slice'. Did you mean 'bread-slicer'?\n")
    words = (
        "tree",
        "--title",
        "X",
        "--family",
        "bread-slicer",
        "--ask",
        "Y?",
        "--to",
        "mine",
        "--cause",
        "first-case",
    )
    status, _, err = new(capsys, *words)
    assert status == 2
    assert err.startswith(
        "diagtree: There is no cause 'bread-slicer/first-case'. Did you mean 'bread-slicer/first-cause'"
    )


def test_nothing_is_written_over_without_force(capsys, elsewhere):
    new(capsys, "family", "--title", "Bread slicer", "--to", "mine")
    (elsewhere / "mine" / "bread-slicer.yaml").write_text("mine")
    status, _, err = new(capsys, "family", "--title", "Bread slicer", "--to", "mine")
    assert status != 0
    assert "--force" in err
    assert (elsewhere / "mine" / "bread-slicer.yaml").read_text() == "mine"


def test_no_text_can_break_out_of_a_draft():
    hostile = 'x"\nsymptom: other\n# \u202e {a: b} *c &d !e \\'
    text = tree_draft("x", hostile, "y", hostile, ["a", "b", "c"])
    (fault,) = [fault for fault in testing.faults_of(text) if "[reading]" in fault and "family" not in fault][
        :1
    ] or [""]
    assert "twice" not in fault
    assert quoted(hostile).count("\n") == 0
    assert "other" not in [line.strip() for line in text.splitlines() if line.startswith("symptom")]


def test_counts_of_a_draft_add_up_whatever_the_number_of_causes():
    catalogue = family_draft("y", "Y")
    for count in range(1, 9):
        text = tree_draft("x", "X", "y", "Z?", [f"c{number}" for number in range(count)])
        assert testing.faults_of(text, {"y.yaml": catalogue}, ["counts-not-100"])[-1:] != ["counts"]
        assert not [
            fault for fault in testing.faults_of(text, {"y.yaml": catalogue}) if "counts-not-100" in fault
        ]


def test_a_draft_goes_into_the_first_folder_that_the_environment_names(capsys, elsewhere, monkeypatch):
    (elsewhere / "mine").mkdir()
    (elsewhere / "second").mkdir()
    monkeypatch.setenv("DIAGTREE_TREES", os.pathsep.join(["mine", "second"]))
    assert new(capsys, "family", "--title", "Bread slicer")[:2] == (0, "mine/bread-slicer.yaml\n")
    words = ("tree", "--title", "It jams", "--family", "bread-slicer", "--ask", "Does it turn?")
    assert new(capsys, *words)[:2] == (0, "mine/it-jams.yaml\n")
    assert not (elsewhere / "config").exists()


def test_a_new_plugin_is_proofread_without_a_fault_and_measures_with_its_own_reading(elsewhere):
    for path, text in plugin_draft("bread-slicer", "Bread slicer").items():
        (elsewhere / path).parent.mkdir(parents=True, exist_ok=True)
        (elsewhere / path).write_text(text, encoding="utf-8")
    room = elsewhere / "diagtree_bread_slicer"
    space: dict = {"__name__": "readings"}
    exec((room / "readings.py").read_text(encoding="utf-8"), space)
    together = collected(load_plugins(points=()), [room])
    together.readings += space["READINGS"]
    shelf = Shelf(together.put_together())
    assert [str(fault) for fault in proofread(shelf, list(built_in()))] == []
    check = shelf.assembly.library.trees["bread-slicer-fails"].checks["how-worn"]
    assert check.reading == "bread-slicer/wear"
    assert band_of(check, space["read_wear"]("15 mm").value) == "worn"


def test_a_cause_that_is_named_twice_is_found_once():
    """Named by its bare and by its full name it once stood there twice, and the draft could not be read."""
    draft = tree_draft(
        "hums", "It hums", "kettle", "does it hum", ["scale", "kettle/scale", "plug/fuse", "scale"]
    )
    assert "found: {scale: 45, plug/fuse: 45}" in draft
    assert 'ask: "Does it hum?"' in draft
