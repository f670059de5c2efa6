"""The user's own confirmations: figures read in their copy of the standard.

::

    [[confirmed]]
    key = "spd.leads_max_m"
    value = 1.0
    copy = "BS 7671:2018+A4:2026, own printed copy"
    initials = "QS"
    date = 2026-11-20

A table's cell is named by ``row`` and ``column`` beside ``key``. docs/editions.md tells more.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from boardwright.core.errors import FieldError, FileError
from boardwright.core.findings import Known
from boardwright.standards.digest import digest_of
from boardwright.standards.edition import Edition, Entry, Table
from boardwright.standards.overrides import REPLACES
from boardwright.standards.trace import Figure

_WORDS = ("key", "copy", "initials")
_ALLOWED = {*_WORDS, "value", "date", "row", "column"}


def confirm(edition: Edition, path: Path) -> Edition:
    """Return the edition with every confirmation of a file in its place.

    Raises
    ------
    FieldError
        A confirmation names an unknown key or holds a value of the wrong kind.
    FileError
        The file cannot be read, or is not TOML.
    """
    entries, tables = dict(edition.entries), dict(edition.tables)
    seen: set[Figure] = set()
    for number, item in enumerate(_items(path), start=1):
        place = f"{path.name}, confirmed number {number}"
        _check_words(item, place)
        key = item["key"]
        _check_once(item, seen, place)
        if key in entries:
            entries[key] = _entry(entries[key], item, place)
        elif key in tables:
            tables[key] = _table(tables[key], item, place)
        else:
            raise FieldError("key", key, f"an entry or table of {edition.name}", place=place)
    confirmed = replace(edition, entries=entries, tables=tables)
    return replace(confirmed, digest=digest_of(confirmed))


def _items(path: Path) -> list[dict[str, Any]]:
    try:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise FileError(f"{path}: cannot be read: {error.strerror}.") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise FileError(f"{path}: is not TOML: {error}.") from None
    items = content.get("confirmed")
    stray = sorted(content.keys() - {"confirmed"})
    if stray:
        raise FieldError(stray[0], content[stray[0]], "[[confirmed]] tables alone", place=path.name)
    if not isinstance(items, list) or not all(isinstance(item, dict) for item in items):
        raise FieldError("confirmed", items, "a list of [[confirmed]] tables", place=path.name)
    return items


def _check_words(item: dict[str, Any], place: str) -> None:
    for stray in sorted(item.keys() - _ALLOWED):
        raise FieldError(stray, item[stray], f"one of {', '.join(sorted(_ALLOWED))}", place=place)
    for word in _WORDS:
        if not isinstance(item.get(word), str) or not item[word].strip():
            raise FieldError(word, item.get(word), "some words", place=place)
    if not isinstance(item.get("date"), date):
        raise FieldError("date", item.get("date"), "a date such as 2026-11-20", place=place)
    if "value" not in item:
        raise FieldError("value", None, "the figure that the copy gives", place=place)


def _check_once(item: dict[str, Any], seen: set[Figure], place: str) -> None:
    figure = Figure(item["key"], str(item.get("row", "")), str(item.get("column", "")))
    if figure in seen:
        raise FieldError("key", figure.place, "each figure once in the file", place=place)
    seen.add(figure)


def _entry(entry: Entry, item: dict[str, Any], place: str) -> Entry:
    value = item["value"]
    if not _same_kind(entry.value, value):
        kind = "yes or no" if isinstance(entry.value, bool) else "words"
        expected = f"a number in {entry.unit}" if _is_number(entry.value) else kind
        raise FieldError(f"value of {entry.key}", value, expected.removesuffix(" in "), place=place)
    if "row" in item or "column" in item:
        raise FieldError("row", item.get("row"), f"none: {entry.key} is no table", place=place)
    _check_size(entry.key, entry.value, value, place)
    note = _note(item, "confirmed" if value == entry.value else f"{REPLACES}{entry.value}")
    return replace(entry, value=value, known=Known.CONFIRMED, carried=False, note=note)


def _table(table: Table, item: dict[str, Any], place: str) -> Table:
    row, column = item.get("row"), item.get("column")
    if not isinstance(row, str) or not isinstance(column, str):
        raise FieldError("row", row, f"row and column of {table.key}, as words", place=place)
    if row not in table.rows:
        raise FieldError("row", row, f"one of {', '.join(table.rows)}", place=place)
    columns = dict.fromkeys(name for cells in table.rows.values() for name in cells)
    if column not in columns:
        raise FieldError("column", column, f"one of {', '.join(columns)}", place=place)
    if not _is_number(item["value"]):
        raise FieldError(f"value of {table.key}", item["value"], "a number", place=place)
    before = table.cell(row, column)
    _check_size(table.key, before, item["value"], place)
    rows = {**table.rows, row: {**table.rows[row], column: float(item["value"])}}
    note = _note(item, "confirmed" if item["value"] == before else f"{REPLACES}{before}")
    cells = {**table.confirmed_cells, (row, column): note}
    return replace(table, rows=rows, confirmed_cells=cells)


def _check_size(key: str, old: object, value: object, place: str) -> None:
    """Refuse what no table can hold: a figure below 0, infinite, or 0 where there was more."""
    if not isinstance(value, int | float) or isinstance(value, bool):
        return
    if not math.isfinite(value) or value < 0 or (value == 0 and old != 0):
        raise FieldError(f"value of {key}", value, "a number over 0", place=place)


def _note(item: dict[str, Any], what: str) -> str:
    return f"{what}; {item['copy']}, {item['initials']}, {item['date'].isoformat()[:10]}"


def _same_kind(old: float | str | bool, new: object) -> bool:  # noqa: FBT001 - an entry holds any of the three
    if _is_number(old):
        return _is_number(new)
    return type(old) is type(new)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
