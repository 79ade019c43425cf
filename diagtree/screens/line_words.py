"""What can be typed in line mode, told apart from answers; and the help."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed.

    Parameters
    ----------
    verb
        What is wanted; an empty text if it is an answer.
    rest
        What follows the verb, or the whole line of an answer.
    """

    verb: str
    rest: str = ""


_VERBS = {
    "back": ("back", "b"),
    "forward": ("forward", "on"),
    "why": ("why", "w"),
    "help": ("help", "?", "h"),
    "note": ("note", "n"),
    "tell": ("can't tell", "cant tell", "cannot tell", "can’t tell", "cannot-tell", "don't know", "t"),
    "jump": ("jump", "j"),
    "way": ("way", "so far"),
    "order": ("order", "o"),
    "likely": ("likely", "ranking", "r"),
    "picture": ("picture", "p"),
    "again": ("again", "repeat"),
    "complaints": ("complaints", "complaint"),
    "label": ("label",),
    "finish": ("finish", "f"),
    "stop": ("stop", "stop asking"),
    "ask on": ("ask on",),
    "choose": ("choose", "c"),
    "found": ("found",),
    "not": ("not found", "not"),
    "unfound": ("unfound",),
    "done": ("done",),
    "undone": ("undone", "not done"),
    "torque": ("torque",),
    "untorque": ("untorque",),
    "instead": ("instead",),
    "figures": ("figures",),
    "wish": ("wish", "wishes"),
    "unwish": ("unwish",),
    "scope": ("scope",),
    "agree": ("agree", "agreed"),
    "hand over": ("hand over", "handover"),
    "quit": ("quit", "q", "exit", "bye"),
}
_BY_SPELLING = sorted(
    ((spelling, verb) for verb, spellings in _VERBS.items() for spelling in spellings),
    key=lambda pair: -len(pair[0]),
)
_ALONE = {"back", "forward", "tell", "way", "likely", "picture", "again", "finish", "stop", "ask on", "quit"}
"""Verbs that take nothing after them: with more words it is something else."""


def understand(line: str) -> Typed:
    """Tell what a line wants.

    Examples
    --------
    >>> understand("note smells burnt"), understand("2"), understand("Can't tell")
    (Typed(verb='note', rest='smells burnt'), Typed(verb='', rest='2'), Typed(verb='tell', rest=''))
    >>> understand("why scale"), understand("?"), understand("back to front")
    (Typed(verb='why', rest='scale'), Typed(verb='help', rest=''), Typed(verb='', rest='back to front'))
    """
    said = " ".join(line.split())
    low = said.casefold()
    for spelling, verb in _BY_SPELLING:
        if low == spelling:
            return Typed(verb)
        if low.startswith(spelling + " ") and verb not in _ALONE:
            return Typed(verb, said[len(spelling) + 1 :])
    return Typed("", said)


HELP = (
    ("1, 2 ...", "give that answer; its words do as well"),
    ("t", "can't tell: nothing is concluded from it"),
    ("back", "go back one question, as often as you like; Enter keeps the old answer"),
    ("jump N", "go to question N of the way so far; jump alone lists them"),
    ("why", "why this question; why CAUSE says what speaks for a cause and against it"),
    ("likely", "all causes with their chances"),
    ("picture", "how the machine seems to have lived"),
    ("note TEXT", "make a note"),
    ("order", "change between the author's order and the shortest"),
    ("complaints", "add or drop a complaint"),
    ("label TEXT", "say which machine it is"),
    ("again", "put the question again"),
    ("stop", "ask nothing more about this complaint; ask on takes the questions up again"),
    ("finish", "end all questions and go to the work"),
    ("quit", "leave; everything is saved"),
)
"""While questions are put."""

END_HELP = (
    ("Enter", "done: on to the job sheet"),
    ("back", "go back to the last question; jump N to any"),
    ("ask on", "take the questions up again"),
    ("found CAUSE", "enter what you saw with the machine open"),
    ("not CAUSE", "enter that a cause is not there; unfound CAUSE takes either back"),
    ("instead REMEDY", "choose another remedy; figures REMEDY takes the choice back"),
    ("wish REMEDY", "the customer wants that done too; unwish REMEDY takes it back"),
    ("done JOB", "tick a job off, by its name or its number; undone JOB takes it back"),
    (
        "torque FASTENER VALUE",
        "enter a torque as done, in N·m; done where no torque rules; untorque takes it back",
    ),
    ("scope", "how much is to be done: roadworthy, service or full"),
    ("agree PRICE", "enter the price that the customer agreed to"),
    ("hand over NAME", "hand the machine over; NAME is yours"),
    ("why CAUSE", "what speaks for a cause and against it"),
    ("likely", "all causes with their chances"),
    ("note TEXT", "make a note"),
    ("label TEXT", "say which machine it is"),
    ("quit", "leave; everything is saved"),
)
"""When the questions are at their end."""


def help_of(keys: tuple[tuple[str, str], ...], keeps: bool) -> tuple[tuple[str, str], ...]:
    """Say what can be typed; in a trial nothing is said to be saved.

    Examples
    --------
    >>> help_of(HELP, True)[-1], help_of(HELP, False)[-1]
    (('quit', 'leave; everything is saved'), ('quit', 'leave; this is a trial: nothing is kept'))
    >>> help_of(END_HELP, False)[0]
    ('Enter', 'end the trial')
    """
    if keeps:
        return keys
    trial = {"quit": "leave; this is a trial: nothing is kept", "Enter": "end the trial"}
    return tuple((key, trial.get(key, does)) for key, does in keys)
