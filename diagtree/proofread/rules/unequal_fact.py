"""Checks that share a fact have different answers.

Checks with one `fact` are one question, asked once. So they need the same answers under the same names.

Wrong::

    symptom: sparks
    title: It sparks
    family: kettle
    first: flex
    checks:
      flex:
        ask: Is the flex hurt?
        minutes: 1
        fact: flex-looks
        answers:
          torn: {says: Torn, found: {flex-damaged: 10}}
          sound: {says: Sound, found: {switch-worn: 10}}

Told::

    9:11: checks > flex > fact: The answers to fact 'flex-looks' are not those in no-heat.yaml:36: hurt, sound. Use the same names, or another fact.

Right::

    symptom: sparks
    title: It sparks
    family: kettle
    first: flex
    checks:
      flex:
        ask: Is the flex hurt?
        minutes: 1
        fact: flex-looks
        answers:
          hurt: {says: Torn, found: {flex-damaged: 10}}
          sound: {says: Sound, found: {switch-worn: 10}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.proofread.manuscript import Manuscript

GROUP = "structure"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    return (fault for fault in manuscript.sheet.faults if fault.rule == "unequal-fact")
