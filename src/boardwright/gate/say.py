"""How the gate speaks: one point of the survey, judged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardwright.core.findings import Rule, Sense
from boardwright.core.point import Point
from boardwright.standards.edition import Table


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading against its limit; either may be missing."""

    value: float | None
    limit: float | None
    unit: str
    sense: Sense = Sense.AT_LEAST


_NO_READING = Reading(None, None, "")


def judged(
    check: str, subject: str, subject_id: str, rule: Rule, reading: Reading = _NO_READING
) -> Point:
    """Return one point of the survey: what it fails or leaves open comes before the work."""
    return Point(
        check,
        subject,
        subject_id,
        rule,
        value=reading.value,
        limit=reading.limit,
        unit=reading.unit,
        sense=reading.sense,
        before_work=True,
    )


def in_a_row(names: Sequence[str]) -> str:
    """Return names as a sentence lists them: r1, rn and r2."""
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def covering_row(table: Table, value: float) -> str | None:
    """Return the first row, each read as "up to and including", that covers a value."""
    return next((row for row in sorted(table.rows, key=float) if value <= float(row)), None)


def least_mm2(table: Table, value: float | None) -> float | None:
    """Return the size that the covering row asks for, None without one. [mm²]"""
    row = None if value is None else covering_row(table, value)
    return None if row is None else table.cell(row, "mm2")
