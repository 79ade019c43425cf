"""Which of several things is meant, in line mode: by its name, by its words, or by asking."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Mapping

from diagtree.screens.likeness import alike
from diagtree.screens.line_talk import Talk
from diagtree.screens.line_words import understand

MOST = 12
"""So many are offered to choose from."""


def which(
    talk: Talk, titles: Mapping[str, str], said: str, kind: str, rather: Collection[str] = ()
) -> str | None:
    r"""Find the one that is meant; where several sound like it, ask.

    Parameters
    ----------
    talk
        The person.
    titles
        What there is to choose from, by full name.
    said
        What was typed: a name, a title, or words of it.
    kind
        What it is: ``job``.
    rather
        Names that are meant rather than others, unless another one is named exactly.

    Returns
    -------
    str or None
        None if nothing was meant; then it has been said. What only sounds like the words is never taken unasked.

    Examples
    --------
    >>> import io
    >>> talk = Talk(io.StringIO("2\n"), io.StringIO())
    >>> jobs = {"kettle/fuse": "Swap the fuse", "kettle/flex": "Swap the flex"}
    >>> which(talk, jobs, "fuse", "job"), which(talk, jobs, "swap", "job")
    ('kettle/fuse', 'kettle/flex')
    """
    if not said:
        talk.say(f"Which {kind}? Type its name after the word.")
        return None
    low = said.casefold()
    exact = [
        name for name, title in titles.items() if low in {title.casefold(), name, name.partition("/")[2]}
    ]
    near = exact or alike({name: (title,) for name, title in titles.items()}, said)
    holding = [name for name in near if exact or low in titles[name].casefold()]
    # What only sounds like the words is no better known for being asked about: then all of it is offered.
    near = [name for name in holding if name in rather] or holding or near
    if not near:
        talk.say(f"No {kind} sounds like '{said}'.")
        return None
    # What only sounds like it is asked about even when it is alone: a torque may be entered on it.
    if len(near) == 1 and holding:
        return near[0]
    near = near[:MOST]
    alone = Counter(titles[name] for name in near)
    shown = {
        name: titles[name] + (f" ({name.partition('/')[0]})" if alone[titles[name]] > 1 else "")
        for name in near
    }
    return _one_of(talk, shown)


def _one_of(talk: Talk, shown: Mapping[str, str]) -> str | None:
    """Ask until one of those that are shown is picked, or nothing is wanted of them.

    What is picked here is entered at once: only a number or words that stand there may pick, never likeness.
    """
    while True:
        names = list(shown)
        talk.say("Which of these? Type its number, or Enter for none.")
        talk.say_choices((str(place), shown[name]) for place, name in enumerate(names, 1))
        picked: list[str] = []
        while not picked:
            answer = talk.ask("which> ")
            whole = [name for name in names if answer and shown[name].casefold() == answer.casefold()]
            if len(whole) == 1:
                # A title typed in full is that title, even where its first word is a command.
                return whole[0]
            verb = understand(answer).verb if answer else "quit"
            if not answer or verb:
                talk.say("Nothing entered.")
                talk.say(*([] if verb == "quit" else [f"Now type it again: {answer}"]))
                return None
            picked = _picked(shown, answer)
            if not picked:
                number = answer.isdecimal()
                wrong = (
                    f"There is no {answer} among them." if number else f"'{answer}' stands in none of these."
                )
                talk.say(f"{wrong} Type a number from the list, or Enter for none.")
        if len(picked) == 1:
            return picked[0]
        shown = {name: shown[name] for name in picked}


def _picked(shown: Mapping[str, str], answer: str) -> list[str]:
    """Find the one with a number, or all in whose titles every word stands exactly."""
    if answer.isdecimal():
        number = int(answer) if len(answer) < 4 else 0
        return list(shown)[number - 1 : number] if number else []
    words = _words(answer)
    return [name for name, title in shown.items() if words and words <= _words(title)]


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"[^\W_]+", text.casefold()))
