"""Long work in the background: it says how far it is, is shared, and ends when asked."""

from __future__ import annotations

import threading
import time
from pathlib import Path

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import FieldError
from boardwright.design import Told, design
from boardwright.job.read import parse_job
from boardwright.standards.load import load_edition
from boardwright.web.working.kept import Kept
from boardwright.web.working.work import UnknownWork, Work, Works

EXAMPLES = Path(__file__).parents[2] / "examples"


def over(work: Work) -> Work:
    """Return a work once it is over."""
    end = time.monotonic() + 20
    while not work.is_over and time.monotonic() < end:
        time.sleep(0.01)
    assert work.is_over
    return work


def test_a_design_says_how_far_it_is_and_never_goes_back() -> None:
    job = parse_job((EXAMPLES / "cottage.yaml").read_text(), "cottage")
    heard: list[tuple[str, float]] = []

    design(job, load_catalogue(), load_edition(job.edition), told=lambda w, f: heard.append((w, f)))

    fractions = [fraction for _, fraction in heard]
    assert fractions == sorted(fractions)
    assert 0 < fractions[0] < fractions[-1] < 1
    # Two schemes are compared here: each has its own steps.
    assert {words.partition(":")[0] for words, _ in heard} == {
        "a new board",
        "the SPD in a box beside the board as found",
    }


def test_a_work_that_is_stopped_ends_at_its_next_step() -> None:
    began, go_on = threading.Event(), threading.Event()
    done = []

    def make(told: Told) -> None:
        began.set()
        go_on.wait(10)
        told("on", 0.5)
        done.append("all of it")

    works = Works()
    work = works.begin("a", make)
    assert began.wait(10)
    works.stop("a")
    go_on.set()

    assert over(work).state == "stopped"
    assert done == []


def test_who_asks_for_a_work_that_runs_joins_it() -> None:
    go_on = threading.Event()
    made = []

    def make(_told: Told) -> None:
        go_on.wait(10)
        made.append(1)

    works = Works()
    first, second = works.begin("a", make), works.begin("a", make)
    go_on.set()

    assert first is second
    assert over(first).state == "done"
    assert made == [1]


def test_a_fault_of_the_input_is_told_in_its_own_words() -> None:
    def make(_told: Told) -> None:
        raise FieldError("wishes.enclosure", "x", "one that is made")

    work = over(Works().begin("a", make))

    assert work.state == "failed"
    assert work.error == "wishes.enclosure: found 'x', expected one that is made."


def test_a_work_nobody_began_is_not_known() -> None:
    with pytest.raises(UnknownWork):
        Works().look("b")


def test_a_fault_of_the_program_is_told_where_it_was_started(
    caplog: pytest.LogCaptureFixture,
) -> None:
    def make(_told: Told) -> None:
        raise ZeroDivisionError

    work = over(Works().begin("a", make))

    assert (work.state, work.error) == ("failed", "The fault is the program's, not yours.")
    assert "ZeroDivisionError" in caplog.text


def test_what_could_not_be_made_is_made_again_and_leaves_nothing_behind() -> None:
    kept: Kept[int] = Kept()

    def fails() -> int:
        raise FieldError("a", "b", "c")

    for key in ("one", "two", "one"):
        with pytest.raises(FieldError):
            kept.get(key, fails)

    assert len(kept._making) == 0
    assert kept.get("one", lambda: 1) == 1
    assert kept.get("one", fails) == 1
