"""Rates and lives in words: a range of this width would make a figure a pretence."""

from __future__ import annotations

from boardwright.spd.ranges import Range
from boardwright.spd.wear import Often, Wear

_OFTEN = (
    (0.2, "several times a year"),
    (1.0, "about once a year"),
    (10.0, "once in some years"),
    (100.0, "once in some decades"),
    (1000.0, "once in some centuries"),
)
_SELDOM = "less than once in a thousand years"

_LASTS = ((1.0, "months"), (10.0, "years"), (100.0, "decades"), (1000.0, "centuries"))
_LONG = "more than a thousand years"

NOT_COUNTED = (
    "Not counted: a strike to the home itself, the small surges of switching, a lost neutral or "
    "another lasting overvoltage, heat and age. Most of these can end an SPD long before its "
    "surges do; only its window tells."
)


def how_often(times_per_year: Range) -> str:
    """Return a rate in words, its more frequent end first: once in some years to decades."""
    ends = [_word(1 / end, _OFTEN, _SELDOM) for end in (times_per_year.high, times_per_year.low)]
    if ends[0] == ends[1]:
        return ends[0]
    shared = "once in some "
    if all(end.startswith(shared) for end in ends):
        return f"{ends[0]} to {ends[1].removeprefix(shared)}"
    return " to ".join(ends)


def how_long(life_years: Range) -> str:
    """Return a life in words: decades to centuries."""
    ends = [_word(end, _LASTS, _LONG) for end in (life_years.low, life_years.high)]
    return " to ".join(dict.fromkeys(ends))


def size_words(often: Often, more: str = "") -> str:
    """Return a size with the rating that it is: 20 kA, In of the SPD; ``more`` stands between."""
    kilo = often.size_a >= 1000  # noqa: PLR2004 - where kA begin
    size = f"{often.size_a / 1000:g} kA" if kilo else f"{often.size_a:g} A"
    size = f"{size} {more}".strip()
    return f"{size}, {often.name} of the SPD" if often.name else size


def life_sentence(found: Wear, *, name: str = "its duty") -> str:
    """Return how long the duty lasts, and what it was reckoned with."""
    open_words = f" Open: {'; '.join(found.place.assumed)}." if found.place.assumed else ""
    return (
        f"By the surges of this place alone {name} lasts {how_long(found.life_years)}.{open_words}"
    )


def _word(years: float, words: tuple[tuple[float, str], ...], beyond: str) -> str:
    return next((word for limit_years, word in words if years < limit_years), beyond)
