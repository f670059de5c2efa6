"""The six marks of a verdict and the gauge: brackets are the permitted range, a dot the reading."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from xml.sax.saxutils import escape

from boardwright.core.findings import Finding, Sense, Verdict
from boardwright.documents.look.tokens import tokens
from boardwright.documents.words.figures import quantity, value_and_limit, verdict_word

Colours = Mapping[str, str]
"""Colours by token: ink, adverse, adverse-ink, edge."""

_USED = ("ink", "ink-2", "adverse", "adverse-ink", "edge")

ON_PAGE: Colours = MappingProxyType({name: f"var(--{name})" for name in _USED})
"""On the page the theme decides."""

_WIDE = "M8 4H4V20H8M16 4H20V20H16"
_NARROW = "M6 4H2.5V20H6M9.5 4H13V20H9.5"


_LEFT, _SPAN = 8, 204
"""Where the gauge's line begins, and its length, in its own units."""


def on_paper() -> Colours:
    """Return the literal colours of the light theme, for print and files."""
    return {name: tokens()[name] for name in _USED}


def mark(verdict: Verdict, colours: Colours) -> str:
    """Return the mark as SVG shapes on a grid of 24 × 24, to be put in a group or an svg."""
    ink, adverse = colours["ink"], colours["adverse"]
    if verdict is Verdict.STOP:
        block = f'<rect x="1" y="2" width="22" height="20" rx="1.5" fill="{adverse}"/>'
        return block + _stroke("M5 6.5H9V17.5H5M19 6.5H15V17.5H19", colours["adverse-ink"])
    if verdict is Verdict.FAIL:
        return _stroke(_NARROW, adverse, 3) + _dot(19.5, adverse)
    inside = {
        Verdict.PASS: _dot(12, ink),
        Verdict.ADVISE: f'<path d="M19 8A4 4 0 0 0 19 16Z" fill="{ink}"/>',
        Verdict.NOT_APPLICABLE: _stroke("M9.5 12H14.5", ink),
    }
    return _stroke(_WIDE, ink) + inside.get(verdict, "")


def mark_svg(verdict: Verdict, colours: Colours) -> str:
    """Return the mark as an image of its own, with its word for those who cannot see it."""
    word = verdict_word(verdict)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24" role="img"'
        f' aria-label="{word}"><title>{word}</title>{mark(verdict, colours)}</svg>'
    )


def caution_svg(colours: Colours) -> str:
    """Return the warning of electricity: our own drawing after the form of ISO 7010, one colour."""
    ink = colours["ink"]
    bolt = "M13.4 7.5L9.2 13.4H11.8L10.4 18.2L15 12H12.2Z"
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24" role="img"'
        ' aria-label="Caution, electricity"><title>Caution, electricity</title>'
        f'<path d="M12 2.5L22.5 20.8H1.5Z" fill="none" stroke="{ink}" stroke-width="2"'
        f' stroke-linejoin="round"/><path d="{bolt}" fill="{ink}"/></svg>'
    )


def gauge(finding: Finding, colours: Colours, *, lettered: bool = True) -> str:
    """Return a value against its limit on a line from 0, or nothing where a figure is missing.

    The dot takes the colour of a fail outside the bracket; ``lettered`` writes the limit below
    it, for places that have no words beside the gauge.
    """
    value, limit = finding.value, finding.limit
    if value is None or not limit or min(value, limit) < 0:
        return ""
    at, limit_at = (
        _LEFT + _SPAN * figure / (1.25 * max(value, limit)) for figure in (value, limit)
    )
    beyond = finding.verdict in (Verdict.STOP, Verdict.FAIL)
    arm = -4 if finding.sense is Sense.AT_MOST else 4
    words = escape(value_and_limit(finding))
    bracket = f"M{limit_at + arm:.1f} 6H{limit_at:.1f}V22H{limit_at + arm:.1f}"
    letters = _letters(limit_at, finding, colours) if lettered else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 220 {40 if lettered else 28}"'
        f' class="gauge" role="img" aria-label="{words}"><title>{words}</title>'
        f'<path d="M{_LEFT} 14H{_LEFT + _SPAN}" stroke="{colours["edge"]}" stroke-width="1.5"/>'
        f"{_stroke(bracket, colours['ink'])}"
        f'<circle cx="{at:.1f}" cy="14" r="5" fill="{colours["adverse" if beyond else "ink"]}"/>'
        f"{letters}</svg>"
    )


def _letters(limit_at: float, finding: Finding, colours: Colours) -> str:
    # Kept off both ends, so that a limit near zero still has room for its figure.
    return (
        f'<text x="{min(max(limit_at, 28), 192):.1f}" y="36" text-anchor="middle" font-size="12"'
        f' fill="{colours["ink-2"]}">{escape(quantity(finding.limit or 0, finding.unit))}</text>'
    )


def _stroke(path: str, colour: str, width: int = 2) -> str:
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width}"/>'


def _dot(x_mm: float, colour: str) -> str:
    return f'<circle cx="{x_mm:g}" cy="12" r="3.5" fill="{colour}"/>'
