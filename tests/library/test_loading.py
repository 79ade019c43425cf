"""The library as a whole: own folders, links, folders that cannot be read, files that replace others."""

import gc
import os
from pathlib import Path

import pytest

from diagtree.library import plugins as door
from diagtree.library.loading import load_library
from diagtree.library.workshop_file import workshop_text

KETTLE = Path(__file__).parent.parent / "kettle"


@pytest.fixture(autouse=True)
def nothing_is_installed(monkeypatch):
    monkeypatch.setattr(door, "entry_points", lambda group: [])


def copied(folder, *names):
    folder.mkdir(parents=True, exist_ok=True)
    for name in names or (
        "catalogue.yaml",
        "conditions.yaml",
        "no-heat.yaml",
        "slow-boil.yaml",
        "leaks.yaml",
    ):
        (folder / name).write_bytes((KETTLE / name).read_bytes())
    return folder


def told(library):
    return [str(problem) for problem in library.problems]


def test_an_own_folder_holds_catalogues_conditions_and_trees(tmp_path):
    library = load_library([copied(tmp_path / "mine")])
    assert (len(library.trees), len(library.causes), len(library.looks)) == (3, 7, 2)
    assert told(library) == []
    assert library.machine.many == "kettles"


def test_folders_in_folders_are_walked_and_other_files_passed_over(tmp_path):
    copied(tmp_path, "catalogue.yaml", "conditions.yaml")
    copied(tmp_path / "deep" / "deeper", "leaks.yaml")
    copied(tmp_path / ".hidden", "no-heat.yaml")
    (tmp_path / "notes.txt").write_text("not: [yaml")
    assert list(load_library([tmp_path]).trees) == ["leaks"]


def test_a_single_file_stands_for_itself(tmp_path):
    folder = copied(tmp_path, "catalogue.yaml", "conditions.yaml", "leaks.yaml", "no-heat.yaml")
    library = load_library([folder / "catalogue.yaml", folder / "leaks.yaml"])
    assert list(library.trees) == ["leaks"]


def test_an_own_tree_takes_the_place_of_another_and_that_is_told(tmp_path):
    first, second = copied(tmp_path / "first"), copied(tmp_path / "second", "leaks.yaml")
    text = (second / "leaks.yaml").read_text().replace("Water on the table", "A puddle")
    (second / "leaks.yaml").write_text(text)
    library = load_library([first, second])
    assert library.trees["leaks"].title == "A puddle"
    assert [str(notice) for notice in library.notices] == [
        f"{second / 'leaks.yaml'}:1:10: This tree 'leaks' takes the place of the one in {first / 'leaks.yaml'}."
    ]


def test_a_broken_own_tree_leaves_the_other_in_its_place(tmp_path):
    first, second = copied(tmp_path / "first"), copied(tmp_path / "second", "leaks.yaml")
    (second / "leaks.yaml").write_text("symptom: leaks\ntitle: [\n")
    library = load_library([first, second])
    assert library.trees["leaks"].title == "Water on the table"
    assert told(library) == [
        (
            f"{second / 'leaks.yaml'}:2:9: Something is missing here: a value, or the end of a bracket. "
            "Write it, or close the bracket. If it belongs to a text, put the whole text in quotes."
        )
    ]


def test_links_that_lead_out_or_round_are_not_followed(tmp_path):
    copied(tmp_path / "elsewhere")
    mine = copied(tmp_path / "mine")
    (mine / "out").symlink_to(tmp_path / "elsewhere")
    (mine / "round").symlink_to(mine)
    (mine / "out.yaml").symlink_to(tmp_path / "elsewhere" / "leaks.yaml")
    library = load_library([mine])
    why = "This link leads out of its folder, or round in a loop. Put the file itself there."
    assert told(library) == [f"{mine / name}: {why}" for name in ("out", "out.yaml", "round")]
    assert len(library.trees) == 3


def test_a_link_inside_the_folder_is_followed(tmp_path):
    mine = copied(tmp_path / "mine", "catalogue.yaml", "conditions.yaml")
    copied(tmp_path / "mine" / "store", "leaks.yaml")
    (mine / "a.yaml").symlink_to(mine / "store" / "leaks.yaml")
    library = load_library([mine])
    assert told(library) == []
    assert list(library.trees) == ["leaks"]
    assert library.notices == (), "one file under two names is read once"


def test_a_file_that_nobody_may_read_is_told(tmp_path):
    mine = copied(tmp_path / "mine")
    (mine / "leaks.yaml").unlink()
    (mine / "leaks.yaml").mkdir()
    (mine / "gone.yaml").symlink_to(mine / "nowhere.yaml")
    library = load_library([mine])
    assert told(library) == [
        f"{mine / 'gone.yaml'}: The file cannot be read: No such file or directory. Mend that, or take it out."
    ]
    assert len(library.trees) == 2


def test_a_folder_that_nobody_may_read_is_told(tmp_path, monkeypatch):
    mine = copied(tmp_path / "mine")
    (mine / "closed").mkdir()
    listing = Path.iterdir

    def refusing(folder):
        if folder.name == "closed":
            raise PermissionError(13, "Permission denied")
        return listing(folder)

    monkeypatch.setattr(Path, "iterdir", refusing)  # root may read everything, so the refusal is played
    assert told(load_library([mine])) == [f"{mine / 'closed'}: The folder cannot be read: Permission denied."]


def test_a_folder_too_deep_is_told(tmp_path):
    mine = copied(tmp_path / "mine")
    deep = mine.joinpath(*"abcdefghij")
    deep.mkdir(parents=True)
    assert told(load_library([mine])) == [
        f"{mine.joinpath(*'abcdefghi')}: The folder lies too deep. Move it further up."
    ]


def test_loading_leaves_the_garbage_collector_as_it_was():
    load_library([KETTLE])
    assert gc.isenabled()
    gc.disable()
    try:
        load_library([KETTLE])
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_the_same_files_make_the_same_library(tmp_path):
    first, second = load_library([KETTLE]), load_library([KETTLE])
    assert first.identity("no-heat") == second.identity("no-heat")
    assert first == second


def test_a_workshop_file_among_the_trees_is_told_as_what_it_is(tmp_path):
    (tmp_path / "workshop.yaml").write_text(workshop_text(), encoding="utf-8")
    (problem,) = load_library([tmp_path]).problems
    assert (
        problem.text == "title: This is a workshop file, no part of the library. Put it into another folder."
    )


def test_a_final_check_that_takes_anothers_place_is_told(tmp_path):
    copied(tmp_path / "theirs")
    (tmp_path / "own.yaml").write_text(
        "final-checks: {boil: {title: Boil twice, minutes: 5}}\n", encoding="utf-8"
    )
    library = load_library([tmp_path / "theirs", tmp_path / "own.yaml"])
    assert library.final_checks["boil"].title == "Boil twice"
    assert [notice.text.partition(" in ")[0] for notice in library.notices] == [
        "This final check 'boil' takes the place of the one"
    ]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no named pipes here")
def test_a_pipe_is_told_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.yaml")
    (tmp_path / "notes.txt").symlink_to(tmp_path.parent / "elsewhere.txt")
    (tmp_path / "out.yaml").symlink_to(tmp_path.parent / "elsewhere.yaml")
    library = load_library([tmp_path])
    assert [(Path(problem.where).name, problem.text.partition(".")[0]) for problem in library.problems] == [
        ("out.yaml", "This link leads out of its folder, or round in a loop"),
        ("pipe.yaml", "This is no ordinary file"),
    ]
