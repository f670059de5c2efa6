"""What stands ahead of the SPD, what its failure takes off supply, and how long its duty lasts."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.design import Design
from boardwright.documents.duty.words import DutyWords, duty_words, is_declined
from boardwright.documents.words.plain import Column, heading, paragraph, table

TITLE = "Back-up and wear of the SPD"
FILE = "spd-duty.txt"

AHEAD = (
    Column("Device", widest=36),
    Column("Surge of the SPD"),
    Column("Tested", figures=True),
    Column("By sum", figures=True),
    Column("Result"),
)
OFTEN = (Column("A surge of"), Column("Comes", widest=70))


def build(design: Design) -> str:
    """Return the paper: the way of the surge, the failure, how often, how long."""
    start = heading(f"{TITLE}: {design.job.title}")
    words = duty_words(design)
    if words is None:
        return f"{start}\n{paragraph('No SPD suits this place, so there is nothing to tell.')}\n"
    return "\n".join([start, *_ahead(words), *_failure(words), *wear_lines(words), *_end(design)])


def wear_lines(words: DutyWords) -> Iterator[str]:
    """Yield how often surges come here and how long the duty lasts, as the decline shows too."""
    yield _title("How often a surge comes in by the lines")
    yield table(OFTEN, words.often)
    yield paragraph("Ranges from 5 % to 95 %: strikes to the lines, and to the ground beside them.")
    yield ""
    yield _title("How long an SPD lasts here")
    yield paragraph(words.life)
    yield paragraph(words.not_counted)
    yield ""


def _ahead(words: DutyWords) -> Iterator[str]:
    if not words.ahead:
        return
    yield _title("What its surges pass through")
    rows = [[row.device, row.surge, row.tested, row.bound, row.answer] for row in words.ahead]
    yield table(AHEAD, rows)
    yield paragraph(
        "Tested: the largest surge after which its maker found the device still closed. By sum: an "
        f"upper bound of a gG fuse of that size, never what it carries. {words.bound_note}"
    )
    yield ""


def _failure(words: DutyWords) -> Iterator[str]:
    if words.failure:
        yield _title("If it fails short")
        yield paragraph(words.failure)
        yield ""


def _end(design: Design) -> Iterator[str]:
    if is_declined(design):
        yield paragraph("The owner declined; the paper “decline” is what is signed.")
    yield paragraph("Isolate, lock off and prove dead before you open what stands ahead of an SPD.")


def _title(words: str) -> str:
    return f"{words}\n{'─' * len(words)}"
