"""Workings as the page folds them: part by part, each figure with its sum and its clause."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from boardwright.circuits.working.home import demand_working
from boardwright.design import Design
from boardwright.documents.words.figures import NO_BREAK
from boardwright.documents.workings.spd import spd_working
from boardwright.documents.workings.workings import NOT_KNOWN, Row, rows, shared_rows

_CARRIED = "carried from the edition before"


@dataclass(frozen=True, slots=True)
class Sum:
    """One figure: ``in_figures`` is empty where it only repeats the value."""

    sign: str
    says: str
    value: str
    unknown: bool
    in_signs: str
    in_figures: str
    note: str
    source: str
    from_memory: bool


@dataclass(frozen=True, slots=True)
class Part:
    """The sums of one part."""

    name: str
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True)
class Shared:
    """What the circuits share, parted as the page is."""

    supply: tuple[Part, ...]
    demand: tuple[Part, ...]
    surge: tuple[Part, ...]


def circuit_parts(design: Design, circuit_id: str) -> tuple[Part, ...]:
    """Return the working of one circuit."""
    return _parts(rows(design, circuit_id))


def shared_parts(design: Design) -> Shared:
    """Return the working of what the circuits share, each part where its figures stand."""
    parts = _parts(shared_rows(design))
    of_demand = {s.part for s in demand_working(design.plan, design.job, design.edition)}
    of_surge = {step.part for step in spd_working(design)}
    return Shared(
        supply=tuple(p for p in parts if p.name not in of_demand | of_surge),
        demand=tuple(p for p in parts if p.name in of_demand),
        surge=tuple(p for p in parts if p.name in of_surge),
    )


def _parts(found: Iterable[Row]) -> tuple[Part, ...]:
    return tuple(
        Part(name, tuple(map(_sum, group)))
        for name, group in groupby(found, key=lambda row: row.part)
    )


def _sum(row: Row) -> Sum:
    return Sum(
        sign=row.sign,
        says=row.says.replace(" °C", f"{NO_BREAK}°C"),
        value=row.value,
        unknown=row.value == NOT_KNOWN,
        in_signs=row.in_signs,
        # A figure with nothing to work out is not written twice.
        in_figures="" if row.in_figures == row.value else row.in_figures,
        note=row.note,
        # Nearly every row would end in the same five words; the page says once what it means.
        source=row.source.replace(_CARRIED, "carried"),
        from_memory="from memory" in row.source,
    )
