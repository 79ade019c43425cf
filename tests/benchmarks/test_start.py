"""Starting the program against what cannot be avoided, in the same run."""

import subprocess
import sys
import time
from statistics import median

FIRST_QUESTION = """
import sys
from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.commands.common import kept_libraries
from diagtree.library.loading import load_library
from diagtree.screens.bench.bench import Bench
import diagtree.screens.bench.application
library = load_library(keep_in=kept_libraries())
bench = Bench(Walker(library, MemoryLog(), complaints=["no-brakes"]))
bench.compose(80, 24)
assert not {"numpy", "networkx", "typst", "jinja2", "graphviz"} & set(sys.modules)
"""
"""From nothing to the first question, drawn."""

LIST_IMPORTS = (
    FIRST_QUESTION
    + """
print("\\n".join(name for name in sys.modules if not name.startswith("__")))
"""
)


def seconds(code: str) -> float:
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def bare_imports() -> str:
    """Importing each module that the first question has in use, and nothing else."""
    done = subprocess.run([sys.executable, "-c", LIST_IMPORTS], check=True, capture_output=True, text=True)
    modules = done.stdout.split()
    assert "prompt_toolkit.application" in modules
    return (
        f"import contextlib, importlib\nfor name in {modules!r}:\n"
        "    with contextlib.suppress(ImportError):\n        importlib.import_module(name)"
    )


def ratio_of(mine: str, theirs: str, rounds: int = 9) -> float:
    seconds(mine), seconds(theirs)
    return median(seconds(mine) / seconds(theirs) for _ in range(rounds))


def test_help_comes_within_five_times_bare_python(benchmark):
    helps = "from diagtree.commands.main import main; main(['--help'])"
    ratio = ratio_of(helps, "pass")
    benchmark.extra_info["ratio to python -c pass"] = round(ratio, 2)
    benchmark.pedantic(seconds, args=(helps,), rounds=3)
    print(f"help: {ratio:.2f} times bare python")
    assert ratio <= 5


def test_the_first_question_comes_within_one_and_a_half_times_its_imports(benchmark):
    ratio = ratio_of(FIRST_QUESTION, bare_imports())
    benchmark.extra_info["ratio to the bare imports"] = round(ratio, 2)
    benchmark.pedantic(seconds, args=(FIRST_QUESTION,), rounds=3)
    print(f"first question: {ratio:.2f} times its bare imports")
    assert ratio <= 1.5
