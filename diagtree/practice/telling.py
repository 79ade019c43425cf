"""The debrief in words: what it was, the points, the ways, what each check was worth, what was missed and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from diagtree.clean import clean
from diagtree.library.library import Library
from diagtree.lines import pad, wrap
from diagtree.practice.debrief import Debrief, Missed, Way, Worth
from diagtree.practice.history import Game, History, most_missed
from diagtree.practice.play import Play, Told
from diagtree.practice.progress import plot_text, running_mean
from diagtree.practice.score import FAULT, TIME, WORK
from diagtree.reasoning.belief import Belief
from diagtree.reasoning.why import Weight, in_words, out_of_100, says

Kind = Literal["title", "heading", "text", "quiet", "strong", "gap"]

MOST_WEIGHTS = 4
BESIDE = 72
"""From this width on the two ways stand side by side."""


@dataclass(frozen=True, slots=True)
class Said:
    """One text of the debrief; ``rows`` are laid out already, so they are not to be wrapped."""

    kind: Kind
    text: str = ""
    rows: tuple[str, ...] = ()


def figure(value: float) -> str:
    """Write a figure with at most two decimals.

    Examples
    --------
    >>> figure(7.0), figure(0.25), figure(0.5), figure(100.0)
    ('7', '0.25', '0.5', '100')
    """
    return f"{value:.2f}".rstrip("0").rstrip(".")


def minutes(value: float) -> str:
    """Say minutes.

    Examples
    --------
    >>> minutes(1), minutes(4.5), minutes(0)
    ('1 minute', '4.5 minutes', 'no minutes')
    """
    if value == 0:
        return "no minutes"
    return "1 minute" if value == 1 else f"{figure(value)} minutes"


def ended(text: str) -> str:
    """End a text as a sentence ends.

    Examples
    --------
    >>> ended("It hums"), ended("Is it dry?")
    ('It hums.', 'Is it dry?')
    """
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."


def tell(play: Play, end: Debrief, width: int = 78) -> list[Said]:
    """Tell the debrief.

    Parameters
    ----------
    play
        The machine.
    end
        Its debrief.
    width
        Cells in a line: the two ways stand side by side where there is room.

    Returns
    -------
    list of Said
        In the order of reading.
    """
    said: list[Said] = []
    for one in end.results:
        said += _outcome(play, one)
    said.append(Said("strong", points(end)))
    said.append(Said("text", _minutes(end)))
    said += _ways(play, end, width)
    if end.worths:
        said += [Said("gap"), Said("heading", "What each check was worth")]
        said += [line for number, worth in enumerate(end.worths, 1) for line in _worth(play, worth, number)]
    for one in end.results:
        if not one.verdict.right or not one.verdict.reasoned:
            said += [Said("gap"), *_missed(play, one)]
    if play.told:
        said += [Said("gap"), Said("heading", "How tight, and what goes in"), *map(_work, play.told)]
    return said


def _title(play: Play, cause: str) -> str:
    return play.library.causes[cause].title


def _outcome(play: Play, one: Missed) -> Iterator[Said]:
    if len(play.machine.complaints) > 1:
        yield Said("quiet", play.library.trees[one.symptom].title)
    yield Said("title", f"It was: {_title(play, one.true)}.")
    if one.verdict.right and one.verdict.reasoned:
        yield Said("text", f"You named it, and the answers had proved it: {out_of_100(one.true_chance)}.")
    elif one.verdict.right:
        yield Said(
            "text",
            f"You named it before it was proved: the answers made it {out_of_100(one.true_chance)}. "
            "Next time it may be another one.",
        )
    elif not one.named:
        yield Said("text", "You gave up.")
    elif one.verdict.reasoned:
        yield Said(
            "text",
            f"You named: {_title(play, one.named)}. The answers spoke for it, {out_of_100(one.named_chance)}, "
            "but they misled. Half the points for the fault count.",
        )
    else:
        yield Said("text", f"You named: {_title(play, one.named)}.")


def points(end: Debrief) -> str:
    """Say the points and what they are made of."""
    parts = [
        f"fault {figure(end.score.fault)} of {FAULT:.0f}",
        f"time {figure(end.score.time)} of {TIME:.0f}",
    ]
    if end.score.work is not None:
        parts.append(f"work {figure(end.score.work)} of {WORK:.0f}")
    return f"Points: {end.score.total} of 100 ({', '.join(parts)})."


def _minutes(end: Debrief) -> str:
    least = (
        f"The least possible, seen from behind: {minutes(end.least.minutes)}."
        if end.least is not None
        else "No checks would have proved it: the answers mislead too much."
    )
    return (
        f"You took {minutes(end.minutes)}. {least} "
        f"The shortest order, not knowing what it was: {minutes(end.engine.minutes)}."
    )


def _ways(play: Play, end: Debrief, width: int) -> Iterator[Said]:
    mine = [f"{number}. {worth.ask} {ended(worth.says)}" for number, worth in enumerate(end.worths, 1)]
    mine = mine or ["No check at all."]
    best = end.least if end.least is not None else end.engine
    other = _steps(play, best) or ["No check: the looks alone prove it."]
    heads = (
        f"Your way: {minutes(end.minutes)}",
        f"{'The best way' if end.least is not None else 'The shortest order'}: {minutes(best.minutes)}",
    )
    yield Said("gap")
    if width >= BESIDE:
        half = (width - 3) // 2
        yield Said("heading", f"{pad(heads[0], half)}   {heads[1]}")
        yield Said("text", "", tuple(_beside(mine, other, half)))
    else:
        for head, way in zip(heads, (mine, other), strict=True):
            yield Said("heading", head)
            yield from (Said("text", line) for line in way)
    if end.least is not None and set(end.engine.steps) != set(best.steps):
        yield Said("gap")
        yield Said("heading", f"The shortest order, not knowing: {minutes(end.engine.minutes)}")
        yield from (Said("text", line) for line in _steps(play, end.engine))
        named = ", ".join(_title(play, cause) for _, cause in end.engine_named)
        yield Said("quiet", f"It would have named: {named}.")


def _steps(play: Play, way: Way) -> list[str]:
    trees = play.library.trees
    return [
        f"{number}. {trees[symptom].checks[check].ask} {ended(answer)}"
        for number, ((symptom, check), answer) in enumerate(zip(way.steps, way.answers, strict=True), 1)
    ]


def _beside(left: Iterable[str], right: Iterable[str], half: int) -> Iterator[str]:
    one = [row for text in left for row in _hung(text, half)]
    two = [row for text in right for row in _hung(text, half)]
    for place in range(max(len(one), len(two))):
        first = one[place] if place < len(one) else ""
        second = two[place] if place < len(two) else ""
        yield f"{pad(first, half)} | {second}".rstrip()


def _hung(text: str, width: int) -> list[str]:
    """Break a numbered text; its later rows stand under its first word."""
    number, dot, rest = text.partition(". ")
    if not dot or not number.isdecimal():
        return wrap(text, width)
    lead = f"{number}. "
    rows = wrap(rest, width - len(lead))
    return [lead + rows[0], *(" " * len(lead) + row for row in rows[1:])]


def _worth(play: Play, worth: Worth, number: int) -> Iterator[Said]:
    yield Said("text", f"{number}. {worth.ask} {ended(worth.says)}")
    share = min(1.0, worth.bits / worth.open_before) if worth.open_before > 1e-9 else 0.0
    true = play.machine.causes[worth.symptom]
    text = (
        f"{minutes(worth.minutes).capitalize()}. Worth {worth.bits:.2f} bits, {out_of_100(share)} of what was "
        f"open. {_title(play, true)}: {_from_to(worth.true_before, worth.true_after)}."
    )
    if worth.leader != true:
        text += f" First then: {_title(play, worth.leader)}, {out_of_100(worth.leader_chance)}."
    if worth.misled:
        text += " This answer misled."
    yield Said("quiet", text)


def _from_to(before: float, after: float) -> str:
    one, two = out_of_100(before), out_of_100(after)
    return f"stays {two}" if one == two else f"{one.removesuffix(' in 100')} to {two}"


def _missed(play: Play, one: Missed) -> Iterator[Said]:
    true = _title(play, one.true)
    if one.verdict.right:
        yield Said("heading", f"What was known when you named: {true}")
    else:
        yield Said("heading", f"Missed: {true}")
        yield Said("quiet", play.library.causes[one.true].why)
        tell_tale = play.library.causes[one.true].tell
        if tell_tale:
            yield Said("quiet", f"Tell-tale sign: {tell_tale}")
    yield Said("text", f"{true}: {out_of_100(one.true_chance)} by what you knew.")
    belief = play.believed(play.guesses[one.symptom].evidence)
    yield from _weights(belief, one.true_weights)
    if one.named and not one.verdict.right:
        yield Said("text", f"{_title(play, one.named)}: {out_of_100(one.named_chance)} by what you knew.")
        yield from _weights(belief, one.named_weights)
    if one.settle is not None:
        symptom, check = one.settle
        entry = play.library.trees[symptom].checks[check]
        answer = ended(entry.answers[play.machine.answers[one.settle]].says)
        yield Said(
            "text", f"What would have told most then ({one.settle_bits:.2f} bits): {entry.ask} Here: {answer}"
        )


def _weights(belief: Belief, weights: tuple[Weight, ...]) -> Iterator[Said]:
    for weight in weights[:MOST_WEIGHTS]:
        yield Said("quiet", f"{ended(says(belief, weight.told))} It {in_words(weight.decibans)}.")
    if not weights:
        yield Said("quiet", "No look and no answer spoke for it or against it.")


def _work(told: Told) -> Said:
    given = f"You said {told.given}" if told.given else "You passed it over"
    right = "right" if told.right else "wrong" if told.given else "not counted as right"
    basis = f" Basis: {told.quiz.basis}." if told.quiz.basis else ""
    return Said("text", f"{told.quiz.ask} {given}: {right}. It is {told.quiz.right}.{basis}")


def tell_history(history: History, library: Library, fine: bool = True, width: int = 78) -> list[str]:
    """Tell what a learner has practised: the latest machines, a plot, what was missed most.

    Parameters
    ----------
    history
        The history.
    library
        Where causes have their titles; one that is gone is called by its name.
    fine
        True where block letters can be written.
    width
        Cells.
    """
    points = [game.points or 0 for game in history.finished]
    count = len(points)
    lines = [
        clean(f"{history.learner}: {count} {'machine' if count == 1 else 'machines'} found out or tried.")
    ]
    if history.left is not None:
        lines.append("One was left before its end: diagtree practise goes on with it.")
    if not points:
        return lines
    lines[0] += f" Mean of the last five: {running_mean(points)[-1]:.0f} points."
    lines += ["", *plot_text(points, width, 12, fine), "", "The latest"]
    lines += [clean(_one_game(game)) for game in history.finished[-10:]]
    missed = most_missed(history.finished)
    if missed:
        lines += ["", "Missed most"]
        for cause, times, met in missed:
            title = library.causes[cause].title if cause in library.causes else cause
            lines.append(clean(f"  {title}: missed {times} of {met}"))
    return lines


def _one_game(game: Game) -> str:
    ended = game.finished or {}
    least = ended.get("least")
    possible = f", least {figure(least)}" if isinstance(least, (int, float)) else ""
    took = ended.get("minutes", 0)
    spent = figure(took) if isinstance(took, (int, float)) else "?"
    return (
        f"  {game.began[:10]}  {game.points:3d} points  {spent} min{possible}  {game.level}, seed {game.seed}: "
        f"{', '.join(game.complaints)}"
    )
