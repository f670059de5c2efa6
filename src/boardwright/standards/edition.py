"""An edition: figures, clauses and tables, each with where it comes from.

An edition is loaded once by the caller and passed down; there is no current one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from boardwright.core.errors import BoardwrightError
from boardwright.core.findings import Known, Rule


class MissingRuleError(BoardwrightError):
    """An edition's data lacks a key that a calculation asks for."""


class AbsentRuleError(MissingRuleError):
    """The edition has no such rule, and says so: what asks for it does not apply."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One figure, word or switch of an edition.

    ``carried`` is true where it is known only from the edition before;
    ``note`` tells of the user's own override: value, copy, initials, date.
    """

    key: str
    value: float | str | bool
    unit: str
    clause: str
    source: str
    known: Known
    carried: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table: row label to column label to figure. A missing cell is not made or not known.

    ``known`` speaks for the table; ``memory_cells`` lists (row, column) known only from memory,
    where ``column`` is ``*`` for a whole row. ``confirmed_cells`` holds the user's own note
    on each cell that they read in their copy.
    """

    key: str
    unit: str
    clause: str
    source: str
    known: Known
    rows: Mapping[str, Mapping[str, float]]
    carried: bool = False
    memory_cells: frozenset[tuple[str, str]] = frozenset()
    confirmed_cells: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def cell(self, row: str, column: str) -> float | None:
        """Return the figure, or None where the table has none."""
        return self.rows.get(row, {}).get(column)

    def known_of(self, row: str, column: str) -> Known:
        """Return how sure we are of one cell."""
        if (row, column) in self.confirmed_cells:
            return Known.CONFIRMED
        doubtful = {(row, column), (row, "*"), ("*", column)} & self.memory_cells
        return Known.MEMORY if doubtful else self.known


@dataclass(frozen=True, slots=True)
class Edition:
    """The figures, clauses and tables of one edition."""

    name: str
    title: str
    entries: Mapping[str, Entry]
    tables: Mapping[str, Table]
    digest: str = ""
    """Hash of all entries and tables, overrides included."""
    valid_from: str = ""
    valid_to: str = ""
    """First and last day of work designed to it, or empty."""
    carries_from: str = ""
    """The edition whose figures stand in where this one's text was not seen."""
    carried_words: str = ""
    """That edition by its title, where it is not simply the one before."""
    absent: frozenset[str] = frozenset()
    """Rules of the edition it carries from that this one is known not to have."""

    def entry(self, key: str) -> Entry:
        """Return the entry of a key.

        Raises
        ------
        MissingRuleError
            The edition has no such key.
        """
        try:
            return self.entries[key]
        except KeyError:
            raise self._missing("entry", key) from None

    def number(self, key: str) -> float:
        """Return a numeric entry in its own unit."""
        return float(self.entry(key).value)

    def text(self, key: str) -> str:
        """Return an entry as text."""
        return str(self.entry(key).value)

    def switch(self, key: str) -> bool:
        """Return a yes-or-no entry."""
        return bool(self.entry(key).value)

    def has(self, key: str) -> bool:
        """Tell whether the edition has the entry; a check without one does not apply."""
        return key in self.entries

    def table(self, key: str) -> Table:
        """Return a table.

        Raises
        ------
        MissingRuleError
            The edition has no such table.
        """
        try:
            return self.tables[key]
        except KeyError:
            raise self._missing("table", key) from None

    def _missing(self, kind: str, key: str) -> MissingRuleError:
        error = AbsentRuleError if key in self.absent else MissingRuleError
        return error(f"Edition {self.name} has no {kind} {key!r}.")

    def rule(self, key: str) -> Rule:
        """Return what a finding cites for an entry or a table."""
        item = self.entries.get(key) or self.table(key)
        note = item.note if isinstance(item, Entry) else ""
        return self._rule(item, item.known, note)

    def cell_rule(self, key: str, row: str, column: str) -> Rule:
        """Return what a finding cites for one cell of a table."""
        table = self.table(key)
        note = table.confirmed_cells.get((row, column), "")
        return self._rule(table, table.known_of(row, column), note)

    def _rule(self, item: Entry | Table, known: Known, note: str) -> Rule:
        carried = item.carried and not note
        from_words = self.carried_words if carried else ""
        return Rule(item.clause, self.title, known, carried, note, from_words)
