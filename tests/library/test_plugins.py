"""Plugins: what works comes in; what does not is named, with the hook, and the rest works."""

import time
from importlib.metadata import EntryPoint
from pathlib import Path
from types import ModuleType

import pytest

from diagtree.library import plugins as door
from diagtree.library.hookspecs import hookimpl
from diagtree.library.loading import assembled, load_library
from diagtree.library.offers import Rule, SheetWriter, files_of, readings_in
from diagtree.library.plugins import load_plugins
from diagtree.model.reading import Measured, Reading

KETTLE = Path(__file__).parent.parent / "kettle"


@pytest.fixture(autouse=True)
def only_these(monkeypatch):
    """Install nothing but what a test installs: ``only_these(name="module:thing")``."""
    points: list[EntryPoint] = []
    monkeypatch.setattr(door, "entry_points", lambda group: points)

    def install(**named):
        points[:] = [EntryPoint(name.replace("_", "-"), value, door.GROUP) for name, value in named.items()]

    return install


def plugin(**functions):
    module = ModuleType("a_plugin")
    for name, function in functions.items():
        setattr(module, name, function)
    return module


@hookimpl
def diagtree_families():
    return [KETTLE / "catalogue.yaml"]


GOOD = plugin(diagtree_families=diagtree_families)


def problems_with(**functions):
    library = load_library(also={"bad": plugin(**functions), "good": GOOD})
    assert "kettle/scale" in library.causes, "the other plugin works"
    return [str(problem) for problem in library.problems]


def test_a_plugin_brings_a_family_conditions_trees_and_readings():
    reading = Reading("kettle/hotness", "Hotness", "K", "300 K", lambda text: Measured(1, text), "invented")

    @hookimpl
    def diagtree_conditions():
        return [KETTLE / "conditions.yaml"]

    @hookimpl
    def diagtree_tree_folders():
        return [KETTLE]

    @hookimpl
    def diagtree_readings():
        return [reading]

    library = load_library(
        also={
            "kettle": plugin(
                diagtree_families=diagtree_families,
                diagtree_conditions=diagtree_conditions,
                diagtree_readings=diagtree_readings,
            ),
            "kettle-trees": plugin(diagtree_tree_folders=diagtree_tree_folders),
        }
    )
    assert list(library.trees) == ["leaks", "no-heat", "slow-boil"]
    assert library.readings == {"kettle/hotness": reading}
    assert library.problems == ()
    # The folder holds the catalogue and the conditions once more: the later ones count, and that is told.
    assert library.notices[0].text == (
        f"This part 'kettle/element' takes the place of the one in {Path('tests/kettle/catalogue.yaml')}."
    )


def test_a_plugin_brings_rules_and_sheet_writers():
    rule = Rule("too-hot", "Finds what is too hot.", lambda subject: [])
    writer = SheetWriter("csv", "a table", ".csv", lambda paper: b"")

    @hookimpl
    def diagtree_proofreading_rules():
        return [rule]

    @hookimpl
    def diagtree_sheet_writers():
        return [writer]

    plugins = load_plugins(
        also={
            "one": plugin(
                diagtree_proofreading_rules=diagtree_proofreading_rules,
                diagtree_sheet_writers=diagtree_sheet_writers,
            )
        }
    )
    assert list(plugins.ask("diagtree_proofreading_rules", Rule, "rules")) == [("one", rule)]
    assert list(plugins.ask("diagtree_sheet_writers", SheetWriter, "writers")) == [("one", writer)]
    assert plugins.problems == []


def test_a_misspelt_hook_is_named_with_what_was_meant():
    @hookimpl
    def diagtree_familys():
        return []

    assert problems_with(diagtree_familys=diagtree_familys) == [
        (
            "plugin 'bad': there is no hook 'diagtree_familys': did you mean 'diagtree_families'. "
            "Mend the plugin, or block it."
        )
    ]


def test_an_argument_that_no_hook_gives_is_named():
    @hookimpl
    def diagtree_readings(machine):
        return []

    assert problems_with(diagtree_readings=diagtree_readings) == [
        (
            "plugin 'bad': hook 'diagtree_readings' does not fit: it takes 'machine', and the hook gives no argument "
            "of that name. Mend the plugin, or block it."
        )
    ]


def test_a_hook_without_its_mark_is_named():
    def diagtree_readings():
        return []

    assert problems_with(diagtree_readings=diagtree_readings) == [
        (
            "plugin 'bad': 'diagtree_readings' is never called: mark it with @hookimpl from "
            "diagtree.library.hookspecs. Mend the plugin, or block it."
        )
    ]


def test_a_hook_that_fails_is_named():
    @hookimpl
    def diagtree_readings():
        raise RuntimeError("no table")

    assert problems_with(diagtree_readings=diagtree_readings) == [
        "plugin 'bad': hook 'diagtree_readings' failed: RuntimeError: no table. Mend the plugin, or block it."
    ]


def test_a_hook_that_fails_half_way_is_named():
    @hookimpl
    def diagtree_readings():
        yield from ()
        raise KeyError("pitch")

    assert problems_with(diagtree_readings=diagtree_readings) == [
        "plugin 'bad': hook 'diagtree_readings' failed: KeyError: 'pitch'. Mend the plugin, or block it."
    ]


