"""A kept library is the one that would be read, or it is not used."""

import hashlib
import os
import pickle
from pathlib import Path

import pytest

from diagtree.library import kept, loading
from diagtree.library import plugins as door
from diagtree.library.hookspecs import hookimpl
from diagtree.library.loading import load_library
from diagtree.model.reading import Measured, Reading

KETTLE = Path(__file__).parent.parent / "kettle"


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setattr(door, "entry_points", lambda group: [])
    folder = tmp_path / "mine"
    folder.mkdir()
    for name in ("catalogue.yaml", "conditions.yaml", "no-heat.yaml", "slow-boil.yaml", "leaks.yaml"):
        (folder / name).write_bytes((KETTLE / name).read_bytes())
    return folder


@pytest.fixture
def reads(monkeypatch):
    """Count how often files are read."""
    counted = []
    real = loading.read_files

    def counting(*arguments):
        counted.append(1)
        return real(*arguments)

    monkeypatch.setattr(loading, "read_files", counting)
    return counted


def load(mine, **more):
    return load_library([mine], keep_in=mine.parent / "store", **more)


def stored(mine):
    return sorted((mine.parent / "store").iterdir())


def test_the_second_start_reads_no_file_and_has_the_same_library(mine, reads):
    first, second = load(mine), load(mine)
    assert len(reads) == 1
    assert second == first
    assert second == load_library([mine])
    assert second.identity("no-heat") == first.identity("no-heat")
    assert second.trees_of["kettle/scale"] == ("no-heat", "slow-boil")


def test_a_touched_file_is_read_again(mine, reads):
    load(mine)
    text = (mine / "leaks.yaml").read_text().replace("Water on the table", "Water on the floor")
    assert len(text) == len((mine / "leaks.yaml").read_text()), "not even the size tells"
    (mine / "leaks.yaml").write_text(text)
    assert load(mine).trees["leaks"].title == "Water on the floor"
    assert len(reads) == 2


@pytest.mark.parametrize("change", ["gone", "new", "plugin", "reading"])
def test_whatever_a_library_is_made_of_belongs_to_its_key(mine, reads, change):
    class Plugin:
        @staticmethod
        @hookimpl
        def diagtree_readings():
            return [Reading("kettle/hotness", "Hotness", "K", "300 K", lambda t: Measured(1, t), "invented")]

        @staticmethod
        @hookimpl
        def diagtree_tree_folders():
            return [mine.parent / "more"] if change == "plugin" else []

    (mine.parent / "more").mkdir()
    (mine.parent / "more" / "glossary.yaml").write_text("glossary: {lid: The top.}\n")
    load(mine)
    if change == "gone":
        (mine / "leaks.yaml").unlink()
    if change == "new":
        (mine / "glossary.yaml").write_text("glossary: {lid: The top.}\n")
    library = load(mine, also={"one": Plugin} if change in {"plugin", "reading"} else None)
    assert len(reads) == 2
    assert ("leaks" in library.trees) == (change != "gone")
    assert ("lid" in library.glossary) == (change in {"new", "plugin"})
    assert ("kettle/hotness" in library.readings) == (change in {"plugin", "reading"})


def test_readings_are_never_kept_but_come_from_their_plugin(mine, reads):
    factor = [1]

    class Plugin:
        @staticmethod
        @hookimpl
        def diagtree_readings():
            now = factor[0]
            return [
                Reading(
                    "kettle/hotness", "Hotness", "K", "300 K", lambda text: Measured(now, text), "invented"
                )
            ]

    assert load(mine, also={"one": Plugin}).readings["kettle/hotness"].read("").value == 1
    factor[0] = 2
    assert load(mine, also={"one": Plugin}).readings["kettle/hotness"].read("").value == 2
    assert len(reads) == 1


def test_a_library_with_problems_is_never_kept(mine, reads):
    (mine / "leaks.yaml").write_text("symptom: leaks\n")
    assert load(mine).problems
    assert load(mine).problems
    assert len(reads) == 2
    assert not (mine.parent / "store").exists()


@pytest.mark.parametrize("damage", ["cut", "flipped", "empty", "other", "old form"])
def test_a_damaged_store_is_passed_over_and_mended(mine, reads, damage):
    good = load(mine)
    (file,) = stored(mine)
    raw = file.read_bytes()
    other = pickle.dumps({"no": "library"})
    file.write_bytes(
        {
            "cut": raw[:-7],
            "flipped": raw[:5000] + bytes([raw[5000] ^ 1]) + raw[5001:],
            "empty": b"",
            "other": hashlib.sha256(other).digest() + other,
            "old form": raw[32:],
        }[damage]
    )
    assert load(mine) == good
    assert len(reads) == 2
    assert file.read_bytes() == raw
    assert load(mine) == good
    assert len(reads) == 2


class Surprise:
    def __reduce__(self):
        return eval, ("__import__('os').environ.__setitem__('SURPRISE', 'ran')",)


def test_a_store_can_make_nothing_but_a_library(mine, reads, monkeypatch):
    monkeypatch.delenv("SURPRISE", raising=False)
    load(mine)
    (file,) = stored(mine)
    content = pickle.dumps(Surprise())
    file.write_bytes(hashlib.sha256(content).digest() + content)
    load(mine)
    assert len(reads) == 2
    assert "SURPRISE" not in os.environ


def test_a_folder_that_cannot_be_written_is_no_misfortune(mine, reads):
    (mine.parent / "store").write_text("a file stands here")
    assert load(mine) == load(mine)
    assert len(reads) == 2


def test_a_store_of_somebody_else_is_not_used(mine, reads, monkeypatch):
    load(mine)
    monkeypatch.setattr(os, "getuid", lambda: 12345)
    load(mine)
    assert len(reads) == 2


@pytest.mark.skipif(os.name == "nt", reason="there a folder that somebody stands in cannot be taken away")
def test_a_folder_that_was_taken_away_from_under_us_is_no_misfortune(mine, tmp_path, monkeypatch):
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert load(mine).trees.keys() == {"no-heat", "slow-boil", "leaks"}
    assert not (mine.parent / "store").exists()


def test_what_lies_in_an_archive_has_no_key():
    class InAnArchive:
        name = "a.yaml"

    assert kept.key_of([(InAnArchive(), "own")], []) is None
    assert kept.key_of([(Path("/no/such/file.yaml"), "own")], []) is None


def test_old_stores_go(mine):
    for number in range(kept.MOST + 3):
        (mine / "leaks.yaml").write_text((KETTLE / "leaks.yaml").read_text() + f"# {number}\n")
        load(mine)
    assert len(stored(mine)) == kept.MOST
    assert all(file.suffix == ".kept" for file in stored(mine))
