"""Several programs on one store, and programs that die: what was confirmed is there."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise

import pytest

from boardwright.store.store import Store, open_store
from tests.habits.source import ROOT
from tests.store.home import TEXT, job_of, stamp

SAVES = 200
LONGEST_S = 240.0

Writer = subprocess.Popen[str]


@pytest.mark.slow
def test_programs_that_start_at_once_make_the_tables_once(place: str) -> None:
    with _writers([(place, "ring", 1, 0)] * 4) as writers:
        assert [_line(writer) for writer in writers] == ["ready"] * 4
        ended = [_ended(writer) for writer in writers]

    assert ended == [0] * 4
    store = open_store(place)
    assert store.jobs() == ()
    store.close()


@pytest.mark.slow
def test_two_programs_on_one_job_see_each_other_and_lose_nothing(store: Store, place: str) -> None:
    store.create(TEXT, stamp())
    with _writers([(place, "ring", 56, 95), (place, "shower", 15, 54)]) as writers:
        for writer in writers:
            assert _line(writer) == "ready"
        for writer in writers:
            _go(writer)
        told = [_told(writer.communicate(timeout=LONGEST_S)[0]) for writer in writers]
        assert [writer.returncode for writer in writers] == [0, 0]

    history = [
        tuple(one.cable.length_m for one in job_of(version.text).circuits)
        for version in (
            store.version("number-7", change.number) for change in store.history("number-7")
        )
    ]
    # Each save is a version, and each version holds the newest of both.
    assert len(history) == 81
    assert all(sum(after) - sum(before) == 1 for before, after in pairwise(history))
    for numbers in told:
        assert all(history[number - 1] == lengths for number, lengths in numbers)
    assert any(change.merged for change in store.history("number-7"))
    assert store.conflicts("number-7") == ()


@pytest.mark.slow
def test_kills_at_random_lose_nothing_that_was_confirmed(store: Store, place: str) -> None:
    store.create(TEXT, stamp())
    draws = random.Random(20261125)
    end_s = time.monotonic() + LONGEST_S
    kills = saved = 0
    while saved < SAVES:
        assert time.monotonic() < end_s
        confirmed = _until_killed(place, saved, draws)
        kills += 1
        for number, lengths in confirmed:
            version = store.version("number-7", number)
            assert tuple(one.cable.length_m for one in job_of(version.text).circuits) == lengths
        # At most the one save whose confirmation the kill swallowed is there besides.
        last = store.latest("number-7").number - 1
        assert last - (confirmed[-1][0] - 1 if confirmed else saved) in (0, 1)
        saved = last
    assert [change.number for change in store.history("number-7")] == list(range(1, SAVES + 2))
    assert kills >= 5


def _until_killed(
    place: str, saved: int, draws: random.Random
) -> list[tuple[int, tuple[float, ...]]]:
    """Let a writer save on, and kill it at a moment that nobody chose."""
    with _writers([(place, "ring", saved + 1, SAVES)]) as (writer,):
        assert _line(writer) == "ready"
        _go(writer)
        lines = [_line(writer) for _ in range(draws.randint(1, 40))]
        time.sleep(draws.uniform(0, 0.06))
        os.kill(writer.pid, signal.SIGKILL)
        rest, _ = writer.communicate(timeout=30)
    # A line without its end was never told.
    whole = rest[: rest.rfind("\n") + 1]
    return _told("\n".join([*lines, whole]))


@contextmanager
def _writers(calls: list[tuple[str, str, int, int]]) -> Iterator[list[Writer]]:
    writers = [
        subprocess.Popen(
            [sys.executable, "-m", "tests.store.writer", *map(str, call)],
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": f"{ROOT}/src:{ROOT}"},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for call in calls
    ]
    try:
        yield writers
    finally:
        for writer in writers:
            writer.kill()
            writer.communicate()


def _line(writer: Writer) -> str:
    assert writer.stdout is not None
    return writer.stdout.readline().strip()


def _go(writer: Writer) -> None:
    assert writer.stdin is not None
    writer.stdin.write("go\n")
    writer.stdin.flush()


def _ended(writer: Writer) -> int:
    # Without a job there is nothing to save: the end of its input ends it.
    writer.communicate(timeout=60)
    return writer.returncode


def _told(lines: str) -> list[tuple[int, tuple[float, ...]]]:
    rows = [line.split() for line in lines.splitlines() if line]
    return [(int(number), tuple(map(float, lengths))) for number, *lengths in rows]
