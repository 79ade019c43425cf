"""Watching files while their author writes: what is told after a save, and how soon."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from diagtree.library.loading import collected
from diagtree.library.plugins import load_plugins
from diagtree.proofread.rulebook import built_in
from diagtree.proofread.watching import Watch

FAULTY = (Path(__file__).parent / "faulty_tree.txt").read_text(encoding="utf-8")


def saved(file, text):
    """Save as editors do: into a new file that takes the old one's place."""
    new = file.with_suffix(".new")
    new.write_text(text, encoding="utf-8")
    new.replace(file)


def test_watching_tells_what_a_save_changed_within_a_fifth_of_a_second(mine):
    watch = Watch(collected(load_plugins(), [mine]), [mine / "hums.yaml"], list(built_in()))
    assert [fault.rule for fault in watch.faults()][:1] == ["counts-not-100"]
    assert not watch.changed()
    took = []
    for text, count in [
        (FAULTY.replace("come on", "come on?"), 3),
        (FAULTY, 4),
        (FAULTY.replace("30}", "50}"), 3),
    ]:
        saved(mine / "hums.yaml", text)
        began = time.process_time()  # of this process alone: other tests run beside this one
        assert watch.changed()
        assert len(watch.faults()) == count
        took.append(time.process_time() - began)
    assert min(took) < 0.2 - 0.05, "what is left is the longest wait between two looks"


def test_watching_sees_files_come_and_go(mine):
    watch = Watch(collected(load_plugins(), [mine]), [mine], list(built_in()))
    (mine / "new.yaml").write_text("symptom: new\n", encoding="utf-8")
    assert watch.changed()
    assert any(fault.file == "new.yaml" for fault in watch.faults())
    (mine / "new.yaml").unlink()
    assert watch.changed()
    assert not any(fault.file == "new.yaml" for fault in watch.faults())
    assert len(watch.watched) == 6


def test_watching_reads_a_file_at_the_next_look_that_was_caught_in_the_middle_of_a_save(mine, monkeypatch):
    watch = Watch(collected(load_plugins(), [mine]), [mine / "hums.yaml"], list(built_in()))
    saved(mine / "hums.yaml", FAULTY.replace("come on", "come on?"))
    with monkeypatch.context() as locked:
        locked.setattr(Path, "open", lambda *_, **__: (_ for _ in ()).throw(PermissionError("locked")))
        assert watch.changed()
    assert watch.changed()
    assert len(watch.faults()) == 3


def test_watch_prints_after_each_save_and_ends_on_interrupt(mine):
    script = (
        "import sys; from diagtree.commands import main as m\n"
        "m.COMMANDS['proofread'] = 'x'; sys.exit(m.main(['proofread', '--trees', '.', 'hums.yaml', '--watch']))"
    )
    with subprocess.Popen(
        [sys.executable, "-c", script], cwd=mine, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as program:
        try:
            assert until(program, "-- ") == "-- 4 faults in 1 file."
            saved(mine / "hums.yaml", FAULTY.replace("come on", "come on?"))
            assert until(program, "-- ") == "-- 3 faults in 1 file."
            program.send_signal(signal.SIGINT)
            assert program.wait(timeout=20) == 0
        finally:
            program.kill()


def until(program, beginning):
    os.set_blocking(program.stdout.fileno(), True)
    while not (line := program.stdout.readline()).startswith(beginning):
        assert line, "the program ended"
    return line.strip()
