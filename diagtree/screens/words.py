"""Texts that the screen and the line mode share: what is likely, why a question, why a cause."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from diagtree.case.change import ordinal, out_of_100
from diagtree.case.events import DONE, Tightened
from diagtree.screens.likeness import alike
from diagtree.units import plain

if TYPE_CHECKING:
    from diagtree.case.question import Question
    from diagtree.case.walker import Walker
    from diagtree.library.library import Library
    from diagtree.reasoning.asking import Costs
    from diagtree.reasoning.belief import Belief

NEXT_REPAIRS = 2
"""So many repairs are named that come after the first."""

LEAST_LETTERS = 3
"""Fewer letters than this stand in too many answers to mean one."""


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
        Symptoms, the best match first; only one where its own name or title was typed.
    """
    names = {
        symptom: (tree.title, symptom.replace("-", " "), *tree.also_called)
        for symptom, tree in library.trees.items()
    }
    said = " ".join(text.casefold().split())
    exact = [symptom for symptom, (title, *_) in names.items() if said in {symptom, title.casefold()}]
    return exact if len(exact) == 1 else alike(names, text)


def meant(answers: Mapping[str, str], said: str) -> list[str]:
    """Tell which answers were meant by words: the one so called, else those in which these whole words stand.

    A bare yes or no is only taken for an answer that says it: "no" is no part of "one that does not match".

    Parameters
    ----------
    answers
        What each answer says, by its name.
    said
        What was typed.

    Examples
    --------
    >>> answers = {"sound": "Sound", "odd": "Rounded, or one that does not match", "none": "No bolts on it"}
    >>> meant(answers, "rounded"), meant(answers, "does not match"), meant(answers, "sou")
    (['odd'], ['odd'], [])
    >>> meant(answers, "no"), meant({"a": "Yes, hot", "b": "No, cold"}, "no")
    ([], ['b'])
    """
    low = " ".join(said.casefold().split())
    titles = {name: " ".join(says.casefold().split()) for name, says in answers.items()}
    exact = [name for name, title in titles.items() if low in {title, name.casefold()}]
    if exact:
        return exact
    if low in {"yes", "no"}:
        says_it = re.compile(rf"{low}\s*[,.;:]")
        return [name for name, title in titles.items() if says_it.match(title)]
    if len(low) < LEAST_LETTERS:
        return []
    whole = re.compile(rf"(?<!\w){re.escape(low)}(?!\w)")
    return [name for name, title in titles.items() if whole.search(title)]


def can_be_wished(library: Library) -> dict[str, str]:
    """Tell what a customer can want besides: the titles of all remedies, then of jobs that are called otherwise.

    A job that shares its name with a remedy is that remedy's: wished for by that name, the remedy is done.
    """
    titles = {name: remedy.title for name, remedy in library.remedies.items()}
    called = {title.casefold() for title in titles.values()}
    return titles | {
        name: job.title
        for name, job in library.jobs.items()
        if name not in titles and job.title.casefold() not in called
    }


def sentence(text: str) -> str:
    """End a text as a sentence ends.

    Examples
    --------
    >>> sentence("It hums"), sentence("Is it dry?"), sentence("Dry.")
    ('It hums.', 'Is it dry?', 'Dry.')
    """
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."


def as_done(made: Tightened) -> str:
    """Say how tight a fastener was made, to two decimals: no wrench reads finer.

    Examples
    --------
    >>> as_done(Tightened("", "fuse", "5.2")), as_done(Tightened("", "fuse", DONE))
    ('done: 5.2 N·m', 'done')
    >>> as_done(Tightened("", "fuse", "4.971330911"))
    'done: 4.97 N·m'
    """
    return "done" if made.value == DONE else f"done: {plain(round(Decimal(made.value), 2))} N·m"


