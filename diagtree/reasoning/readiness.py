"""Which checks make sense with the answers so far."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.model.tree import Tree


class Readiness:
    """The ways through one tree, ready to be asked often.

    A check is open if a way leads to it that no answer contradicts, or if it is marked ``anytime``. A check
    that has not been answered, or that nobody could tell, contradicts nothing.

    Parameters
    ----------
    tree
        The tree; a way to a check that it does not have ends there.
    """

    def __init__(self, tree: Tree) -> None:
        checks = tree.checks
        self._first = tree.first
        self._follow = {
            name: {answer: entry.next for answer, entry in check.answers.items() if entry.next in checks}
            for name, check in checks.items()
        }
        self._every = {
            name: (*follow.values(), *(to for to in (checks[name].cannot_tell,) if to in checks))
            for name, follow in self._follow.items()
        }
        self._anytime = frozenset(name for name, check in checks.items() if check.anytime)

    def open(self, answers: Mapping[str, str]) -> frozenset[str]:
        """Return the checks that make sense, without those that are answered.

        Parameters
        ----------
        answers
            Check and answer.
        """
        fits: set[str | None] = {None}
        ahead: list[str | None] = [self._first] if self._first in self._follow else []
        while ahead:
            name = ahead.pop()
            if name not in fits:
                fits.add(name)
                assert name is not None
                if name in answers:
                    ahead.append(self._follow[name].get(answers[name]))
                else:
                    ahead += self._every[name]
        fits |= self._anytime
        fits -= answers.keys()
        fits.discard(None)
        return frozenset(name for name in fits if name is not None)


def ready(tree: Tree, answers: Mapping[str, str]) -> frozenset[str]:
    """Return the checks of a tree that make sense with the answers so far; see `Readiness`.

    Examples
    --------
    >>> from diagtree.library.loading import load_library
    >>> tree = next(iter(load_library().trees.values()))
    >>> tree.first in ready(tree, {})
    True
    """
    return Readiness(tree).open(answers)
