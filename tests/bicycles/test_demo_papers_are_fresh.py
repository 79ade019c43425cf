"""The papers in docs/papers are what the program writes today."""

from __future__ import annotations

import importlib.util
import io
from pathlib import Path

import pytest
from pypdf import PdfReader

HERE = Path(__file__).parents[2] / "docs" / "papers"


@pytest.fixture(scope="module")
def demo():
    spec = importlib.util.spec_from_file_location("demo_papers", HERE / "demo.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def written(demo) -> dict[str, bytes]:
    return dict(demo.papers())


def words(content: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)


def test_the_papers_of_the_demo_bike_are_fresh(written: dict[str, bytes]):
    """If this fails: python docs/papers/demo.py, look at what changed, and commit it."""
    stale = []
    for name, content in written.items():
        there = (HERE / name).read_bytes() if (HERE / name).is_file() else b""
        # Another version of typst may write other bytes for the same pages.
        same = bool(there) and (words(there) == words(content) if name.endswith(".pdf") else there == content)
        if not same:
            stale.append(name)
    assert not stale, "run: python docs/papers/demo.py"
    assert {
        path.name for path in HERE.iterdir() if path.suffix in {".txt", ".md", ".html", ".pdf", ".json"}
    } == set(written)


def test_the_demo_bike_is_walked_to_its_end_with_something_to_do(demo):
    from diagtree.library.loading import load_library

    view = demo.walk(load_library())
    assert view.complaints == demo.COMPLAINTS
    assert view.case.jobs_done
    assert view.case.torques
    assert view.case.handed_over is not None