def minutes_in_words(minutes: float) -> str:
    """Say how long something takes.

    Examples
    --------
    >>> minutes_in_words(1), minutes_in_words(0.5), minutes_in_words(3), minutes_in_words(0)
    ('1 minute', 'half a minute', '3 minutes', 'no time')
    >>> minutes_in_words(0.2), minutes_in_words(0.05)
    ('10 seconds', '5 seconds')
    """
    if minutes == 0:
        return "no time"
    if minutes == 0.5:
        return "half a minute"
    if minutes < 1:
        return f"{max(5 * round(12 * minutes), 5)} seconds"
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
    """Say how the machine seems to have lived: each condition, and the two answers that moved it most."""
    belief = walker.view.belief_if_any
    if belief is None:
        return []
    from diagtree.reasoning.why import says, what_moved

    said = []
    for moved in what_moved(belief):
        condition = walker.library.conditions[moved.condition]
        state = condition.states[moved.state].says
        text = f"{condition.title}: {state}, {out_of_100(moved.chance)}."
        if moved.weights:
            text += f" Moved most by: {sentence(says(belief, moved.weights[0].told))}"
        if len(moved.weights) > 1:
            text += f" Next by: {sentence(says(belief, moved.weights[1].told))}"
        said.append(text)
    return said


def why_question(walker: Walker, question: Question, costs: Costs | None = None) -> list[str]:
    """Say what a question would settle and how it could change the plan.

    Each answer is told with how likely it is, which cause would then come first and, where ``costs`` are
    known, which repair one would then start with.
    """
    library = walker.library
    said = [question.why_now] if question.why_now else []
    if question.place.is_look:
        look = library.looks[question.name]
        condition = library.conditions.get(look.speaks_of)
        title = condition.title.lower() if condition else look.speaks_of
        said.append(f"It speaks of one side of how the {library.machine.one} has lived: {title}.")
        return said
    belief = walker.view.belief_before(question.place)
    if belief is None:
        return [*said, "Nothing can be worked out for this draft yet: see diagtree proofread."]
    from diagtree.reasoning.why import why_ask

    why = why_ask(belief, question.symptom, question.name, costs)
    share = min(1.0, why.bits / why.open_bits) if why.open_bits > 0 else 0.0
    said.append(f"It settles {out_of_100(share)} of what is still open about the cause.")
    titles = {choice.name: choice.says for choice in question.answers}
    for each in why.answers:
        text = (
            f"'{titles[each.answer]}' is likely {out_of_100(each.chance)}. "
            f"Then first: {library.causes[each.leader].title}, {out_of_100(each.leader_chance)}."
        )
        if each.start is not None:
            text += f" Start with: {library.remedies[each.start].title}."
        said.append(text)
    if costs is not None and why.start is not None:
        said.append(_repairs_in_order(belief, costs, question.symptom))
    if not any(each.changes for each in why.answers):
        said.append("No answer would change what comes first.")
    return said


def _repairs_in_order(belief: Belief, costs: Costs, symptom: str) -> str:
    """Say which repair one would start with, what comes next if it fails, and whether every order was compared."""
    from diagtree.reasoning.asking import repairs_for, try_in_order

    repairs = repairs_for(belief, costs, symptom)
    plan = try_in_order(repairs)
    first, *rest = (belief.model.library.remedies[name].title for name in plan.names)
    text = f"To start with as things stand: {first}."
    if rest:
        text += f" If that does not help: {'; then: '.join(rest[:NEXT_REPAIRS])}."
    if rest and not plan.exact:
        text += (
            f" There are {len(repairs.actions)} repairs, too many to compare every order: "
            "what helps most for its price comes first."
        )
    return text


def why_cause(walker: Walker, cause: str) -> list[str]:
    """Say what speaks for and against a cause, answer by answer, the strongest first."""
    library = walker.library
    entry = library.causes[cause]
    belief = walker.view.belief_if_any
    if belief is None:
        return [entry.title, entry.why]
    from diagtree.reasoning.why import in_words, says
    from diagtree.reasoning.why import why_cause as weigh

    behind = [symptom for symptom in belief.model.complaints if cause in belief.behind(symptom)]
    if behind:
        symptom = max(behind, key=lambda each: belief.behind(each)[cause])
        chance, where = belief.behind(symptom)[cause], f"to be behind '{library.trees[symptom].title}'"
    else:
        symptom, chance, where = None, belief.present[cause], f"to be on the {library.machine.one}"
    said = [f"{entry.title}: {out_of_100(chance)} {where}.", entry.why]
    if entry.tell:
        said.append(f"Tell-tale sign: {entry.tell}")
    weights = weigh(belief, cause, symptom)
    for each in weights:
        side = "for it" if each.decibans > 0 else "against it"
        strength = in_words(each.decibans).replace(f" {side}", "")
        said.append(f"{side.capitalize()}: {sentence(says(belief, each.told))} It {strength}.")
    if not weights:
        said.append("No answer so far speaks for it or against it.")
    return said
