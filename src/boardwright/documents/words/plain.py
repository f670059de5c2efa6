"""Plain text for a terminal: columns that stand under one another within a hundred signs."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

WIDTH = 100
GAP = "  "


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, the unit below it, its widest, and the side it is set to."""

    head: str
    unit: str = ""
    widest: int = 40
    figures: bool = False


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> str:
    """Return rows under a head and a rule; a cell too long runs on below itself."""
    widths = [_width(column, [row[n] for row in rows]) for n, column in enumerate(columns)]
    heads = [[column.head for column in columns]]
    if any(column.unit for column in columns):
        heads.append([column.unit for column in columns])
    rule = "─" * min(WIDTH, sum(widths) + len(GAP) * (len(widths) - 1))
    lines = [_line(columns, widths, head) for head in heads]
    lines.append(rule)
    for row in rows:
        lines += _row(columns, widths, row)
    return "\n".join(lines) + "\n"


def paragraph(text: str, indent: int = 0, *, hanging: str = "") -> str:
    """Return text broken at the width, set in by ``indent``; ``hanging`` opens its first line."""
    start = f"{' ' * indent}{hanging}"
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=start,
        subsequent_indent=" " * len(start),
        break_long_words=True,
        break_on_hyphens=False,
    )


def heading(text: str) -> str:
    """Return a heading with its underline."""
    return f"{text}\n{'═' * min(WIDTH, len(text))}\n"


def _width(column: Column, cells: Sequence[str]) -> int:
    longest = max((len(cell) for cell in [*cells, column.head, column.unit]), default=0)
    return min(longest, column.widest)


def _row(columns: Sequence[Column], widths: Sequence[int], row: Sequence[str]) -> list[str]:
    cells = [
        textwrap.wrap(cell, width, break_on_hyphens=False) or [""]
        for cell, width in zip(row, widths, strict=True)
    ]
    height = max(len(cell) for cell in cells)
    return [
        _line(columns, widths, [cell[n] if n < len(cell) else "" for cell in cells])
        for n in range(height)
    ]


def _line(columns: Sequence[Column], widths: Sequence[int], cells: Sequence[str]) -> str:
    set_cells = [
        cell.rjust(width) if column.figures else cell.ljust(width)
        for column, width, cell in zip(columns, widths, cells, strict=True)
    ]
    return GAP.join(set_cells).rstrip()
