"""A table of readings as a file: the one that the page hands out, or one kept by hand.

Comma-separated with a head; of its columns only ``subject`` and ``value`` are read. Beside the
readings a row may give an instrument (``instrument.loop``) and the day of issue (``issued.on``).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from datetime import date

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.documents.readings.judged import is_reading, limits_by_place
from boardwright.documents.readings.taken import INSTRUMENTS, OnSite, subject_of
from boardwright.verification.limits import Limit

ISSUED_ON = "issued.on"
_INSTRUMENT = "instrument."
_LONGEST = 60


def read_readings(text: str, design: Design) -> OnSite:
    """Return what a table of readings says of a design's home.

    Raises
    ------
    FieldError
        A column is missing, a subject is none of this home's, or a value is no reading.
    """
    limits = {
        subject_of(place, limit.reading): limit
        for place, own in limits_by_place(design).items()
        for limit in own
    }
    values: dict[str, tuple[str, ...]] = {}
    instruments: dict[str, str] = {}
    issued_on: date | None = None
    for line, subject, value in _rows(text):
        where = f"readings, line {line}"
        if subject == ISSUED_ON:
            issued_on = _day(where, value)
        elif subject.startswith(_INSTRUMENT):
            instruments[_instrument(where, subject)] = value[:_LONGEST]
        else:
            checked = _value(where, subject, value, limits)
            values[subject] = tuple(dict.fromkeys((*values.get(subject, ()), checked)))
    return OnSite(values, instruments, issued_on)


def _rows(text: str) -> Iterator[tuple[int, str, str]]:
    """Yield the line, subject and value of each row that has a value."""
    # A spreadsheet saves its tables with a mark of the encoding in front.
    reader = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""))
    head = reader.fieldnames or []
    for column in ("subject", "value"):
        if column not in head:
            found = ", ".join(head) or "nothing"
            expected = f"a first line that names {column}, as in the table that the page hands out"
            raise FieldError("readings, line 1", found, expected)
    for row in reader:
        value = (row["value"] or "").strip()
        if value:
            yield reader.line_num, (row["subject"] or "").strip(), value


def _value(where: str, subject: str, value: str, limits: Mapping[str, Limit]) -> str:
    limit = limits.get(subject)
    if limit is None:
        near = next(iter(limits))
        raise FieldError(where, subject, f"the subject of a reading of this home, as {near}")
    if not is_reading(limit, value):
        wanted = "yes or no" if limit.seen else f"a figure in {limit.unit}, as 0.84 or >999"
        raise FieldError(f"{where}, {subject}", value, f"{wanted}, or LIM or N/A")
    return value


def _instrument(where: str, subject: str) -> str:
    name = subject.removeprefix(_INSTRUMENT)
    if name not in INSTRUMENTS:
        known = ", ".join(_INSTRUMENT + each for each in INSTRUMENTS)
        raise FieldError(where, subject, f"one of {known}")
    return name


def _day(where: str, value: str) -> date:
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise FieldError(f"{where}, {ISSUED_ON}", value, "a day as 2026-11-25") from None


__all__ = ["ISSUED_ON", "read_readings"]
