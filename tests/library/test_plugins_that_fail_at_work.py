"""A plugin that loads well and fails when it is used: it is named, and all else goes on."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from types import ModuleType

import pytest

from diagtree.case.measuring import ReadingError, measure
from diagtree.commands import main as door
from diagtree.errors import ExpectedError
from diagtree.library import plugins as plugin_room
from diagtree.library.hookspecs import hookimpl
from diagtree.library.library import join
from diagtree.library.offers import Rule, SheetWriter
from diagtree.model.reading import Measured, Reading
from diagtree.proofread.edits import Edit
from diagtree.sheets.writers import all_writers

CATALOGUE = """\
family: toaster
title: toaster
parts:
  tray: {title: Tray., price: 3.00}
"""


def of_plugin(monkeypatch, rule: Rule) -> None:
    """Install one plugin with one rule, and nothing else."""
    module = ModuleType("a_plugin")

    @hookimpl
    def diagtree_proofreading_rules():
        return [rule]

    module.diagtree_proofreading_rules = diagtree_proofreading_rules

    class Point:
        name = "odd"

        def load(self):
            return module

    monkeypatch.setattr(plugin_room, "entry_points", lambda group: [Point()])


@pytest.fixture
def folder(tmp_path: Path, monkeypatch) -> Path:
    (tmp_path / "toaster.yaml").write_text(CATALOGUE)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def raises(manuscript):
    raise ValueError("no blade")


def raises_half_way(manuscript):
    yield manuscript.fault(("title",), "A title has a capital.", "Write one.")
    raise ValueError("no blade")


@pytest.mark.parametrize(
    ("finds", "told"),
    [
        (raises, "ValueError: no blade"),
        (raises_half_way, "ValueError: no blade"),
        (lambda manuscript: ["odd"], "it yields str, not faults (manuscript.fault)"),
        (lambda manuscript: None, "TypeError: 'NoneType' object is not iterable"),
    ],
)
def test_a_rule_that_fails_is_told_and_the_other_rules_work(folder, monkeypatch, capsys, finds, told):
    of_plugin(monkeypatch, Rule("blade", "Finds blades.", finds))
    assert door.main(["proofread", "toaster.yaml"]) == 1
    out = capsys.readouterr().out
    assert (
        f"toaster.yaml:1:1: This rule of plugin 'odd' failed: {told}. "
        "Mend the plugin, or leave it out with --block odd. [blade]\n" in out
    )
    assert "[title-with-full-stop]" in out
    assert ("A title has a capital. Write one. [blade]" in out) == (finds is raises_half_way)


@pytest.mark.parametrize(
    ("mends", "told"),
    [(raises, "ValueError: no blade"), (lambda manuscript: [3], "it yields int, not edits")],
)
def test_a_rule_that_cannot_mend_is_told_and_the_file_stays(folder, monkeypatch, capsys, mends, told):
    of_plugin(monkeypatch, Rule("blade", "Finds blades.", lambda manuscript: [], mends=mends))
    door.main(["proofread", "toaster.yaml", "--fix"])
    assert capsys.readouterr().err.startswith(
        f"diagtree: plugin 'odd': its rule 'blade' cannot mend toaster.yaml: {told}. Mend the plugin.\n"
    )
    assert (folder / "toaster.yaml").read_text() == CATALOGUE


def test_a_rule_of_a_plugin_mends_as_those_that_are_built_in(folder, monkeypatch, capsys):
    edit = Edit(CATALOGUE.index("title: toaster") + 7, CATALOGUE.index("\nparts"), "Toaster", ("title",))
    of_plugin(monkeypatch, Rule("blade", "Finds blades.", lambda manuscript: [], mends=lambda _: [edit]))
    door.main(["proofread", "toaster.yaml", "--fix"])
    assert "mended: toaster.yaml: blade\n" in capsys.readouterr().err
    assert "title: Toaster\n" in (folder / "toaster.yaml").read_text()


@pytest.mark.parametrize(
    ("write", "told"),
    [
        (lambda paper: 1 / 0, "ZeroDivisionError: division by zero"),
        (lambda paper: "x", "it returns str, not bytes"),
    ],
)
def test_a_sheet_writer_that_fails_is_named(write, told):
    writers, problems = all_writers([("odd", SheetWriter("slip", "a slip", ".slip", write))])
    assert problems == ()
    with pytest.raises(ExpectedError) as caught:
        writers["slip"].write(None)
    assert str(caught.value) == (
        f"The sheet writer 'slip' of plugin 'odd' failed: {told}. Choose another form, or mend the plugin."
    )


@pytest.mark.parametrize(
    ("read", "told"),
    [
        (lambda text: 1 / 0, "ZeroDivisionError: division by zero"),
        (lambda text: 3, "it returns int, not a measured value"),
        (lambda text: Measured("3", "3 mm"), "its value is '3', not a decimal number"),
        (lambda text: Measured(Decimal("NaN"), "?"), "its value is Decimal('NaN'), not a decimal number"),
    ],
)
def test_a_reading_that_fails_is_named_and_the_answers_are_still_there(read, told):
    library = join(readings=[Reading("toaster/wear", "Wear", "mm", "3 mm", read, "invented")])
    with pytest.raises(ReadingError) as caught:
        measure(library, "toaster/wear", "3 mm")
    assert str(caught.value) == (
        f"The reading 'toaster/wear' failed: {told}. "
        "Choose one of the answers instead. Its plugin must be mended."
    )


def test_what_a_reading_says_about_nonsense_stays_its_own():
    def read(text):
        raise ExpectedError("That is no width.", "Measure again.")

    library = join(readings=[Reading("toaster/wear", "Wear", "mm", "3 mm", read, "invented")])
    with pytest.raises(ExpectedError, match=r"That is no width\. Measure again\."):
        measure(library, "toaster/wear", "x")
