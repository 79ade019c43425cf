"""Taking up a case of 2,000 events against the bare reading of its lines, in the same run."""

from __future__ import annotations

import gc
import json
import time
from statistics import median

import pytest

from diagtree.case.journal import Journal
from diagtree.case.walker import Walker

EVENTS = 2_000
MOST = 10
"""How often the bare reading of the lines fits into taking the case up; about 5.6 when it was written."""
MOST_SECONDS = 0.2


@pytest.fixture(scope="module")
def case(kettle, tmp_path_factory):
    path = tmp_path_factory.mktemp("cases") / "long.case"
    number = 0
    with Journal.create(path) as journal:
        walker = Walker(kettle, journal, complaints=list(kettle.trees))
        while walker.case.count < EVENTS:
            question = walker.question
            number += 1
            if question is None:
                walker.jump(walker.way[number % len(walker.way)])
            else:
                walker.answer(question.answers[number % len(question.answers)].name)
            if number % 5 == 0:
                walker.note(f"note {number}")
    return path


def take_up(library, path):
    with Journal.open(path) as journal:
        return Walker(library, journal).question


def timed(work, *arguments):
    gc.collect()
    began = time.perf_counter()
    work(*arguments)
    return time.perf_counter() - began


def test_a_case_of_2000_events_is_taken_up_within_a_few_bare_readings_of_its_lines(benchmark, kettle, case):
    lines = case.read_bytes().splitlines()
    assert len(lines) >= EVENTS
    take_up(kettle, case)

    def bare():
        for line in lines:
            json.loads(line)

    pairs = [(timed(take_up, kettle, case), timed(bare)) for _ in range(9)]
    ratio = median(mine / theirs for mine, theirs in pairs)
    seconds = min(mine for mine, _ in pairs)
    benchmark.extra_info["ratio"] = round(ratio, 2)
    benchmark.extra_info["seconds"] = round(seconds, 4)
    benchmark.pedantic(take_up, (kettle, case), rounds=3)
    assert ratio < MOST
    assert seconds < MOST_SECONDS
