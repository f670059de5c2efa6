"""The form of one circuit: every entry of the table and those it has no room for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from boardwright.core.errors import BoardwrightError, FieldError, InputErrors
from boardwright.job.job import Job
from boardwright.web.views.entries import COLUMNS, MORE, NUMBER, cells

ALL = {column.key: column for column in (*COLUMNS, *MORE)}


@dataclass(frozen=True, slots=True)
class Field:
    """One entry as a form asks it; ``fault`` says why what was entered cannot be kept."""

    key: str
    title: str
    unit: str
    value: str
    choices: tuple[str, ...]
    optional: bool
    is_figure: bool
    fault: str


@dataclass(frozen=True, slots=True)
class CircuitForm:
    """All that the form of a circuit shows; ``faults`` are those that belong to no entry of it."""

    id: str
    name: str
    fields: tuple[Field, ...]
    faults: tuple[str, ...]


def circuit_form(
    job: Job,
    circuit_id: str,
    entered: Mapping[str, str] | None = None,
    error: BoardwrightError | None = None,
) -> CircuitForm:
    """Return the form of a circuit; with what was entered and refused, that and the reason.

    Raises
    ------
    FieldError
        The home has no such circuit.
    """
    circuit = next((c for c in job.circuits if c.id == circuit_id), None)
    if circuit is None:
        raise FieldError("circuit", circuit_id, "the id of a circuit of this home")
    by_path, rest = _faults(error)
    fields = []
    for key, cell in cells(job, circuit, tuple(ALL.values())).items():
        column = cell.column
        fields.append(
            Field(
                key=key,
                title=column.title,
                unit=column.unit,
                value=(entered or {}).get(key, cell.value),
                choices=column.choices,
                optional=bool(column.silent) or column.key in ("standard", "rcd", "afdd"),
                is_figure=column.kind == NUMBER,
                fault=by_path.pop(cell.path, ""),
            )
        )
    return CircuitForm(circuit_id, circuit.name, tuple(fields), (*by_path.values(), *rest))


def _faults(error: BoardwrightError | None) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return what was refused, by path, and what no path belongs to."""
    if error is None:
        return {}, ()
    errors = error.errors if isinstance(error, InputErrors) else (error,)
    by_path = {e.path: str(e) for e in errors if isinstance(e, FieldError)}
    return by_path, tuple(str(e) for e in errors if not isinstance(e, FieldError))
