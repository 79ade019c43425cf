"""The texts of a fastener speak of a left-hand thread, its `hand` does not, or the other way round.

Turned the wrong way with a long lever, the thread is gone. `hand` is what the sheet goes by; where it is
left, the side or a caution must say so to the reader too.

Wrong::

    family: toaster
    fasteners:
      nut: {title: Axle nut (left-hand thread), thread: M12x1, until: it holds, preparation: dry}

Told::

    3:3: fasteners > nut: The text speaks of a left-hand thread, and 'hand:' does not say left. Write 'hand: left', or mend the text.

Right::

    family: toaster
    fasteners:
      nut: {title: Axle nut (left-hand thread), thread: M12x1, hand: left, until: it holds, preparation: dry}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript, items

GROUP = "torque"
KINDS = ("catalogue",)
LEFT = re.compile(r"left[- ]hand(?:ed)?(?: thread)?", re.IGNORECASE)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    for _, fastener, path in manuscript.entries("fasteners"):
        texts = [str(fastener.get(key, "")) for key in ("title", "thread", "side", "order")]
        said = " ".join([*texts, *(text for text, _ in items(fastener.get("caution"), path))])
        is_left = fastener.get("hand") == "left"
        if LEFT.search(said) and not is_left:
            told = "The text speaks of a left-hand thread, and 'hand:' does not say left."
            yield manuscript.fault(path, told, "Write 'hand: left', or mend the text.", of_key=True)
        elif is_left and not LEFT.search(said) and not fastener.get("side"):
            told = "The thread is left-hand, and no text says on which side or warns of it."
            yield manuscript.fault((*path, "hand"), told, "Add 'side:' or 'caution:'.")
