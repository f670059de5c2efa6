"""Which figures of an edition a calculation asked for: the edition is watched, not changed.

::

    trace = Trace()
    plan_circuits(job, catalogue, watched(edition, trace))
    trace.asked  # every figure that the plan rests on

The trace belongs to whoever makes it; the edition itself stays as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import NamedTuple, TypeVar

from boardwright.standards.edition import Edition, Entry, Table

_Value = TypeVar("_Value")


class Figure(NamedTuple):
    """One figure: an entry by its key, or a table's cell by key, row and column."""

    key: str
    row: str = ""
    column: str = ""

    @property
    def place(self) -> str:
        """The figure as a person finds it: key, then row and column of a table."""
        return f"{self.key}, row {self.row}, column {self.column}" if self.row else self.key


class Trace:
    """What was asked for, in the order in which it was first asked."""

    def __init__(self) -> None:
        self._asked: dict[Figure, None] = {}

    @property
    def asked(self) -> tuple[Figure, ...]:
        """Every figure asked for since the start, or since the last :meth:`take`."""
        return tuple(self._asked)

    def note(self, figure: Figure) -> None:
        """Note that a figure was asked for."""
        self._asked[figure] = None

    def take(self) -> tuple[Figure, ...]:
        """Return what was asked for and begin afresh."""
        asked = self.asked
        self._asked.clear()
        return asked


class _Watched(Mapping[str, _Value]):
    """A mapping that notes which of its keys is looked up; listing the keys is no look-up."""

    def __init__(
        self, found: Mapping[str, _Value], trace: Trace, figure: Callable[[str], Figure]
    ) -> None:
        self._found, self._trace, self._figure = found, trace, figure

    def __getitem__(self, name: str) -> _Value:
        value = self._found[name]
        self._trace.note(self._figure(name))
        return value

    def __contains__(self, name: object) -> bool:
        return name in self._found

    def __iter__(self) -> Iterator[str]:
        return iter(self._found)

    def __len__(self) -> int:
        return len(self._found)


def watched(edition: Edition, trace: Trace) -> Edition:
    """Return the same edition, whose figures note in ``trace`` that they were asked for."""
    entries: Mapping[str, Entry] = _Watched(edition.entries, trace, Figure)
    tables = {key: _watched_table(table, trace) for key, table in edition.tables.items()}
    return replace(edition, entries=entries, tables=tables)


def _watched_table(table: Table, trace: Trace) -> Table:
    rows = {
        row: _Watched(cells, trace, partial(Figure, table.key, row))
        for row, cells in table.rows.items()
    }
    return replace(table, rows=rows)
