"""The page about proofreading: its files are written, its commands run, its output compared."""

import re
import shlex
from pathlib import Path

from diagtree.commands import main as door
from diagtree.library.loading import load_library

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "proofreading.md").read_text(encoding="utf-8")


def test_each_command_prints_what_the_page_shows(tmp_path, monkeypatch, capfd):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    for name, text in re.findall(
        r"`(mine/[\w-]+\.yaml)`:\n\n```yml\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    blocks = re.findall(r"^```console\n\$ diagtree ([^\n]*)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
    assert len(blocks) == 2
    for command, shown in blocks:
        assert door.main(shlex.split(command)) == 1
        output = capfd.readouterr()
        # What was mended is told first, how much was found last; both are no data, so they go to stderr.
        *before, last = output.err.splitlines(keepends=True)
        assert "".join(before) + output.out + last == shown


def test_the_page_for_authors_lists_the_conditions_that_come_with_the_program():
    page = (DOCS / "writing-a-tree.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `([\w-]+)` \| ((?:`[\w-]+`(?:, )?)+) \|$", page, re.MULTILINE)
    said = {name: re.findall(r"`([\w-]+)`", states) for name, states in rows}
    library = load_library()
    assert said == {name: list(one.states) for name, one in library.conditions.items()}


def test_what_the_page_adds_to_a_bundled_family_is_without_fault(tmp_path, monkeypatch, capsys):
    page = (DOCS / "writing-a-tree.md").read_text(encoding="utf-8")
    (text,) = re.findall(
        r"^```yaml\n# file: my-trees/more-for-wheels.yaml\n(.*?)^```$", page, re.MULTILINE | re.DOTALL
    )
    (tmp_path / "more.yaml").write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert door.main(["proofread", "more.yaml", "--skip", "cause-never-found"]) == 0  # its tree is not here
    assert capsys.readouterr().err == "No faults in 1 file.\n"


def test_the_whole_tree_of_the_page_is_without_fault(tmp_path, monkeypatch, capsys):
    page = (DOCS / "writing-a-tree.md").read_text(encoding="utf-8")
    for number, name in enumerate(("trees/bell/silent-bell.yaml", "plugins/diagtree_bell/catalogue.yaml")):
        (text,) = re.findall(rf"^```yaml\n# file: {name}\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
        (tmp_path / f"{number}.yaml").write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert door.main(["proofread", "."]) == 0, capsys.readouterr()
    assert capsys.readouterr().err == "No faults in 2 files.\n"


def test_what_takes_the_place_of_a_bundled_entry_is_told(tmp_path, monkeypatch, capsys):
    (tmp_path / "mine.yaml").write_text("family: wheels\nparts:\n  tyre: {title: Tyre, price: 30.00}\n")
    monkeypatch.chdir(tmp_path)
    assert door.main(["proofread", "mine.yaml"]) == 0
    told = capsys.readouterr().err
    assert told.startswith("note: mine.yaml:3:3: This part 'wheels/tyre' takes the place of the one in ")
    assert told.count("note: ") == 1
