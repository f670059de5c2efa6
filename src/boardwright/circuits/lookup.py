"""Tables whose rows are steps: a value between two rows takes the one that errs to caution."""

from __future__ import annotations

from boardwright.standards.edition import Table


def row_up_to(table: Table, value: float) -> str:
    """Return the largest row not above a value, else the smallest: for sizes of conductors.

    An old imperial size then carries no more than the metric size below it.
    """
    rows = sorted(table.rows, key=float)
    return next((row for row in reversed(rows) if float(row) <= value), rows[0])


def row_from(table: Table, value: float) -> str:
    """Return the smallest row not below a value, else the largest: for temperatures and counts."""
    rows = sorted(table.rows, key=float)
    return next((row for row in rows if float(row) >= value), rows[-1])


def figure(table: Table, row: str, column: str) -> float:
    """Return a cell that must be there.

    Raises
    ------
    KeyError
        The table has no such cell.
    """
    return table.rows[row][column]
