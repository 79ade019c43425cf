"""A `#` after a blank begins a comment, so the rest of a text is lost.

`use tool #5` reads as `use tool`. The whole text in quotes keeps it. `--fix` sets them.

Wrong::

    checks:
      fuse:
        how: Open it with tool #5 from the rack

Told::

    3:28: Everything from '#' on is lost: '#5 from the rack'. Put the whole text in quotes.

Right::

    checks:
      fuse:
        how: "Open it with tool #5 from the rack"
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.edits import Edit, place
from diagtree.proofread.hashes import hashes
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
VALUE = re.compile(r"\s*(?:- )*(?:[a-z][a-z0-9-]*:\s+)?(?P<text>[^\s\"'{\[|>&*!%@#-].*)$")
KINDS = ("tree", "catalogue", "conditions")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for lost in hashes(manuscript):
        told = f"Everything from '#' on is lost: '{lost.rest}'."
        mend = "Put the whole text in quotes."
        yield Fault(manuscript.document.file, lost.number, lost.at + 1, "", told, mend)


def mends(manuscript: Manuscript) -> Iterator[Edit]:
    """Put the whole text in quotes."""
    for lost in hashes(manuscript):
        value = VALUE.match(lost.row, 0, lost.end)
        if value is None:
            continue
        quoted = value["text"].replace("\\", "\\\\").replace('"', '\\"')
        start = place(manuscript.document.text, lost.number, 1)
        for words in manuscript.words:
            if manuscript.document.position(words.path) == (lost.number, value.start("text") + 1):
                yield Edit(start + value.start("text"), start + lost.end, f'"{quoted}"', words.path)
