"""The ways through a tree: what leads where, and which answers still have their place."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from diagtree.model.tree import Tree

Leaf = tuple[str, str]
"""A check and the answer to it that is a finding."""


class Ways:
    """What leads where in one tree; worked out once, asked often.

    A draft may be walked too, so a loop or a check that is not there stops a way and breaks nothing.

    Parameters
    ----------
    tree
        The tree, as the library holds it.
    """

    def __init__(self, tree: Tree) -> None:
        self.tree = tree

    @cached_property
    def reachable(self) -> tuple[str, ...]:
        """The checks that some way leads to, each after those that lead to it where there is no loop."""
        order: list[str] = []
        entered: set[str] = set()
        stack: list[tuple[str, bool]] = [(self.tree.first, False)]
        while stack:
            name, left = stack.pop()
            if left:
                order.append(name)
                continue
            if name in entered or name not in self.tree.checks:
                continue
            entered.add(name)
            stack.append((name, True))
            stack += [(after, False) for after in reversed(self._follow(name))]
        return tuple(reversed(order))

    def _follow(self, name: str) -> list[str]:
        check = self.tree.checks[name]
        after = [answer.next for answer in check.answers.values() if answer.next is not None]
        return [*after, check.cannot_tell] if check.cannot_tell is not None else after

    @cached_property
    def leaves_from(self) -> Mapping[str, frozenset[Leaf]]:
        """For each check, the findings that lie at or behind it."""
        found: dict[str, frozenset[Leaf]] = {}
        for name in reversed(self.reachable):
            leaves: set[Leaf] = set()
            for answer_name, answer in self.tree.checks[name].answers.items():
                if answer.next is None:
                    leaves.add((name, answer_name))
                else:
                    leaves |= found.get(answer.next, frozenset())
            found[name] = frozenset(leaves)
        return found

    def leaves_behind(self, check: str, answer: str) -> frozenset[Leaf]:
        """Tell the findings that an answer leads to."""
        after = self.tree.checks[check].answers[answer].next
        if after is None:
            return frozenset({(check, answer)})
        return self.leaves_from.get(after, frozenset())

    def fitting(self, answers: Mapping[str, str]) -> frozenset[str]:
        """Tell the checks that make sense with the answers so far.

        Parameters
        ----------
        answers
            Check to answer. A check without one contradicts nothing, nor does an answer that the tree
            does not have.

        Returns
        -------
        frozenset of str
            The checks that some way leads to which no answer on it contradicts, and those marked
            ``anytime``.
        """
        checks = self.tree.checks
        fits: set[str] = {self.tree.first} & set(checks)
        for name in self.reachable:
            if name not in fits:
                continue
            given = checks[name].answers.get(answers.get(name, ""))
            if given is None:
                fits.update(after for after in self._follow(name) if after in checks)
            elif given.next is not None and given.next in checks:
                fits.add(given.next)
        return frozenset(fits | {name for name, check in checks.items() if check.anytime})
