"""The door: each command has its line, its examples, and an error is words and an exit code."""

from __future__ import annotations

import argparse
import pkgutil
import re
import shlex
import subprocess
import sys

import pytest

import diagtree.commands
from diagtree.commands.main import COMMANDS, load, main

MODULES = {m.name for m in pkgutil.iter_modules(diagtree.commands.__path__)}
NO_COMMANDS = {"main", "common", "outgoing", "progress"}


def test_every_command_module_has_its_line_in_the_help():
    named = {name.replace("-", "_") for name in COMMANDS}
    assert named == MODULES - NO_COMMANDS


@pytest.mark.parametrize("name", COMMANDS)
def test_a_commands_line_is_its_modules_first_line(name: str):
    assert (load(name).__doc__ or "").splitlines()[0] == COMMANDS[name]


@pytest.mark.parametrize("name", COMMANDS)
def test_each_example_in_a_commands_help_can_be_parsed(name: str, monkeypatch):
    command = load(name)
    monkeypatch.setattr(sys, "argv", ["diagtree"])
    lines = [line for line in command.EXAMPLES.splitlines() if line.strip().startswith("diagtree")]
    assert lines
    for line in lines:
        words = shlex.split(re.split(r"\s{2,}| > ", line.strip())[0])
        assert words[:2] == ["diagtree", name]
        parser = argparse.ArgumentParser(exit_on_error=False)
        command.add_arguments(parser)
        parser.parse_args(words[2:])


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_explains_itself(name: str, capsys):
    assert main([name, "--help"]) == 0
    text = capsys.readouterr().out
    assert text.index("examples:") < text.index("exit status:")


def test_help_before_a_command_is_the_commands_help(capsys):
    assert main(["help", "draw"]) == 0
    assert capsys.readouterr().out.startswith("usage: diagtree draw ")
    assert main(["help", "drew"]) == 2
    assert main(["help"]) == 0


def test_without_a_command_the_help_is_shown(capsys):
    assert main([]) == 0
    assert "commands:" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said", "status"),
    [
        (["drawe"], "diagtree: There is no command 'drawe'. Did you mean 'draw'?\n", 2),
        (
            ["--colour"],
            "diagtree: There is no option '--colour' before the command. See: diagtree --help\n",
            2,
        ),
        (
            ["compare"],
            "diagtree: The following arguments are required: OLD, NEW. See: diagtree compare --help\n",
            2,
        ),
        (["sheet", "x", "--kind", "jab"], "diagtree: There is no paper 'jab'. Did you mean 'job'?\n", 2),
    ],
)
def test_a_mistake_is_told_in_words(words: list[str], said: str, status: int, capsys):
    assert main(words) == status
    assert capsys.readouterr().err == said


def test_a_fault_in_the_program_is_no_traceback_unless_asked_for(monkeypatch, capsys):
    class Broken:
        EXAMPLES = "  diagtree draw"

        def add_arguments(self, parser): ...

        def run(self, options):
            raise RuntimeError("the layout came apart")

    monkeypatch.setattr("diagtree.commands.main.load", lambda _: Broken())
    assert main(["draw"]) == 70
    said = capsys.readouterr().err
    assert "RuntimeError: the layout came apart" in said
    assert "Traceback" not in said
    with pytest.raises(RuntimeError):
        main(["draw", "--debug"])


def test_an_interrupt_is_130(monkeypatch, capsys):
    class Slow:
        EXAMPLES = "  diagtree draw"

        def add_arguments(self, parser): ...

        def run(self, options):
            raise KeyboardInterrupt

    monkeypatch.setattr("diagtree.commands.main.load", lambda _: Slow())
    assert main(["draw"]) == 130


def test_help_imports_nothing_slow():
    code = "import sys; from diagtree.commands.main import main; main(['--help']); print(sorted(sys.modules))"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    for heavy in ("numpy", "pydantic", "networkx", "prompt_toolkit", "yaml", "pluggy"):
        assert f"'{heavy}'" not in said
