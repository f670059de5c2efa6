"""The limits of a home as JSON: the figures of the library, in the words of the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from boardwright.circuits.plan import plan_circuits
from boardwright.core.findings import Rule, Sense
from boardwright.documents.readings.limit_words import bound_words, says
from boardwright.documents.words.figures import source
from boardwright.job.job import Job
from boardwright.standards.edition import Edition
from boardwright.verification.limits import (
    About,
    Apart,
    Bound,
    Limit,
    Side,
    circuit_limits,
    origin_limits,
)
from boardwright.web.views.lists import on_offer


@dataclass(frozen=True, slots=True)
class HomeLimits:
    """The readings of a home: at its origin, and of each circuit by id."""

    origin: tuple[Limit, ...]
    circuits: Mapping[str, tuple[Limit, ...]]


def home_limits(job: Job, edition: Edition) -> HomeLimits:
    """Return every reading to take in a home.

    Raises
    ------
    BoardwrightError
        The answers make no circuits, as a size that no table has.
    """
    plan = plan_circuits(job, on_offer(), edition)
    circuits = {c.id: circuit_limits(c, plan, edition) for c in job.circuits}
    return HomeLimits(origin_limits(job, edition), circuits)


def limit_json(limit: Limit) -> dict[str, Any]:
    """Return a reading as JSON; ``sense`` and ``limit`` are those of the bound that fails it."""
    return {
        "reading": limit.reading,
        "label": limit.label,
        "symbol": limit.symbol,
        "unit": limit.unit,
        "live": limit.live,
        "seen": limit.seen,
        "says": says(limit),
        "bounds": [_bound(each, limit.unit) for each in limit.bounds],
    }


def sources(limit: Limit) -> tuple[tuple[str, bool], ...]:
    """Return where the limits come from, and whether from memory."""
    rules = [bound.rule for bound in limit.bounds] + ([limit.rule] if limit.rule else [])
    return tuple(dict.fromkeys((source(rule), _from_memory(rule)) for rule in rules))


def _bound(bound: Bound, unit: str) -> dict[str, Any]:
    common = {
        "verdict": bound.verdict.value,
        "words": bound.words,
        "says": bound_words(bound, unit),
        "clause": bound.rule.clause,
        "edition": bound.rule.edition,
        "known": bound.rule.known.value,
    }
    match bound:
        case Side():
            own: dict[str, Any] = {
                "kind": "side",
                "sense": "least" if bound.sense is Sense.AT_LEAST else "most",
                "limit": bound.limit,
                "strict": bound.strict,
            }
        case Apart():
            own = {"kind": "apart", "of": bound.of, "limit": bound.limit}
        case About():
            own = {
                "kind": "about",
                "of": bound.of,
                "due": bound.due_ohm,
                "line": bound.line_mm2,
                "cpc": bound.cpc_mm2,
                "fraction": bound.fraction,
                "least": bound.least_ohm,
            }
    return {**own, **common}


def _from_memory(rule: Rule) -> bool:
    return rule.known.value == "memory"


__all__ = ["HomeLimits", "home_limits", "limit_json", "says", "sources"]
