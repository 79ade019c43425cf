"""What is on the machine and what is not: told by the answers, never guessed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagtree.library.library import Library

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.evidence import Evidence


def absent_parts(library: Library, evidence: Evidence) -> frozenset[str]:
    """Return the parts that the machine does not have: an answer or a quick look says so by ``without:``.

    What was seen with the machine open is on it, whatever an answer says.

    Parameters
    ----------
    library
        Where trees and quick looks are.
    evidence
        What was told.
    """
    missing: set[str] = set()
    for (symptom, check), name in evidence.answers.items():
        answer = library.tree(symptom).checks[check].answers.get(name)
        if answer is not None:
            missing.update(answer.without)
    for look, name in evidence.looks.items():
        seen = library.looks[look].answers.get(name) if look in library.looks else None
        if seen is not None:
            missing.update(seen.without)
    return frozenset(missing).difference(
        library.cause(cause).part or "" for cause, there in evidence.found.items() if there
    )


def fitted_families(library: Library, belief: Belief, evidence: Evidence) -> frozenset[str]:
    """Return the families that are known to be on the machine.

    That is a family in which something was found, or in which the cause of a complaint lies more likely than not:
    a tree may point at families of which a machine has only one.
    """
    found = {name.partition("/")[0] for name, there in evidence.found.items() if there}
    for symptom in evidence.complaints:
        shares: dict[str, float] = {}
        for cause, chance in belief.behind(symptom).items():
            home_family = (library.cause(cause).part or cause).partition("/")[0]
            shares[home_family] = shares.get(home_family, 0.0) + chance
        found |= {family for family, share in shares.items() if share > 0.5}
    return frozenset(found)
