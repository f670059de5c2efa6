"""How a check speaks: one subject, one rule, one sentence."""

from __future__ import annotations

from dataclasses import dataclass, replace

from boardwright.core.findings import Finding, Known, Rule, Sense, Verdict

_OPEN = frozenset({Verdict.FAIL, Verdict.UNKNOWN})
_DOUBT = (Known.MEMORY, Known.DERIVED, Known.FOUND, Known.CONFIRMED)


@dataclass(frozen=True, slots=True)
class Point:
    """A subject and the rule it is judged by; value and limit are in ``unit``.

    ``before_work`` true: what fails or is not known is to be settled before the work starts.
    """

    check: str
    subject: str
    subject_id: str
    rule: Rule
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    sense: Sense = Sense.AT_MOST
    before_work: bool = False

    def passed(self, message: str) -> Finding:
        """Say that the rule holds."""
        return self._finding(Verdict.PASS, message, "")

    def spared(self, message: str) -> Finding:
        """Say that the rule does not apply here."""
        return self._finding(Verdict.NOT_APPLICABLE, message, "")

    def advised(self, message: str, remedy: str) -> Finding:
        """Say that it is allowed, and what would be better."""
        return self._finding(Verdict.ADVISE, message, remedy)

    def unknown(self, message: str, remedy: str) -> Finding:
        """Say which reading or answer is missing, and how to get it."""
        return self._finding(Verdict.UNKNOWN, message, remedy)

    def failed(self, message: str, remedy: str) -> Finding:
        """Say that the rule is broken, and what to do."""
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
            value=self.value,
            limit=self.limit,
            unit=self.unit,
            sense=self.sense,
            remedy=remedy,
            first=self.before_work and verdict in _OPEN,
        )


def joined(*rules: Rule) -> Rule:
    """Return one rule that cites several, as doubtful as the most doubtful of them."""
    first = rules[0]
    return replace(
        first,
        clause=", ".join(dict.fromkeys(rule.clause for rule in rules)),
        known=min((rule.known for rule in rules), key=_DOUBT.index),
        carried=any(rule.carried for rule in rules),
        note="; ".join(rule.note for rule in rules if rule.note),
    )
