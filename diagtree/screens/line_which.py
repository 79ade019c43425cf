"""Which of several things is meant, in line mode: by its name, by its words, or by asking."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping

from diagtree.screens.likeness import alike
from diagtree.screens.line_talk import Talk

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
        None if nothing was meant; then it has been said.

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
    if len(near) == 1:
        return near[0]
    near = near[:MOST]
    talk.say("Which of these? Type its number, or Enter for none.")
    alone = Counter(titles[name] for name in near)
    talk.say_choices(
        (str(place), titles[name] + (f" ({name.partition('/')[0]})" if alone[titles[name]] > 1 else ""))
        for place, name in enumerate(near, 1)
    )
    answer = talk.ask("which> ")
    if not answer:
        talk.say("Nothing entered.")
        return None
    if answer.isdecimal():
        if len(answer) < 4 and 1 <= int(answer) <= len(near):
            return near[int(answer) - 1]
        talk.say(f"There is no {answer} among them. Nothing entered.")
        return None
    return which(talk, {name: titles[name] for name in near}, answer, kind)
