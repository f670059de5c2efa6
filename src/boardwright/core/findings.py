"""Findings: what a check says of one subject."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Verdict(Enum):
    """All that a check may say, the gravest first."""

    STOP = "stop"
    FAIL = "fail"
    UNKNOWN = "unknown"
    ADVISE = "advise"
    NOT_APPLICABLE = "not applicable"
    PASS = "pass"  # noqa: S105  a verdict, not a secret

    @property
    def rank(self) -> int:
        """Place in the order in which findings are shown, 0 first."""
        return list(Verdict).index(self)


class Known(Enum):
    """How sure we are of a figure."""

    FOUND = "found"
    DERIVED = "derived"
    MEMORY = "memory"
    CONFIRMED = "confirmed"
    """The user read it in their own copy of the standard."""


class Sense(Enum):
    """On which side of the limit the value must lie."""

    AT_MOST = "≤"
    AT_LEAST = "≥"


@dataclass(frozen=True, slots=True)
class Rule:
    """Where a limit comes from: what a finding cites.

    ``carried`` is true where the text in force was not seen and the figure is
    carried from the edition before, or from ``carried_from``; ``note`` names an
    override by the user.
    """

    clause: str
    edition: str
    known: Known
    carried: bool = False
    note: str = ""
    carried_from: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One subject against one rule.

    ``check`` is a stable dotted id; ``subject_id`` is the stable id of the thing
    spoken of, in the job or in the design; ``value`` and ``limit`` are in ``unit``.
    ``first`` marks what must be done before the work may start.
    """

    check: str
    verdict: Verdict
    subject: str
    message: str
    rule: Rule
    subject_id: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    sense: Sense = Sense.AT_MOST
    remedy: str = ""
    first: bool = False

    @property
    def used(self) -> float | None:
        """Value as a fraction of the limit, or None without both."""
        if self.value is None or not self.limit:
            return None
        return self.value / self.limit


def in_order(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the findings, gravest first, else in the order given."""
    return tuple(sorted(findings, key=lambda finding: finding.verdict.rank))
