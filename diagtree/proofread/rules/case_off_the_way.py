"""A worked case answers a check that its other answers do not lead to.

Nobody at the bench would be asked it then, so the case tries something that never happens. A check marked
`anytime` may come whenever it likes.

Wrong::

    first: lamp
    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {found: {scale: 70}}
      fuse:
        answers:
          no: {found: {fuse-blown: 20}}
          yes: {found: {switch-worn: 10}}
    cases:
      - {answers: {lamp: yes, fuse: no}, expect: scale}

Told::

    12:27: cases > 1 > answers > fuse: The answers before it do not lead to the check 'fuse'. Mend the answers, leave this one out, or write 'anytime: true' with the check.

Right::

    first: lamp
    checks:
      lamp:
        answers:
          no: {next: fuse}
          yes: {found: {scale: 70}}
      fuse:
        answers:
          no: {found: {fuse-blown: 20}}
          yes: {found: {switch-worn: 10}}
    cases:
      - {answers: {lamp: no, fuse: no}, expect: fuse-blown}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.library.fault import Fault
from diagtree.library.references import each, mapping
from diagtree.library.structure import is_true
from diagtree.proofread.manuscript import Manuscript

GROUP = "cases"
KINDS = ("tree",)


def finds(manuscript: Manuscript) -> Iterator[Fault]:
    """Yield the faults of this kind."""
    checks = {check.name: check.data for check in manuscript.checks}
    for case, path in each(manuscript.data.get("cases"), ("cases",)):
        answers = mapping(mapping(case).get("answers"))
        open_ = [str(manuscript.data.get("first"))]
        met: set[str] = set()
        while open_:
            name = open_.pop()
            if name in met or name not in checks:
                continue
            met.add(name)
            given = mapping(checks[name].get("answers"))
            # A check that the case passes over could not be told: it goes on any way.
            taken = (
                [given.get(str(answers[name]))]
                if name in answers
                else [*given.values(), {"next": checks[name].get("cannot-tell")}]
            )
            open_ += [str(mapping(answer).get("next")) for answer in taken]
        for name in answers:
            if name in checks and name not in met and not is_true(checks[name].get("anytime")):
                told = f"The answers before it do not lead to the check '{name}'."
                mend = "Mend the answers, leave this one out, or write 'anytime: true' with the check."
                yield manuscript.fault((*path, "answers", name), told, mend, of_key=True)
