"""A word is written in capitals to shout.

Cautions stand first and are set in bold already. Capitals are harder to read.

Wrong::

    checks:
      flex:
        caution: NEVER touch the bare wire.

Told::

    3:14: checks > flex > caution: 'NEVER' shouts. Write 'never'.

Right::

    checks:
      flex:
        caution: Never touch the bare wire.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "wording"
KINDS = ("tree", "catalogue", "conditions")
SHOUTS = (
    "NEVER",
    "ALWAYS",
    "NOT",
    "STOP",
    "WARNING",
    "DANGER",
    "CAUTION",
    "IMPORTANT",
    "ONLY",
    "MUST",
    "DON'T",
    "NO",
)
CAPITALS = re.compile(r"\b(?:DO NOT|" + "|".join(SHOUTS) + r")\b(?= [a-z]|[!:])")


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    if not any(word in manuscript.document.text for word in SHOUTS):
        return
    for words, match in manuscript.matching(CAPITALS):
        told = f"'{match.group()}' shouts."
        yield manuscript.fault_in(words, match.start(), told, f"Write '{match.group().lower()}'.")
