"""Two editions side by side: only what differs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from boardwright.core.findings import Rule
from boardwright.standards.edition import Edition
from boardwright.standards.trace import Figure

Value = float | str | bool


@dataclass(frozen=True, slots=True)
class Stated:
    """What one edition states: a value in ``unit``, and where it stands."""

    value: Value
    unit: str
    rule: Rule


@dataclass(frozen=True, slots=True)
class Difference:
    """One figure on which two editions differ; None where one of them has no such figure."""

    figure: Figure
    one: Stated | None
    other: Stated | None

    @property
    def in_value(self) -> bool:
        """Tell whether the figure itself differs, not only the clause that it stands in."""
        return self.one is None or self.other is None or self.one.value != self.other.value


def figures(edition: Edition) -> Iterator[Figure]:
    """Yield every figure of an edition, each cell of its tables included."""
    yield from map(Figure, edition.entries)
    for key, table in edition.tables.items():
        for row, cells in table.rows.items():
            yield from (Figure(key, row, column) for column in cells)


def stated(edition: Edition, figure: Figure) -> Stated | None:
    """Return what an edition states, or None where it has no such figure."""
    key, row, column = figure
    if not row:
        if key not in edition.entries:
            return None
        entry = edition.entries[key]
        return Stated(entry.value, entry.unit, edition.rule(key))
    value = edition.tables[key].cell(row, column) if key in edition.tables else None
    if value is None:
        return None
    return Stated(value, edition.tables[key].unit, edition.cell_rule(key, row, column))


def differences(one: Edition, other: Edition) -> tuple[Difference, ...]:
    """Return the figures whose value or clause differs, in the order of their keys.

    How sure each edition is of a figure is no difference: a figure carried over is the same.
    """
    either: Iterable[Figure] = {**dict.fromkeys(figures(one)), **dict.fromkeys(figures(other))}
    found = (Difference(f, stated(one, f), stated(other, f)) for f in sorted(either, key=_order))
    return tuple(difference for difference in found if _differs(difference))


def carried_count(edition: Edition) -> int:
    """Count the entries and tables that stand in from another edition."""
    entries = sum(entry.carried for entry in edition.entries.values())
    return entries + sum(table.carried for table in edition.tables.values())


def _differs(difference: Difference) -> bool:
    one, other = difference.one, difference.other
    if one is None or other is None:
        return True
    return (one.value, one.rule.clause) != (other.value, other.rule.clause)


def _order(figure: Figure) -> tuple[str, tuple[float, str], str]:
    return figure.key, as_number(figure.row), figure.column


def as_number(row: str) -> tuple[float, str]:
    """Return what puts rows in the order of their figures, words behind them."""
    try:
        return float(row), ""
    except ValueError:
        return float("inf"), row
