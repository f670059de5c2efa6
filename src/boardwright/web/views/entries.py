"""The entries of the circuits' table: which fields of a circuit are cells, and what they hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from boardwright.job.circuit import Cable, Circuit, Method, Serves, Wanted
from boardwright.job.job import Job

NAMES, CHOICE, NUMBER = "text", "choice", "number"


@dataclass(frozen=True, slots=True)
class Column:
    """One column of entries: its path within a circuit, its heading, and how it is entered.

    ``silent`` is what an empty cell says; ``answers`` the heading of the figure below the entry.
    """

    key: str
    path: str
    title: str
    kind: str
    unit: str = ""
    silent: str = ""
    answers: str = ""
    choices: tuple[str, ...] = ()

    @property
    def is_figure(self) -> bool:
        """Tell whether it is set to the right, as figures are."""
        return self.kind == NUMBER


@dataclass(frozen=True, slots=True)
class Cell:
    """One entry: its dotted path in the job, its value as typed, and whether it was assumed."""

    column: Column
    path: str
    value: str
    assumed: bool


def _literal(annotation: object) -> tuple[str, ...]:
    """Return the words of a closed list, whatever it is wrapped in."""
    found: list[str] = []
    for inner in get_args(annotation):
        found += [inner] if isinstance(inner, str) else _literal(inner)
    return tuple(found)


COLUMNS = (
    Column("name", "name", "Circuit", NAMES),
    Column("serves", "serves", "Serves", CHOICE, choices=_literal(Serves)),
    Column("topology", "topology", "Run", CHOICE, choices=("radial", "ring")),
    Column("power", "load.power_w", "Load", NUMBER, "W", "[  ]", "Ib, A"),
    Column("in", "wanted.in_a", "In", NUMBER, "A", "–"),
    Column(
        "curve",
        "wanted.curve",
        "Curve",
        CHOICE,
        choices=_literal(Wanted.model_fields["curve"].annotation),
    ),
    Column("line", "cable.line_mm2", "Line", NUMBER, "mm²", "[  ]", "Iz, A"),
    Column("cpc", "cable.cpc_mm2", "CPC", NUMBER, "mm²", "[  ]", "least"),
    Column("length", "cable.length_m", "Length", NUMBER, "m", "[  ]", "drop, V"),
    Column(
        "method", "cable.method", "Method", CHOICE, "", "[  ]", "taken", choices=_literal(Method)
    ),
)

MORE = (
    Column("label", "label", "Short name for the board", NAMES),
    Column("room", "room", "Room or floor", NAMES),
    Column(
        "type",
        "cable.type",
        "Cable",
        CHOICE,
        choices=_literal(Cable.model_fields["type"].annotation),
    ),
    Column("ambient", "cable.ambient_c", "Temperature around it", NUMBER, "°C"),
    Column("grouped", "cable.grouped_with", "Other loaded circuits it runs with", NUMBER),
    Column(
        "grouping",
        "cable.grouping",
        "How it lies among them",
        CHOICE,
        choices=_literal(Cable.model_fields["grouping"].annotation),
    ),
    Column("insulated", "cable.insulated_mm", "Buried in insulation on all sides", NUMBER, "mm"),
    Column("ib", "load.ib_a", "Design current, if known", NUMBER, "A"),
    Column("points", "load.points", "Outlets or lights", NUMBER),
    Column(
        "standard",
        "wanted.standard",
        "Device wished for",
        CHOICE,
        choices=_literal(Wanted.model_fields["standard"].annotation),
    ),
    Column(
        "rcd",
        "wanted.rcd_type",
        "RCD type wished for",
        CHOICE,
        choices=_literal(Wanted.model_fields["rcd_type"].annotation),
    ),
    Column("afdd", "wanted.afdd", "Arc fault detection", CHOICE, choices=("yes", "no")),
)
"""Entries that the table has no room for; the form of one circuit has them too."""


def cells(job: Job, circuit: Circuit, columns: tuple[Column, ...] = COLUMNS) -> Mapping[str, Cell]:
    """Return the entries of a circuit by the key of their column."""
    assumed = set(job.assumed)
    found = {}
    for column in columns:
        path = f"circuits.{circuit.id}.{column.path}"
        found[column.key] = Cell(column, path, as_typed(_value(circuit, column)), path in assumed)
    return found


def as_typed(value: object) -> str:
    """Return a value as a person would type it: 9500 and not 9,500 or 9500.0."""
    if value is None:
        return ""
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def _value(circuit: Circuit, column: Column) -> object:
    found: object = circuit
    for step in column.path.split("."):
        found = getattr(found, step)
    return found
