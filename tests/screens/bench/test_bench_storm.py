"""A storm of keys: it never breaks the bench, never loses an answer, and Ctrl-C always leaves."""

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule, run_state_machine_as_test

from diagtree.case.keeper import read_case
from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.screens.bench.bench import Bench, BenchResult
from diagtree.screens.bench.lines import cells, plain
from diagtree.screens.bench.papers import Papers

WHEN = "2026-01-02T03:04:05+00:00"
KEYS = st.sampled_from(
    [*"0123456789", *"abcdefghijklmnopqrstuvwxyz/? ", *"²é漢", "up", "down", "left", "right", "home", "end", "pageup",
     "pagedown", "enter", "enter", "escape", "backspace", "delete", "c-u", "c-w", "f1"]
)  # fmt: skip
SIZES = st.sampled_from([(120, 40), (80, 24), (60, 20), (44, 13), (40, 12), (39, 11), (1, 1)])
PASTES = st.sampled_from(["1\r1\r", "97 °C", "\x1b[A\u202e", "dead", "x" * 5000])


class Storm(RuleBasedStateMachine):
    """Presses anything, and keeps a list of the answers that were acknowledged."""

    library = None

    @initialize(complaints=st.sampled_from([(), ("no-heat",), ("slow-boil", "leaks")]))
    def begin(self, complaints):
        self.log = MemoryLog()
        self.walker = Walker(self.library, self.log, complaints=complaints, clock=lambda: WHEN)
        self.now, self.last = 0.0, -1.0
        self.bench = Bench(self.walker, clock=lambda: self.now, papers=Papers(lambda kind: f"{kind}.pdf"))
        self.size = (80, 24)
        self.told = {}

    @rule(keys=st.lists(st.tuples(KEYS, st.sampled_from([0.0, 0.05, 1.0, 1.0])), min_size=1, max_size=12))
    def press(self, keys):
        for key, after in keys:
            self.now += after
            before = len(self.log.records)
            self.bench.press(key)
            answered = [record for record in self.log.records[before:] if record["kind"] == "answered"]
            if answered:
                assert len(answered) == 1
                assert self.now - self.last >= 0.15, "a bounce answered"
                self.last = self.now
            if self.bench.result is not None:
                assert self.bench.result.exit_code in {0, 3}
                self.bench.result = None

    @rule(text=PASTES)
    def paste(self, text):
        count = self.walker.case.count
        self.bench.paste(text)
        assert self.walker.case.count == count, "a paste never answers"

    @rule(size=SIZES)
    def resize(self, size):
        self.size = size

    @invariant()
    def it_can_be_drawn(self):
        if not hasattr(self, "bench"):
            return
        width, height = self.size
        picture = self.bench.compose(width, height)
        assert len(picture.lines) == height
        assert all(cells(plain(line)) == width for line in picture.lines)

    @invariant()
    def everything_that_was_answered_is_in_the_log(self):
        if not hasattr(self, "bench"):
            return
        again = read_case(self.log.records)
        assert again == self.walker.case
        for place in self.told:
            assert place in again.given, "an answer was lost"
        self.told = dict(again.given)

    def teardown(self):
        if hasattr(self, "bench"):
            self.bench.press("c-c")
            assert self.bench.result == BenchResult("interrupted", 130)


def test_a_storm_of_keys(kettle):
    kind = type("KettleStorm", (Storm,), {"library": kettle})
    run_state_machine_as_test(kind, settings=settings(max_examples=15, stateful_step_count=15, deadline=None))
