"""The captures in the docs are what the program draws."""

import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

CAPTURES = Path(__file__).parents[3] / "docs" / "captures"

pytestmark = pytest.mark.skipif(not CAPTURES.exists(), reason="the docs are in the checkout only")


def test_the_captures_are_fresh():
    run = subprocess.run(
        [sys.executable, str(CAPTURES / "make.py"), "--check"], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("path", sorted(CAPTURES.glob("*.svg")), ids=lambda path: path.stem)
def test_a_capture_is_a_drawing_with_a_title_that_the_page_shows(path):
    root = ElementTree.parse(path).getroot()
    title = root.find("{http://www.w3.org/2000/svg}title").text
    page = (CAPTURES.parent / "bench.md").read_text(encoding="utf-8")
    assert f"![{title}](captures/{path.name})" in page
    texts = "".join(text.text for text in root.iter("{http://www.w3.org/2000/svg}text"))
    assert len(texts) > 100
