"""A circuit added, taken away or moved in the list: the edits of the job that it means."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from itertools import count

from boardwright.core.errors import FieldError
from boardwright.job.edit import Edit
from boardwright.job.job import Job
from boardwright.web.views.entries import COLUMNS, MORE, cells

_LONGEST_ID = 40


def adding(job: Job, entered: Mapping[str, str]) -> tuple[str, tuple[Edit, ...]]:
    """Return the id of a new circuit, and the edits that add it.

    Raises
    ------
    FieldError
        It has no name.
    """
    name = entered.get("name", "").strip()
    if not name:
        raise FieldError("name", name, "what people call the circuit")
    circuit_id = free_id(name, {circuit.id for circuit in job.circuits})
    given = {
        "name": name,
        "serves": entered.get("serves", ""),
        "existing": False,
        "cable.line_mm2": entered.get("line", ""),
        "cable.cpc_mm2": entered.get("cpc", ""),
        "cable.length_m": entered.get("length", ""),
    }
    edits = (Edit(f"circuits.{circuit_id}.{path}", value) for path, value in given.items())
    return circuit_id, tuple(edits)


def removing(job: Job, circuit_id: str) -> tuple[Edit, ...]:
    """Return the edits that take a circuit away, with all that names it."""
    _need(job, circuit_id)
    edits = [
        Edit(f"existing_board.devices.{device.way}.circuit", None)
        for device in (job.existing_board.devices if job.existing_board else ())
        if device.circuit == circuit_id
    ]
    edits += [
        Edit(f"circuits.{other.id}.readings.shares_neutral_with", None)
        for other in job.circuits
        if other.readings.shares_neutral_with == circuit_id
    ]
    for key in ("keep_together", "keep_apart"):
        groups = getattr(job.wishes, key)
        left = [[c for c in group if c != circuit_id] for group in groups]
        if any(circuit_id in group for group in groups):
            edits.append(Edit(f"wishes.{key}", [group for group in left if len(group) > 1] or None))
    if circuit_id in job.wishes.ways:
        edits.append(Edit(f"wishes.ways.{circuit_id}", None))
    return (*edits, Edit(f"circuits.{circuit_id}", None))


def moving(job: Job, circuit_id: str, steps: int) -> tuple[Edit, ...]:
    """Return the edits that move a circuit up or down the list; none at its end."""
    at = _need(job, circuit_id)
    to = min(max(at + steps, 0), len(job.circuits) - 1)
    if to == at:
        return ()
    listed = job.model_dump(mode="json", exclude_defaults=True)["circuits"]
    listed.insert(to, listed.pop(at))
    # Setting the whole list forgets what in it was assumed: that is said again.
    return (Edit("circuits", listed), Edit("assumed", list(job.assumed)))


def changing(job: Job, circuit_id: str, entered: Mapping[str, str]) -> tuple[Edit, ...]:
    """Return the edits of a circuit's form: of each entry that differs from what stood in it."""
    stood = cells(job, job.circuit(circuit_id), (*COLUMNS, *MORE))
    return tuple(
        Edit(cell.path, entered[key].strip() or None)
        for key, cell in stood.items()
        if key in entered and entered[key].strip() != cell.value
    )


def _need(job: Job, circuit_id: str) -> int:
    for at, circuit in enumerate(job.circuits):
        if circuit.id == circuit_id:
            return at
    raise FieldError("circuit", circuit_id, "the id of a circuit of this home")


def free_id(name: str, taken: Collection[str]) -> str:
    """Return an id after a name that nothing has yet."""
    word = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[: _LONGEST_ID - 4] or "item"
    if word not in taken:
        return word
    return next(f"{word}-{n}" for n in count(2) if f"{word}-{n}" not in taken)


__all__ = ["adding", "changing", "free_id", "moving", "removing"]
