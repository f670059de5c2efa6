"""Check that the job's edition was in force on the day of its design."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from boardwright.core.findings import Finding
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point


@check
def in_force(facts: Facts) -> Iterator[Finding]:
    """Hold the day of the design against the days on which its edition was in force."""
    edition, day = facts.edition, facts.job.designed_on
    rule = edition.rule("edition.in_force")
    point = Point("edition.in_force", "Edition", "edition", rule)
    if edition.valid_to and day > date.fromisoformat(edition.valid_to):
        yield point.failed(
            f"{edition.title} was withdrawn on {edition.valid_to}; the design is of {day}.",
            "Design to the edition in force, unless the contract was let before; then say so.",
        )
    elif edition.valid_from and day < date.fromisoformat(edition.valid_from):
        yield point.advised(
            f"{edition.title} was published on {edition.valid_from}, after the design of {day}.",
            "See that day and edition belong together.",
        )
    else:
        yield point.passed(f"{edition.title} was in force on {day}.")
