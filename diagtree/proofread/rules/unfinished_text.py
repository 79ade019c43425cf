"""A text is a placeholder.

It was meant to be written later, and nobody did.

Wrong::

    checks:
      lamp:
        how: TODO

Told::

    3:10: checks > lamp > how: 'TODO' says that something is still to be written. Write it.

Right::

    checks:
      lamp:
        how: Switch it on with water in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
NEEDS = frozenset({"todo", "fixme", "tbd", "tbc", "xxx", "lorem"})
KINDS = ("tree", "catalogue", "conditions")
PLACEHOLDER = re.compile(r"\b(?:TODO|FIXME|TBD|TBC|XXX|lorem ipsum)\b|\?\?+")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    needs = () if "??" in manuscript.document.text else NEEDS
    for words, match in manuscript.matching(PLACEHOLDER, needs=needs):
        told = f"'{match.group()}' says that something is still to be written."
        yield manuscript.fault_in(words, match.start(), told, "Write it.")
