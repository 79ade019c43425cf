"""Find names by what they are called: typed words against titles, rare words counting more than common ones."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Mapping, Sequence

LEAST = 0.3
"""How much of what was typed must be found in a title, rare words weighing more."""

_SMALL = (
    "a an and are as at back be but by can cant does dont for from front gets go goes going gone has have he her his"
    " i if in is it its just keeps left my not of off on or our out own rear right says she so still that the their"
    " then there they this to too up very was we when while will with wont you"
)
SMALL = frozenset(_SMALL.split())
"""Little words and words for a place, which say little of what is wrong,"""

SMALL_WEIGHS = 0.2
"""and so much of what another word as rare would weigh."""

NEAR = 0.65
"""How near to the best match another one must come."""

SPELT_ALIKE = 0.8
"""How alike two words must be spelt to be taken for the same, from 0 to 1."""

STEM, STEM_SHARE = 4, 0.55
"""So many letters, and so much of the longer word, make a beginning that says the same: squeal, squeaky."""

TOGETHER = 0.9
"""What words that stand in several titles of one name count, against words that stand in one."""

TITLE_SHARE = 0.2
"""How much it counts that little else stands in the title."""


def alike(names: Mapping[str, Sequence[str]], text: str) -> list[str]:
    """Find names by what they are called, the best match first; of two alike the earlier one.

    Parameters
    ----------
    names
        What each name is called.
    text
        What was typed; nothing at all gives every name.

    Returns
    -------
    list of str
        Names for which enough of what was typed is found. Words that stand nowhere are passed over.

    References
    ----------
    Words weigh by how rare they are: Spärck Jones, "A statistical interpretation of term specificity and its
    application in retrieval", Journal of Documentation 28:11-21, 1972.

    Examples
    --------
    >>> alike({"no-heat": ["The water stays cold", "dead"], "leaks": ["Water on the table"]}, "is dead")
    ['no-heat']
    >>> alike({"no-heat": ["The water stays cold"], "leaks": ["Water on the table"]}, "watr")
    ['leaks', 'no-heat']
    >>> alike({"b": ["B"], "a": ["A"]}, "")
    ['b', 'a']
    """
    said = dict.fromkeys(_words(text))
    if not said:
        return list(names)
    titles = {name: [frozenset(_words(title)) for title in called] for name, called in names.items()}
    every = {name: frozenset[str]().union(*called) for name, called in titles.items()}
    known = {word for words in every.values() for word in words}
    meant = {word: {other: like for other in known if (like := _same(word, other))} for word in said}
    rare = {word: _weight(word, every.values(), others) for word, others in meant.items() if others}
    if not rare.keys() - SMALL:
        return []
    spread = {word: _weight(word, every.values(), (word,)) for word in known}
    scored = []
    for place, (name, called) in enumerate(titles.items()):
        best = max((_found(title, meant, rare, spread) for title in called), default=0.0)
        best = max(best, TOGETHER * _found(every[name], meant, rare, spread))
        if best >= LEAST:
            scored.append((-round(best, 9), place, name))
    scored.sort()
    return [name for score, _, name in scored if score <= NEAR * scored[0][0]]


def _words(text: str) -> list[str]:
    return re.findall(
        r"[^\W_]+", text.casefold().replace("'", "").replace("\N{RIGHT SINGLE QUOTATION MARK}", "")
    )


def _same(word: str, other: str) -> float:
    """Return how much two words are the same, from 0 to 1."""
    if word == other:
        return 1.0
    stem = sum(
        1 for _ in itertools.takewhile(lambda pair: pair[0] == pair[1], zip(word, other, strict=False))
    )
    if stem >= STEM and stem >= STEM_SHARE * max(len(word), len(other)):
        return 0.9
    if other.startswith(word):  # still being typed
        return 0.8
    from rapidfuzz import fuzz

    like = fuzz.ratio(word, other) / 100
    return 0.9 * like if like >= SPELT_ALIKE else 0.0


def _weight(word: str, texts: Iterable[frozenset[str]], spellings: Iterable[str]) -> float:
    """Weigh a word by how few texts have it in one of its spellings."""
    every = list(texts)
    wanted = frozenset(spellings)
    rarity = math.log(1 + len(every) / max(1, sum(not wanted.isdisjoint(words) for words in every)))
    return SMALL_WEIGHS * rarity if word in SMALL else rarity


def _found(
    title: frozenset[str],
    meant: Mapping[str, Mapping[str, float]],
    rare: Mapping[str, float],
    spread: Mapping[str, float],
) -> float:
    """Return how much of what was typed stands in a title; a little more where little else stands there."""
    if not rare:
        return 0.0
    whole = sum(rare.values())
    found = sum(
        weight * max((like for other, like in meant[word].items() if other in title), default=0.0)
        for word, weight in rare.items()
    )
    matched = {other for word in rare for other in meant[word] if other in title}
    share = sum(spread[word] for word in matched) / sum(spread[word] for word in title) if title else 0.0
    return ((1 - TITLE_SHARE) * found + TITLE_SHARE * share * found) / whole
