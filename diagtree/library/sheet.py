"""One file on the way into the library: what it says, what is wrong with it, and what falls with that."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from diagtree.library.document import Plain
from diagtree.library.fault import Fault, Path
from diagtree.library.references import Reference, mapping
from diagtree.library.sources import Source
from diagtree.model.tree import Tree

Entry = tuple[str, ...]
"""One thing in a file that stands or falls by itself: ``("causes", "scale")``; ``()`` is the whole file."""


@dataclass
class Sheet:
    """One file on the way into the library.

    Parameters
    ----------
    source
        The file as it was read.
    model
        What was built of it; None where the whole file fell.
    faults
        What is wrong with it.
    broken
        The entries that fall.
    without
        Details that are lost while what they belong to stays.
    references
        Those of its references that lead somewhere.
    """

    source: Source
    model: Plain = None
    faults: list[Fault] = field(default_factory=list)
    broken: set[Entry] = field(default_factory=set)
    without: set[Path] = field(default_factory=set)
    references: list[Reference] = field(default_factory=list)

    @property
    def data(self) -> dict[str, Any]:
        """What the file says."""
        return mapping(self.source.document.data)

    def break_at(self, fault: Fault, path: Path) -> None:
        """Note a fault, and what falls with it."""
        self.faults.append(fault)
        if self.source.model is Tree:
            if path[0:1] == ("cases",) and len(path) > 1:
                self.without.add(path[:2])
            else:
                self.broken.add(())
        elif len(path) > 1:
            self.broken.add(tuple(str(part) for part in path[:2]))
        elif path and path[0] not in {"family", "title"}:
            self.without.add(path)
        else:
            self.broken.add(())

    def lose(self, fault: Fault, path: Path) -> None:
        """Note a fault that costs only the detail at its path."""
        self.faults.append(fault)
        self.without.add(path)
