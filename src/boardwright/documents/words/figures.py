"""Figures as paper and page write them: sign, comma, unit, range, and the words of a verdict."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal

from boardwright.core.findings import Finding, Known, Rule, Sense, Verdict

NO_BREAK = "\u00a0"
MINUS = "\u2212"
TO = "\u2013"

_UNIT = r"(?:[mk]?[AVW]|[mkM]?Ω|mm²?|m|m?s|kWh|N·m|way|ways|modules?)\b|[MmkK]?Ω"
_BEFORE_UNIT = re.compile(rf"(?<=\d) (?={_UNIT})")
_LONG = re.compile(rf"(?<![\d.,])\d{{4,}}(?= (?:(?:to|and|/|or) [\d.,]+ )?(?:{_UNIT}))")

_SHOWN = {"mm2": "mm²", "ohm": "Ω", "mohm": "MΩ", "nm": "N·m", "Nm": "N·m", "c": "°C"}

_IN_THOUSANDS = {"A", "V", "W"}
"""Units that take a prefix on paper; an ohm or a metre is read as the tester shows it."""

_THOUSAND = 1000

_MILLI_BELOW_A = 0.5
"""A residual current is written in mA; the 0.87 A of a lighting circuit is not."""

_WORDS = {
    Verdict.STOP: "Stop",
    Verdict.FAIL: "Fail",
    Verdict.UNKNOWN: "Not known",
    Verdict.ADVISE: "Advise",
    Verdict.NOT_APPLICABLE: "Does not apply",
    Verdict.PASS: "Within",
}

_SMALL = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)


def number(value: float, digits: int = 3) -> str:
    """Return a figure to so many significant digits: 1,667 or 0.24 or −5, never 0.240.

    Whole parts are never rounded away: 1,667 stays 1,667 at three digits.
    """
    exact = Decimal(repr(float(value)))
    if exact == 0:
        return "0"
    places = max(0, digits - 1 - exact.adjusted())
    rounded = exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    text = f"{abs(rounded):,f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{MINUS}{text}" if rounded < 0 else text


def fixed(value: float | None, places: int) -> str:
    """Return a figure for a column, where all share their decimals; empty where it is not known."""
    if value is None:
        return ""
    step = Decimal(1).scaleb(-places)
    rounded = Decimal(repr(float(value))).quantize(step, ROUND_HALF_UP)
    return f"{MINUS if rounded < 0 else ''}{abs(rounded):,f}"


def quantity(value: float, unit: str, digits: int = 3) -> str:
    """Return a figure with its unit: 30 mA, 16 kA, 0.24 Ω, 1,667 Ω, 6 mm²."""
    factor, prefix = _prefix(value, unit)
    shown = f"{prefix}{_SHOWN.get(unit, unit)}"
    text = number(value * factor, digits)
    if not shown:
        return text
    return f"{text}{'' if shown == '%' else NO_BREAK}{shown}"


def change(value: float, unit: str) -> str:
    """Return a change with its sign: +180 V, −120 V, 0 V."""
    text = quantity(value, unit)
    return f"+{text}" if value > 0 and text[0] != "0" else text


def volts_between(low_v: float, high_v: float) -> str:
    """Return a range of voltage, both ends to the same decimals: 1.05–1.30 kV."""
    if low_v == high_v:
        return quantity(low_v, "V")
    if high_v < _THOUSAND:
        return f"{number(low_v)}{TO}{quantity(high_v, 'V')}"
    return f"{fixed(low_v / 1000, 2)}{TO}{fixed(high_v / 1000, 2)}{NO_BREAK}kV"


def unit_sign(unit: str) -> str:
    """Return how a unit is written on paper."""
    return _SHOWN.get(unit, unit)


def in_words(count: int, thing: str, things: str = "") -> str:
    """Return a count a person would say: one thing, two things, 14 things."""
    word = _SMALL[count] if 0 <= count < len(_SMALL) else f"{count:,}"
    return f"{word} {thing if count == 1 else things or thing + 's'}"


def verdict_word(verdict: Verdict) -> str:
    """Return the word that stands beside a verdict's mark."""
    return _WORDS[verdict]


def value_and_limit(finding: Finding) -> str:
    """Return what was found against the limit: 32 A, at most 25 A. Empty without figures."""
    side = "at most" if finding.sense is Sense.AT_MOST else "at least"
    parts = []
    if finding.value is not None:
        parts.append(quantity(finding.value, finding.unit))
    if finding.limit is not None:
        parts.append(f"{side} {quantity(finding.limit, finding.unit)}")
    return ", ".join(parts)


def source(rule: Rule) -> str:
    """Return clause, edition and how sure the figure is, as a finding cites them."""
    return " · ".join(part for part in (rule.clause, rule.edition, confidence(rule)) if part)


def confidence(rule: Rule) -> str:
    """Return the words that mark a figure we are not sure of; empty where it was seen."""
    doubts = []
    if rule.known is Known.MEMORY:
        doubts.append("from memory")
    if rule.carried:
        doubts.append(f"carried from {rule.carried_from or 'the edition before'}")
    if rule.known is not Known.CONFIRMED and not rule.note:
        return ", ".join(doubts)
    copy = f"your copy, {rule.note}" if rule.note else "your copy"
    # Several rules are cited as one, and only some of them were read.
    return f"{copy}; the rest {', '.join(doubts)}" if doubts else copy


def sentence(text: str) -> str:
    """Return words as a sentence: a capital in front, a stop behind, figures with their units.

    A stage writes plain figures; here 1500 V becomes 1,500 V and no line parts it from its unit.
    """
    text = _LONG.sub(lambda found: f"{int(found[0]):,}", text.strip())
    text = _BEFORE_UNIT.sub(NO_BREAK, text)
    if not text:
        return ""
    return f"{text[0].upper()}{text[1:]}{'' if text[-1] in '.:?' else '.'}"


def _prefix(value: float, unit: str) -> tuple[float, str]:
    """Return factor and prefix as the trade writes them: 30 mA, 16 kA, 0.87 A."""
    size = abs(value)
    if unit in _IN_THOUSANDS and size >= _THOUSAND:
        return 1e-3, "k"
    return (1e3, "m") if unit == "A" and 0 < size < _MILLI_BELOW_A else (1.0, "")
