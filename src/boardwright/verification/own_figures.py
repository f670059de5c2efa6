"""What the user's own figures did: which moved the design, which nothing asked for."""

from __future__ import annotations

from boardwright.core.findings import Finding
from boardwright.standards.edition import Edition
from boardwright.standards.overrides import Override, overrides
from boardwright.standards.trace import Trace
from boardwright.verification.say import Point

_KEEP = "Keep the copy that it was read in with the papers: the design rests on it."
_UNUSED = "See that it is the figure you meant; this home asks for no such figure."


def own_figures(edition: Edition, trace: Trace) -> tuple[Finding, ...]:
    """Return one finding for each of the user's own figures.

    Not a check like the others: it needs to know what the whole design asked for, the other
    checks included.
    """
    asked = set(trace.asked)
    return tuple(_finding(own, used=own.figure in asked) for own in overrides(edition))


def _finding(own: Override, *, used: bool) -> Finding:
    point = Point("edition.own_figure", f"Own figure {own.figure.place}", own.figure.key, own.rule)
    shown = f"{own.value:g} {own.unit}".strip() if _is_number(own.value) else f"{own.value}"
    if not used:
        return point.advised(f"{shown}: nothing in this design asked for it.", _UNUSED)
    if own.replaces:
        return point.advised(f"{shown} stands in place of the figure shipped.", _KEEP)
    return point.passed(f"{shown}, as shipped, was confirmed.")


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
