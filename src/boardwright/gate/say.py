"""How the gate speaks: one point of the survey, judged."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.core.findings import Finding, Rule, Sense, Verdict
from boardwright.standards.edition import Table

_BEFORE_WORK = frozenset({Verdict.FAIL, Verdict.UNKNOWN})
"""What the gate fails or does not know is to be done or found out before the work."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading against its limit; either may be missing."""

    value: float | None
    limit: float | None
    unit: str
    sense: Sense = Sense.AT_LEAST


_NO_READING = Reading(None, None, "")


@dataclass(frozen=True, slots=True)
class Point:
    """One subject and the rule it is judged by."""

    check: str
    subject: str
    subject_id: str
    rule: Rule
    reading: Reading = _NO_READING

    def passed(self, message: str) -> Finding:
        """Say that the point holds."""
        return self._finding(Verdict.PASS, message, "")

    def spared(self, message: str) -> Finding:
        """Say that the rule does not apply here."""
        return self._finding(Verdict.NOT_APPLICABLE, message, "")

    def advised(self, message: str, remedy: str) -> Finding:
        """Say that the work may start, though a better way exists."""
        return self._finding(Verdict.ADVISE, message, remedy)

    def unknown(self, message: str, remedy: str) -> Finding:
        """Say what must be found out before the work."""
        return self._finding(Verdict.UNKNOWN, message, remedy)

    def do_first(self, message: str, remedy: str) -> Finding:
        """Say what must be put right before the work."""
        return self._finding(Verdict.FAIL, message, remedy)

    def stopped(self, message: str, remedy: str) -> Finding:
        """Say that the work must not go ahead."""
        return self._finding(Verdict.STOP, message, remedy)

    def _finding(self, verdict: Verdict, message: str, remedy: str) -> Finding:
        return Finding(
            check=self.check,
            verdict=verdict,
            subject=self.subject,
            message=message,
            rule=self.rule,
            subject_id=self.subject_id,
            value=self.reading.value,
            limit=self.reading.limit,
            unit=self.reading.unit,
            sense=self.reading.sense,
            remedy=remedy,
            first=verdict in _BEFORE_WORK,
        )


def covering_row(table: Table, value: float) -> str | None:
    """Return the first row, each read as "up to and including", that covers a value."""
    return next((row for row in sorted(table.rows, key=float) if value <= float(row)), None)


def least_mm2(table: Table, value: float | None) -> float | None:
    """Return the size that the covering row asks for, None without one. [mm²]"""
    row = None if value is None else covering_row(table, value)
    return None if row is None else table.cell(row, "mm2")
