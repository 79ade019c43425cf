"""Sets a paper as JSON, for programs."""

from __future__ import annotations

import json

from diagtree.sheets.paper import Paper


def to_json(paper: Paper) -> str:
    """Set a paper as JSON: all that it tells, in plain values, with a ``schema`` number."""
    return json.dumps(paper.data, ensure_ascii=False, indent=2) + "\n"


def write_json(paper: Paper) -> bytes:
    """Return the JSON form as UTF-8."""
    return to_json(paper).encode("utf-8")
