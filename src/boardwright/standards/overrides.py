"""The user's own figures that an edition was loaded with."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.core.findings import Known, Rule
from boardwright.standards.edition import Edition
from boardwright.standards.trace import Figure

REPLACES = "replaces "
"""How the note of a figure begins that differs from the one shipped."""


@dataclass(frozen=True, slots=True)
class Override:
    """One figure that the user read in their own copy. ``value`` is in ``unit``."""

    figure: Figure
    value: float | str | bool
    unit: str
    rule: Rule

    @property
    def replaces(self) -> bool:
        """Tell whether it differs from the figure shipped, and so moves the design."""
        return self.rule.note.startswith(REPLACES)


def overrides(edition: Edition) -> Iterator[Override]:
    """Yield every figure of the edition that comes from the user's own file."""
    for key, entry in edition.entries.items():
        if entry.known is Known.CONFIRMED:
            yield Override(Figure(key), entry.value, entry.unit, edition.rule(key))
    for key, table in edition.tables.items():
        for row, column in table.confirmed_cells:
            rule = edition.cell_rule(key, row, column)
            value = table.rows[row][column]
            yield Override(Figure(key, row, column), value, table.unit, rule)
