"""A limit of a reading in words for a page, and in signs for the narrow cell of a form."""

from __future__ import annotations

from boardwright.core.findings import Sense
from boardwright.documents.words.figures import fixed, number, quantity
from boardwright.verification.limits import About, Apart, Bound, Limit, Side


def says(limit: Limit) -> str:
    """Return a reading's limits in words."""
    return "; ".join(bound_words(each, limit.unit) for each in limit.bounds)


def bound_words(bound: Bound, unit: str) -> str:
    """Return one limit in words: at most 1.09 Ω."""
    match bound:
        case Side(sense=Sense.AT_LEAST):
            return f"at least {quantity(bound.limit, unit)}"
        case Side():
            shown = quantity(_down(bound.limit, 1000), unit)
            return f"{'under' if bound.strict else 'at most'} {shown}"
        case Apart():
            return f"within {quantity(bound.limit, unit)} of {_other(bound.of)}"
        case About(due_ohm=None):
            return f"about {bound.line_mm2 / bound.cpc_mm2:.2f} times {_other(bound.of)}"
        case About():
            # As finely as the instrument shows it: it is worked out from an estimated length.
            return f"about {fixed(bound.due_ohm, 2)} Ω by length and sizes"


def in_signs(limit: Limit) -> str:
    """Return what decides first, in signs and without its unit: ≤ 1.09; empty for no limit."""
    # A bound that only rules out an open ring says less than what the reading should be.
    told = [each for each in limit.bounds if not (isinstance(each, Side) and each.strict)]
    for bound in (*told, *limit.bounds):
        return _signs(bound)
    return ""


def _signs(bound: Bound) -> str:
    match bound:
        case Side(sense=Sense.AT_LEAST):
            return f"≥ {number(bound.limit)}"
        case Side():
            return f"{'<' if bound.strict else '≤'} {number(_down(bound.limit, 100))}"
        case Apart():
            return f"{_other(bound.of)} ± {number(bound.limit)}"
        case About(due_ohm=None):
            return f"{_other(bound.of)} × {bound.line_mm2 / bound.cpc_mm2:.2f}"
        case About():
            return f"≈ {fixed(bound.due_ohm, 2)}"


def _other(reading: str) -> str:
    return reading.partition("_")[0]


def _down(limit: float, steps: int) -> float:
    """Cut, never round up: a reading that only rounding lets through is not within."""
    return int(limit * steps + 1e-6) / steps


__all__ = ["bound_words", "in_signs", "says"]
