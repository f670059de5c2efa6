"""When the home is inspected again: the interval that is usual, and the day it comes to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from boardwright.design import Design
from boardwright.documents.words.figures import NO_BREAK, in_words, source

_USUAL = "notice.inspection_months"
_LET = "notice.inspection_let_months"
_YEAR_MONTHS = 12


@dataclass(frozen=True, slots=True)
class Inspection:
    """The next inspection; ``day`` is empty until the pack is issued, ``usual`` where no figure is.

    ``usual`` is the interval in words for who lives there; ``let`` is that of a home that is let,
    empty where this one is.
    """

    day: str
    usual: str
    let: str
    source: str


def next_inspection(design: Design, issued_on: date | None) -> Inspection:
    """Return the next inspection, counted from the day of issue."""
    edition = design.edition
    is_let = design.job.premises.occupier == "tenant"
    key = _LET if is_let and edition.has(_LET) else _USUAL
    if not edition.has(key):
        return Inspection("", "", "", "")
    months = round(edition.number(key))
    day = long_date(months_after(issued_on, months)) if issued_on else ""
    let = "" if is_let or not edition.has(_LET) else interval(round(edition.number(_LET)))
    return Inspection(day, interval(months), let, source(edition.rule(key)))


def months_after(day: date, months: int) -> date:
    """Return the same day of a later month, at the latest its 28th: every month has one."""
    total = day.month - 1 + months
    return date(day.year + total // _YEAR_MONTHS, total % _YEAR_MONTHS + 1, min(day.day, 28))


def interval(months: int) -> str:
    """Return an interval in words: ten years, 18 months."""
    years, rest = divmod(months, _YEAR_MONTHS)
    return in_words(months, "month") if rest else in_words(years, "year")


def long_date(day: date) -> str:
    """Return a date as written on paper: 14 November 2026."""
    return f"{day.day}{NO_BREAK}{day:%B}{NO_BREAK}{day.year}"


__all__ = ["Inspection", "interval", "long_date", "months_after", "next_inspection"]
