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
CAPITALS = re.compile(
    r"\b(?:NEVER|ALWAYS|NOT|DO NOT|STOP|WARNING|DANGER|CAUTION|IMPORTANT|ONLY|MUST|DON'T|NO)\b(?= [a-z]|[!:])"
)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    if CAPITALS.search(manuscript.document.text) is None:
        return
    for words, match in manuscript.matching(CAPITALS):
        told = f"'{match.group()}' shouts."
        yield manuscript.fault_in(words, match.start(), told, f"Write '{match.group().lower()}'.")
