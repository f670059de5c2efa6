"""What a person types behind an option, as a number; else one sentence about it."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from boardwright.core.errors import FieldError
from boardwright.job.words import NOTHING
from boardwright.standards.edition import Edition, Table


@dataclass(frozen=True, slots=True)
class Span:
    """What an option may be: over ``low``, up to ``high``, in ``unit``."""

    low: float
    high: float
    unit: str

    @property
    def words(self) -> str:
        """The span as an error says it."""
        return f"a number over {self.low:g} and up to {self.high:g} {self.unit}"


def typed_number(option: str, typed: str | None, span: Span) -> float:  # unit: the span's
    """Return a number that was typed.

    Raises
    ------
    FieldError
        Nothing was typed, or no number within the span.
    """
    if typed is None:
        raise FieldError(option, NOTHING, span.words)
    try:
        number = float(typed)
    except ValueError:
        mended = typed.replace(",", ".", 1)
        remedy = f"Write {mended} with a point." if "," in typed else ""
        raise FieldError(option, typed, span.words, remedy=remedy) from None
    if not isfinite(number) or not span.low < number <= span.high:
        raise FieldError(option, number, span.words)
    return number


def typed_numbers(option: str, typed: str, span: Span) -> tuple[float, ...]:
    """Return several numbers that were typed with spaces between them.

    Raises
    ------
    FieldError
        One of them is no number within the span.
    """
    return tuple(typed_number(option, word, span) for word in typed.split())


def typed_size_mm2(option: str, typed: str | None, edition: Edition) -> float:
    """Return a conductor's size that the table of resistances has. [mm²]

    Raises
    ------
    FieldError
        It is none of the table's sizes.
    """
    table: Table = edition.table("resistance_ohm_per_km")
    if typed is not None and typed in table.rows:
        return float(typed)
    expected = f"one of {', '.join(table.rows)} in mm2"
    raise FieldError(option, NOTHING if typed is None else typed, expected)
