"""What the bench needs of whoever writes papers: the kinds on offer and a function that writes one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Papers:
    """The papers that can be written.

    Parameters
    ----------
    kinds
        The name of each kind and its title: ``{"job": "Job sheet"}``.
    write
        Writes the paper of a kind and tells where it is; an `ExpectedError` is shown on the screen.
    """

    write: Callable[[str], str]
    kinds: Mapping[str, str] = field(
        default_factory=lambda: {
            "job": "Job sheet",
            "estimate": "Estimate for the customer",
            "torque": "Torque round",
            "handover": "Handover",
        }
    )
