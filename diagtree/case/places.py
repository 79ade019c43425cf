"""Places: where a question stands, in a tree or among the quick looks."""

from __future__ import annotations

from dataclasses import dataclass

LOOK = "look"
CHECK = "check"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a question stands.

    Parameters
    ----------
    kind
        ``look`` or ``check``.
    symptom
        The complaint whose tree the check is in; empty for a look.
    name
        The name of the look or the check.

    Examples
    --------
    >>> Place.check("no-heat", "lamp").key, Place.look("lime").key
    ('check:no-heat:lamp', 'look:lime')
    >>> Place.parse("check:no-heat:lamp") == Place.check("no-heat", "lamp")
    True
    """

    kind: str
    symptom: str
    name: str

    @classmethod
    def look(cls, name: str) -> Place:
        """Name the place of a quick look."""
        return cls(LOOK, "", name)

    @classmethod
    def check(cls, symptom: str, name: str) -> Place:
        """Name the place of a check in the tree of a symptom."""
        return cls(CHECK, symptom, name)

    @classmethod
    def parse(cls, key: str) -> Place:
        """Read a key back.

        Raises
        ------
        ValueError
            If the text is no key.
        """
        parts = key.split(":")
        if len(parts) == 2 and parts[0] == LOOK:
            return cls.look(parts[1])
        if len(parts) == 3 and parts[0] == CHECK:
            return cls.check(parts[1], parts[2])
        raise ValueError(f"'{key}' names no question")

    @property
    def key(self) -> str:
        """The place as one text, as the journal holds it."""
        return f"{LOOK}:{self.name}" if self.kind == LOOK else f"{CHECK}:{self.symptom}:{self.name}"

    @property
    def is_look(self) -> bool:
        """True for a quick look."""
        return self.kind == LOOK