@pytest.mark.parametrize(
    ("returned", "kind"),
    [("catalogue.yaml", "str"), (7, "int"), ([1, 2], "int"), ([None], "NoneType"), ({"a": 1}, "str")],
)
def test_a_hook_that_returns_the_wrong_thing_is_named(returned, kind):
    @hookimpl
    def diagtree_families():
        return returned

    assert problems_with(diagtree_families=diagtree_families) == [
        (
            "plugin 'bad': hook 'diagtree_families' must return a list of files (importlib.resources Traversable), "
            f"not {kind}. Mend the plugin."
        )
    ]


def test_the_right_things_among_wrong_ones_are_taken():
    @hookimpl
    def diagtree_families():
        return ["nonsense", KETTLE / "catalogue.yaml"]

    library = load_library(also={"half": plugin(diagtree_families=diagtree_families)})
    assert "kettle/scale" in library.causes
    assert len(library.problems) == 1


def test_a_hook_may_return_nothing():
    @hookimpl
    def diagtree_families():
        return None

    assert problems_with(diagtree_families=diagtree_families) == []


def test_a_reading_without_its_family_and_one_that_is_there_already_are_named():
    def reading(name):
        return Reading(name, "Hotness", "K", "300 K", lambda text: Measured(1, text), "invented")

    @hookimpl
    def diagtree_readings():
        return [reading("hotness"), reading("kettle/hotness"), reading("kettle/hotness")]

    assert problems_with(diagtree_readings=diagtree_readings) == [
        "plugin 'bad': the reading 'hotness' needs its family in its name. Write 'family/name'.",
        "plugin 'bad': the reading 'kettle/hotness' is plugin 'bad's already. Choose another name.",
    ]


def test_a_file_that_is_not_there_is_a_problem_of_its_own():
    @hookimpl
    def diagtree_families():
        return [KETTLE / "nothing.yaml"]

    (problem,) = problems_with(diagtree_families=diagtree_families)
    assert problem.endswith(
        "nothing.yaml: The file cannot be read: No such file or directory. Mend that, or take it out."
    )


def installed(monkeypatch, tmp_path, text):
    (tmp_path / "an_unfinished_plugin.py").write_text(text, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("import no_such_module_at_all", "ModuleNotFoundError: No module named 'no_such_module_at_all'"),
        ("raise SystemExit(3)", "SystemExit: 3"),
        ("1/0", "ZeroDivisionError: division by zero"),
        ("def broken(:", "SyntaxError: invalid syntax (an_unfinished_plugin.py, line 1)"),
    ],
)
def test_a_plugin_that_cannot_be_imported_is_named_and_the_others_work(
    only_these, monkeypatch, tmp_path, text, why
):
    installed(monkeypatch, tmp_path, text)
    only_these(stranger="an_unfinished_plugin")
    library = load_library(also={"good": GOOD})
    assert [str(problem) for problem in library.problems] == [
        f"plugin 'stranger': cannot be imported: {why}. Mend it, or block it."
    ]
    assert "kettle/scale" in library.causes


def test_a_plugin_that_hangs_on_import_is_named_and_the_others_work(only_these, monkeypatch, tmp_path):
    installed(monkeypatch, tmp_path, "import time\ntime.sleep(3)")
    only_these(stranger="an_unfinished_plugin")
    began = time.monotonic()
    plugins = load_plugins(also={"good": GOOD}, seconds=0.1)
    assert time.monotonic() - began < 2.5
    assert [str(problem) for problem in plugins.problems] == [
        "plugin 'stranger': hangs: not imported after 0.1 s. Mend it, or block it."
    ]
    assert plugins.names == ("good",)


def test_a_blocked_plugin_is_not_even_imported(only_these, monkeypatch, tmp_path):
    installed(monkeypatch, tmp_path, "raise SystemExit(3)")
    only_these(stranger="an_unfinished_plugin")
    library = load_library(blocked=["stranger", "good"], also={"good": GOOD})
    assert library.problems == ()
    assert library.causes == {}


def test_a_block_that_blocks_nothing_is_told():
    library = load_library(blocked=["god"], also={"good": GOOD})
    assert [str(problem) for problem in library.problems] == [
        "plugin 'god': is blocked, and there is no such plugin. Did you mean 'good'?"
    ]
    assert "kettle/scale" in library.causes


def test_a_file_of_a_plugins_own_making_may_raise_anything():
    class Odd(type(KETTLE)):
        def open(self, *arguments, **more):
            raise RuntimeError("no")

    @hookimpl
    def diagtree_families():
        return [Odd(KETTLE / "catalogue.yaml")]

    (problem,) = problems_with(diagtree_families=diagtree_families)
    assert problem.endswith(
        "catalogue.yaml: The file cannot be read: RuntimeError. Mend that, or take it out."
    )


def test_one_plugin_under_two_names_comes_in_once():
    library = load_library(also={"good": GOOD, "again": GOOD})
    assert [str(problem) for problem in library.problems] == [
        "plugin 'again': is registered already under this or another name. Mend the plugin, or block it."
    ]
    assert "kettle/scale" in library.causes


def test_each_call_of_a_hook_can_be_traced():
    lines: list[str] = []
    plugins = load_plugins(also={"good": GOOD}, trace=lines.append)
    assembled(plugins)
    assert lines == [
        "diagtree_families() -> good",
        f"diagtree_families <- [[{KETTLE / 'catalogue.yaml'!r}]]",
    ]


def test_helps_for_authors_of_plugins():
    assert [file.name for file in files_of("diagtree.library", "loading.py", "absent.yaml")] == ["loading.py"]
    one = Reading("a/b", "B", "mm", "1 mm", lambda text: Measured(1, text), "invented")
    assert readings_in(plugin(ONE=one, ALL=(one,), OTHER=3)) == [one]
