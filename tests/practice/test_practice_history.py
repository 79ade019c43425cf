"""What was practised is kept, move by move: over kills, torn lines, damage and newer versions."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from diagtree.case.journal import Journal
from diagtree.errors import CannotWriteError, CaseInUseError, DamagedFileError, ExpectedError
from diagtree.practice import history as kept
from diagtree.practice.debrief import debrief
from diagtree.practice.levels import LEVELS
from diagtree.practice.machine import draw_machine
from diagtree.practice.play import Play

KETTLE = Path(__file__).parents[1] / "kettle"
WHEN = "2026-01-02T03:04:05+00:00"


def practise(library, folder, learner="Sam", seed=1, checks=2, end=True):
    machine = draw_machine(library, ["no-heat"], LEVELS["apprentice"], seed)
    with kept.open_history(folder, learner, WHEN) as journal:
        kept.begin(journal, library, machine, True, WHEN)
        play = Play(library, machine, journal, clock=lambda: WHEN)
        for choice in play.choices[:checks]:
            play.check(choice.symptom, choice.check)
        if end:
            play.name("no-heat", play.belief.ranking("no-heat")[0][0])
            while play.question is not None:
                play.answer("")
            ended = debrief(play)
            kept.finish(journal, machine, ended, WHEN)
            return machine, ended
    return machine, None


def test_a_history_tells_each_machine_with_its_points(kettle, tmp_path):
    first, end = practise(kettle, tmp_path, seed=1)
    practise(kettle, tmp_path, seed=2, end=False)
    history = kept.look_up(tmp_path, "sam")
    assert history.learner == "Sam"
    assert [game.seed for game in history.games] == [1, 2]
    assert history.games[0].points == end.score.total
    assert history.games[0].finished["causes"] == first.causes
    assert history.left.seed == 2
    assert history.left.fits(kettle)
    assert len(history.left.moves) == 2
    assert len(history.finished) == 1


def test_after_a_kill_every_move_is_there_and_the_machine_goes_on(kettle, tmp_path):
    talk = subprocess.Popen(
        [sys.executable, "-m", "diagtree", "practise", "no-heat", "--plain", "--seed", "3", "--learner", "kim",
         "--trees", str(KETTLE), "--block", "library", "--block", "whole-bike"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        env={**os.environ, "DIAGTREE_PRACTICE": str(tmp_path)},
    )  # fmt: skip
    talk.stdin.write("1\n2\n")
    talk.stdin.flush()
    deadline = time.monotonic() + 20
    path = kept.path_of(tmp_path, "kim")
    while not path.exists() or path.read_bytes().count(b'"checked"') < 2:
        assert time.monotonic() < deadline, "the moves are not kept"
        time.sleep(0.02)
    talk.send_signal(signal.SIGKILL)
    talk.communicate()
    left = kept.look_up(tmp_path, "kim").left
    machine = draw_machine(kettle, left.complaints, LEVELS[left.level], left.seed)
    with kept.open_history(tmp_path, "kim", WHEN) as journal:
        play = Play(kettle, machine, journal)
        assert play.take_up(list(left.moves))
    assert len(play.steps) == 2
    assert play.minutes > 0


def test_a_torn_last_line_is_dropped_and_a_flipped_bit_is_told(kettle, tmp_path):
    practise(kettle, tmp_path, end=False)
    path = kept.path_of(tmp_path, "Sam")
    whole = path.read_bytes()
    path.write_bytes(whole[:-5])
    assert len(kept.look_up(tmp_path, "Sam").left.moves) == 1
    turned = bytearray(whole)
    turned[len(whole) // 2] ^= 4
    path.write_bytes(turned)
    with pytest.raises(DamagedFileError, match="damaged"):
        kept.look_up(tmp_path, "Sam")
    ((name, trouble),) = kept.learners(tmp_path)
    assert name == "sam"
    assert "damaged" in trouble


def test_a_second_window_is_refused(kettle, tmp_path):
    with (
        kept.open_history(tmp_path, "Sam", WHEN),
        pytest.raises(CaseInUseError, match="is open in another window"),
    ):
        kept.open_history(tmp_path, "Sam", WHEN)


def test_a_file_of_a_newer_version_and_one_that_is_no_history_are_refused_in_words(tmp_path):
    for name, record, words in (
        (
            "new",
            {"kind": "learner", "format": 2, "name": "new", "program": "9.0"},
            r"newer diagtree \(9\.0\)",
        ),
        ("case", {"kind": "opened"}, "is no practice history"),
    ):
        with Journal.create(kept.path_of(tmp_path, name)) as journal:
            journal.append(record)
        with pytest.raises(DamagedFileError, match=words):
            kept.look_up(tmp_path, name)


def test_a_folder_that_cannot_be_written_is_told_before_the_first_check(tmp_path):
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(
        CannotWriteError, match=r"Cannot write .* Choose another folder with DIAGTREE_PRACTICE\."
    ):
        kept.open_history(tmp_path / "file", "Sam", WHEN)


def test_who_has_practised_nothing_is_told_so(tmp_path):
    with pytest.raises(ExpectedError, match="'Alex' has practised nothing yet"):
        kept.look_up(tmp_path, "Alex")
    with pytest.raises(ExpectedError, match="is no name for a learner"):
        kept.path_of(tmp_path, "/..")


def test_learners_of_any_letters_have_files_of_their_own(kettle, tmp_path):
    names = ["Sam", "sam o'neill", "漢字", "Ödön"]
    for name in names:
        practise(kettle, tmp_path, learner=name, end=False)
    assert {name for name, _ in kept.learners(tmp_path)} == set(names)


def test_the_most_missed_causes_come_first(kettle, tmp_path):
    for seed in range(8):
        practise(kettle, tmp_path, seed=seed, checks=0)
    games = kept.look_up(tmp_path, "Sam").finished
    missed = kept.most_missed(games)
    by_hand = {}
    for game in games:
        cause, named = game.finished["causes"]["no-heat"], game.finished["named"]["no-heat"]
        by_hand[cause] = by_hand.get(cause, 0) + (cause != named)
    assert {cause: times for cause, times, _ in missed} == {c: n for c, n in by_hand.items() if n}
    assert [times for _, times, _ in missed] == sorted((times for _, times, _ in missed), reverse=True)
