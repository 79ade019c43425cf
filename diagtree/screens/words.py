"""Texts that the screen and the line mode share: what is likely, why a question, why a cause."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from diagtree.case.change import ordinal, out_of_100

if TYPE_CHECKING:
    from diagtree.case.question import Question
    from diagtree.case.walker import Walker
    from diagtree.library.library import Library

ALIKE = 62.0
"""How alike a title must be to what was typed, out of 100."""

_STIRRED = 0.002


def sounding_like(library: Library, text: str) -> list[str]:
    """Find complaints by what a customer says, over their titles and their other names.

    Parameters
    ----------
    library
        Where the complaints are.
    text
        What was typed; nothing at all gives every complaint in the library's order.

    Returns
    -------
    list of str
        Symptoms, the best match first; only one where it was named exactly.
    """
    names = {
        symptom: (tree.title, symptom.replace("-", " "), *tree.also_called)
        for symptom, tree in library.trees.items()
    }
    said = " ".join(text.casefold().split())
    exact = [symptom for symptom, titles in names.items() if said in {symptom, *map(str.casefold, titles)}]
    return exact if len(exact) == 1 else alike(names, text)


def alike(names: Mapping[str, Sequence[str]], text: str) -> list[str]:
    """Find names by what they are called, the best match first; of two alike the earlier one.

    Examples
    --------
    >>> alike({"no-heat": ["The water stays cold", "dead"], "leaks": ["Water on the table"]}, "is dead")
    ['no-heat']
    >>> alike({"b": ["B"], "a": ["A"]}, "")
    ['b', 'a']
    """
    said = " ".join(text.casefold().split())
    if not said:
        return list(names)
    from rapidfuzz import fuzz

    def likeness(title: str) -> float:
        if said in title or (len(title) >= 4 and title in said):
            return 100.0
        return fuzz.WRatio(said, title)

    scored = []
    for place, (name, titles) in enumerate(names.items()):
        spelt = [" ".join(title.casefold().split()) for title in titles]
        best = max(map(likeness, spelt))
        if best >= ALIKE:
            scored.append((-best, place, name))
    return [name for _, _, name in sorted(scored)]


def sentence(text: str) -> str:
    """End a text as a sentence ends.

    Examples
    --------
    >>> sentence("It hums"), sentence("Is it dry?"), sentence("Dry.")
    ('It hums.', 'Is it dry?', 'Dry.')
    """
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."


def minutes_in_words(minutes: float) -> str:
    """Say how long something takes.

    Examples
    --------
    >>> minutes_in_words(1), minutes_in_words(0.5), minutes_in_words(3), minutes_in_words(0)
    ('1 minute', 'half a minute', '3 minutes', 'no time')
    """
    if minutes == 0:
        return "no time"
    if minutes == 0.5:
        return "half a minute"
    return "1 minute" if minutes == 1 else f"{minutes:g} minutes"


def likely_now(walker: Walker, most: int = 3) -> str:
    """Say in one sentence what is likeliest now; empty where nothing is known.

    The sentence reads ``Likely now: 1st Scale on the element, 55 in 100; 2nd Fuse blown, 20 in 100.``
    """
    causes = walker.library.causes
    ranked = [
        f"{ordinal(place)} {causes[cause].title}, {out_of_100(chance)}"
        for place, (cause, chance) in enumerate(walker.ranking[:most], 1)
    ]
    return f"Likely now: {'; '.join(ranked)}." if ranked else ""


def picture(walker: Walker) -> list[str]:
    """Say how the machine seems to have lived: each condition with its likeliest state."""
    belief = walker.view.belief_if_any
    if belief is None:
        return []
    said = []
    for name, chances in belief.picture.items():
        condition = walker.library.conditions[name]
        state = max(chances, key=lambda each: chances[each])
        said.append(f"{condition.title}: {condition.states[state].says}, {out_of_100(chances[state])}.")
    return said


def why_question(walker: Walker, question: Question) -> list[str]:
    """Say what a question would settle: how likely each answer is, and what would then come first."""
    library = walker.library
    said = [question.why_now] if question.why_now else []
    if question.place.is_look:
        look = library.looks[question.name]
        condition = library.conditions.get(look.speaks_of)
        title = condition.title.lower() if condition else look.speaks_of
        said.append(f"It speaks of one side of how the {library.machine.one} has lived: {title}.")
        return said
    belief = walker.view.belief_if_any
    if belief is None:
        return [*said, "Nothing can be worked out for this draft yet: see diagtree proofread."]
    chances = belief.predict(question.symptom, question.name)
    for choice in question.answers:
        then = walker.view.memory.belief(
            walker.evidence.with_answer(question.symptom, question.name, choice.name)
        )
        cause, chance = then.ranking(question.symptom)[0]
        said.append(
            f"'{choice.says}' is likely {out_of_100(chances[choice.name])}. "
            f"Then first: {library.causes[cause].title}, {out_of_100(chance)}."
        )
    return said


def why_cause(walker: Walker, cause: str) -> list[str]:
    """Say what speaks for and against a cause, answer by answer, the strongest first."""
    library = walker.library
    entry = library.causes[cause]
    belief = walker.view.belief_if_any
    if belief is None:
        return [entry.title, entry.why]
    asked = cause in belief.model.asked
    chance = belief.behind_any[cause] if asked else belief.present[cause]
    where = "to be behind it" if asked else f"to be on the {library.machine.one}"
    said = [f"{entry.title}: {out_of_100(chance)} {where}.", entry.why]
    if entry.tell:
        said.append(f"Tell-tale sign: {entry.tell}")
    moves = []
    for step in walker.way:
        if step.answer is None:
            continue
        place = step.place
        less = (
            walker.evidence.without_look(place.name)
            if place.is_look
            else walker.evidence.without_answer(place.symptom, place.name)
        )
        other = walker.view.memory.belief(less)
        without = other.behind_any[cause] if asked else other.present[cause]
        moves.append((chance - without, f"{step.asked} {sentence(step.says)}", without))
    moves.sort(key=lambda move: -abs(move[0]))
    for move, told, without in moves:
        if abs(move) >= _STIRRED:
            side = "For it" if move > 0 else "Against it"
            said.append(f"{side}: {told} Without that answer: {out_of_100(without)}.")
    if not any(abs(move) >= _STIRRED for move, _, _ in moves):
        said.append("No answer so far speaks much for it or against it.")
    return said
