"""Edits that are only tried: as they stand in an address, and in words."""

from __future__ import annotations

from collections.abc import Sequence

from boardwright.core.errors import FieldError
from boardwright.job.edit import Edit
from boardwright.job.job import Job
from boardwright.web.views.entries import COLUMNS, MORE, as_typed

MOST = 60
"""How many edits one variant may have; an address holds no more."""

_TITLES = {column.path: column.title for column in (*COLUMNS, *MORE)}

_WISHES = {
    "wishes.division": "RCDs",
    "wishes.maker": "Maker wished for",
    "wishes.enclosure": "Enclosure wished for",
    "wishes.spd": "SPD wished for",
    "wishes.spare_ways": "Spare ways wished for",
    "surge_environment.declined_by": "Surge protection declined by",
}


def read(lines: Sequence[str]) -> tuple[Edit, ...]:
    """Return edits from ``path=value`` lines; nothing behind the sign means not known.

    Raises
    ------
    FieldError
        A line names no path, or there are too many.
    """
    if len(lines) > MOST:
        raise FieldError("variant", f"{len(lines)} edits", f"at most {MOST}")
    edits = []
    for line in lines:
        path, sign, value = line.partition("=")
        if not sign or not path:
            raise FieldError("variant", line, "a path of the job and its value, as wishes.spd=")
        edits.append(Edit(path, value or None))
    return tuple(edits)


def written(edits: Sequence[Edit]) -> tuple[str, ...]:
    """Return edits as ``path=value`` lines, the last of a path alone."""
    last = {edit.path: as_typed(edit.value) for edit in edits}
    return tuple(f"{path}={value}" for path, value in last.items())


def in_words(job: Job, edits: Sequence[Edit]) -> tuple[str, ...]:
    """Return what each edit changes, from what to what: ``Cooker, Line: 6 → 10``."""
    last = {edit.path: as_typed(edit.value) for edit in edits}
    return tuple(
        f"{_name(job, path)}: {_before(job, path) or 'nothing'} → {value or 'nothing'}"
        for path, value in last.items()
    )


def _name(job: Job, path: str) -> str:
    section, _, rest = path.partition(".")
    if section != "circuits":
        return _WISHES.get(path, path)
    circuit_id, _, field = rest.partition(".")
    names = [circuit.name for circuit in job.circuits if circuit.id == circuit_id]
    return f"{names[0] if names else circuit_id}, {_TITLES.get(field, field)}"


def _before(job: Job, path: str) -> str:
    """Return what a field holds now; empty where there is none."""
    found: object = job
    for step in path.split("."):
        if isinstance(found, tuple):
            found = next((item for item in found if getattr(item, "id", None) == step), None)
        else:
            found = getattr(found, step, None)
    return as_typed(found) if isinstance(found, str | int | float) else ""


__all__ = ["in_words", "read", "written"]
