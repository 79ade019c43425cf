"""The result of one machine as plain values, for programs."""

from __future__ import annotations

from typing import Any

from diagtree.practice.debrief import Debrief, Way
from diagtree.practice.history import Game, History, most_missed
from diagtree.practice.play import Play
from diagtree.practice.progress import running_mean

SCHEMA = 1


def result_of(play: Play, end: Debrief | None, learner: str) -> dict[str, Any]:
    """Return one machine as plain values; the hidden part only once it is at its end.

    Parameters
    ----------
    play
        The machine.
    end
        Its debrief; None if it was left before its end.
    learner
        Who practised.
    """
    machine = play.machine
    result: dict[str, Any] = {
        "schema": SCHEMA,
        "learner": learner,
        "level": machine.level.name,
        "seed": machine.seed,
        "complaints": list(machine.complaints),
        "looks": dict(machine.looks),
        "finished": end is not None,
        "minutes": play.minutes,
        "checks": [
            {"complaint": step.symptom, "check": step.check, "answer": step.answer, "minutes": step.minutes}
            for step in play.steps
        ],
    }
    if end is None:
        return result
    for entry, worth in zip(result["checks"], end.worths, strict=True):
        entry |= {
            "bits": round(worth.bits, 6),
            "true_before": round(worth.true_before, 6),
            "true_after": round(worth.true_after, 6),
            "misled": worth.misled,
        }
    return result | {
        "causes": [
            {
                "complaint": one.symptom,
                "cause": one.true,
                "named": one.named or None,
                "right": one.verdict.right,
                "proved": one.verdict.reasoned,
                "chance_when_named": round(one.named_chance, 6),
            }
            for one in end.results
        ],
        "least": _way(end.least) if end.least is not None else None,
        "shortest": _way(end.engine),
        "work": [
            {
                "kind": told.quiz.kind,
                "about": told.quiz.about,
                "asked": told.quiz.ask,
                "given": told.given or None,
                "right": told.right,
                "answer": told.quiz.right,
            }
            for told in play.told
        ],
        "points": {
            "fault": round(end.score.fault, 6),
            "time": round(end.score.time, 6),
            "work": None if end.score.work is None else round(end.score.work, 6),
            "total": end.score.total,
        },
    }


def _way(way: Way) -> dict[str, Any]:
    return {
        "minutes": way.minutes,
        "checks": [{"complaint": symptom, "check": check} for symptom, check in way.steps],
    }


def history_result(history: History) -> dict[str, Any]:
    """Return a history as plain values."""
    points = [game.points or 0 for game in history.finished]
    return {
        "schema": SCHEMA,
        "learner": history.learner,
        "machines": [_game(game) for game in history.games],
        "mean_of_last_five": [round(mean, 6) for mean in running_mean(points)],
        "most_missed": [
            {"cause": cause, "missed": missed, "met": met}
            for cause, missed, met in most_missed(history.finished)
        ],
    }


def _game(game: Game) -> dict[str, Any]:
    ended = game.finished or {}
    return {
        "began": game.began,
        "level": game.level,
        "seed": game.seed,
        "complaints": list(game.complaints),
        "finished": game.finished is not None,
        "points": game.points,
        "minutes": ended.get("minutes"),
        "least": ended.get("least"),
        "causes": ended.get("causes"),
        "named": ended.get("named"),
    }
