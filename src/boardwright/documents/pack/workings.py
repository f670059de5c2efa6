"""The pack's calculation sheet: the workings in the fewest lines that still show them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from boardwright.design import Design
from boardwright.documents.workings.workings import Row, rows, shared_rows

Content = dict[str, Any]

_CARRIED = "carried from the edition before"


def workings(design: Design) -> list[Content]:
    """Return what the circuits share, then each circuit, part by part."""
    sheets = [_sheet("All circuits", shared_rows(design))]
    sheets += [_sheet(c.name, rows(design, c.id)) for c in design.job.circuits]
    return sheets


def _sheet(title: str, steps: Sequence[Row]) -> Content:
    return {
        "title": title,
        "parts": [
            {"part": part, "steps": [_step(row) for row in group]}
            for part, group in groupby(steps, key=lambda row: row.part)
        ],
    }


def _step(row: Row) -> Content:
    # A figure with nothing to work out is not written twice.
    sums = [row.in_signs, row.in_figures] if row.in_signs else []
    sums = sums[:1] if row.in_figures == row.value else sums
    source = row.source.replace(_CARRIED, "carried")
    return {
        "sign": row.sign,
        "value": row.value,
        "sum": " = ".join(sums),
        "about": " · ".join(filter(None, (row.says, row.note, source))),
    }
