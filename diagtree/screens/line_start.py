"""Choosing the complaints in line mode, by what the customer says."""

from __future__ import annotations

from diagtree.case.walker import Walker
from diagtree.screens.line_talk import Talk
from diagtree.screens.words import sounding_like

_SHOWN = 12


def choose_complaints(walker: Walker, talk: Talk) -> bool:
    """Ask what is wrong until at least one complaint is chosen and somebody goes on, or leaves.

    Parameters
    ----------
    walker
        The case; the complaints that it has already are kept unless they are dropped.
    talk
        The person.

    Returns
    -------
    bool
        False if the person left; what was chosen by then is in the case.
    """
    library = walker.library
    taken = list(walker.view.complaints)
    if not library.trees:
        talk.say("There is no tree here at all, so nothing can be asked. See: diagtree proofread")
        return False
    talk.say("", f"What is wrong with the {library.machine.one}? Type what the customer says, or a number.")
    try:
        return _choose(walker, talk, taken)
    finally:
        # Whoever leaves here, by Ctrl-C too, finds again what was chosen.
        if taken and tuple(taken) != walker.view.complaints:
            walker.choose(taken)


def _choose(walker: Walker, talk: Talk, taken: list[str]) -> bool:
    """Let complaints be taken and dropped until somebody goes on or leaves; False for the latter."""
    library = walker.library
    shown = list(library.trees)
    _show(walker, talk, shown, taken)
    while True:
        line = talk.ask()
        if line is None or line.casefold() in {"quit", "q"}:
            return False
        if not line or line.casefold() == "done":
            if taken:
                return True
            talk.say("Choose at least one, by its number or in the customer's words; or quit.")
            continue
        if line == "?":
            talk.say("Several numbers may stand in one line. A number again drops it. Enter goes on.")
            continue
        numbers = line.replace(",", " ").split()
        if all(number.isdecimal() for number in numbers):
            if _toggle(numbers, shown, taken):
                _say_taken(walker, talk, taken)
            else:
                talk.say(f"Type numbers from 1 to {len(shown[:_SHOWN])}.")
            continue
        found = list(library.trees) if line.casefold() == "list" else sounding_like(library, line)
        if not found:
            talk.say(f"Nothing sounds like '{line}'. Say it in other words, or type list to see all.")
            continue
        shown = found
        tree = library.trees[found[0]]
        # What only sounds like it is shown, so that nobody walks a tree that was not meant.
        if len(found) == 1 and line.casefold() in {
            found[0],
            *map(str.casefold, (tree.title, *tree.also_called)),
        }:
            if found[0] not in taken:
                taken.append(found[0])
            _say_taken(walker, talk, taken)
        else:
            _show(walker, talk, shown, taken)


def _show(walker: Walker, talk: Talk, shown: list[str], taken: list[str]) -> None:
    trees = walker.library.trees
    talk.say_choices(
        (str(place), trees[symptom].title + (" (chosen)" if symptom in taken else ""))
        for place, symptom in enumerate(shown[:_SHOWN], 1)
    )
    if len(shown) > _SHOWN:
        talk.say(f"{len(shown) - _SHOWN} more: say it in words to find them.")


def _toggle(numbers: list[str], shown: list[str], taken: list[str]) -> bool:
    places = [int(number) if len(number) < 4 else 0 for number in numbers]
    if not all(1 <= place <= len(shown[:_SHOWN]) for place in places):
        return False
    for place in places:
        symptom = shown[place - 1]
        if symptom in taken:
            taken.remove(symptom)
        else:
            taken.append(symptom)
    return True


def _say_taken(walker: Walker, talk: Talk, taken: list[str]) -> None:
    titles = "; ".join(walker.library.trees[symptom].title for symptom in taken)
    talk.say(f"Chosen: {titles or 'nothing'}. Say another, or press Enter to go on.")
