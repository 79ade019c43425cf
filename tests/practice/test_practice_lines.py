"""Practice in plain lines: a whole machine, what can be typed, how it is left."""

from __future__ import annotations

import io

from diagtree.case.log import MemoryLog
from diagtree.practice.debrief import debrief
from diagtree.screens.practice.line import PracticeLines


def talk(game, lines, width=None):
    sink = io.StringIO()
    source = io.StringIO("".join(f"{line}\n" for line in lines))
    face = PracticeLines(game, "Sam", lambda: debrief(game), source, sink, width)
    return face.run(), sink.getvalue()


def find(play, cause, level="apprentice"):
    for seed in range(200):
        game = play("no-heat", seed=seed, level=level)
        if game.machine.causes["no-heat"] == cause:
            return game
    raise AssertionError(cause)


def test_a_whole_machine_reads_as_a_talk(play):
    game = find(play, "kettle/element-open", "beginner")
    status, said = talk(game, ["1", "how 5", "5", "f burnt", "5", "1"])
    assert status == 0
    assert said.splitlines()[:9] == [
        f"A kettle comes in that is not there. Level: beginner. Seed: {game.machine.seed}. Learner: Sam.",
        "Common causes. No answer misleads. What is likely is shown all the way.",
        "Find what is behind it in as few minutes as you can. Type ? for help, quit to leave.",
        "",
        "The complaint: The water stays cold.",
        "Beware: Pull the plug before you open it.",
        "Seen and told:",
        said.splitlines()[7],
        said.splitlines()[8],
    ]
    assert "What do you do? So far: no minutes.\n  1  Does the lamp come on? (1 minute)\n" in said
    assert "> 1\nDoes the lamp come on? Comes on. (1 minute)\nLikely now: Element burnt out," in said
    assert "> how 5\nDoes it hum after a minute?\nNothing more is said about how to do it.\n" in said
    assert "> 5\nDoes it hum after a minute? Silent. (1 minute)\n" in said
    assert "> f burnt\nYou say: Element burnt out.\n" in said
    assert "Fit a new element. How tight does it go: Element nut (M12x1)?\n" in said
    assert "> 5\nRight: 4 to 6 N·m (35-53 lbf·in).\n" in said
    assert "> 1\nIt is: Anticlockwise.\n" in said
    assert "You named it, and the answers had proved it:" in said
    # 60 + 25 x least/2 + 15 x 1/2, where the least way is what the search says
    end = debrief(game)
    assert end.score.total == int(60 + 25 * end.least.minutes / 2 + 7.5 + 0.5)
    assert f"Points: {end.score.total} of 100" in said


def test_the_two_ways_stand_side_by_side_where_there_is_room(play):
    game = find(play, "kettle/fuse-blown")
    lines = [str(choice.number) for choice in game.choices if choice.check == "lamp"]
    _, said = talk(game, [*lines, "f fuse"], width=90)
    assert any("Your way: " in row and "The best way: " in row for row in said.splitlines())
    game = find(play, "kettle/fuse-blown")
    _, said = talk(game, [*lines, "f fuse"], width=44)
    assert not any("Your way: " in row and "The best way: " in row for row in said.splitlines())
    assert all(len(row) <= 44 for row in said.splitlines() if not row.startswith(">"))


def test_what_is_likely_is_hidden_where_the_level_says_so(play):
    _, said = talk(play(level="apprentice"), ["1", "likely"])
    assert "Likely now" not in said
    assert "At this level what is likely is shown at the end." in said


def test_the_talk_is_left_with_all_moves_kept(play):
    log = MemoryLog()
    status, said = talk(play(log=log), ["1", "quit"])
    assert status == 3
    assert said.endswith("Left. What was done is kept; the machine waits.\n")
    assert [record["kind"] for record in log.records] == ["checked"]
    status, _ = talk(play(), ["1"])  # the pipe ends
    assert status == 3


def test_an_interrupt_leaves_in_good_order(play):
    class Interrupted(io.StringIO):
        def readline(self, *_):
            raise KeyboardInterrupt

    game = play()
    sink = io.StringIO()
    assert PracticeLines(game, "Sam", lambda: debrief(game), Interrupted(), sink).run() == 130
    assert "What was done is kept" in sink.getvalue()


def test_whatever_is_typed_is_answered_in_words(play):
    game = play("no-heat", "leaks")
    lines = ["", "99", "x", "how", "how 0", "?", "looks", "way", "f zzz", "", "list", "0", "-1", "9" * 5000]
    status, said = talk(game, lines)
    assert status == 3
    assert "There is no check 99 to be done now. Type list." in said
    assert "'x' is none of the checks. Type its number, f, or ? for help." in said
    assert "Nothing was checked yet." in said
    assert "'zzz' is none of the causes." in said
    assert "That line is too long: 4,000 letters at most." in said
    assert not game.steps


def test_giving_up_shows_what_it_was(play):
    status, said = talk(play(), ["give up"])
    assert status == 0
    assert "You gave up." in said
    assert "Points: 0 of 100" in said
    assert "The work" not in said
