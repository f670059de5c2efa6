"""Parts of a job begun, copied, moved and taken away, as edits."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from boardwright.core.errors import FieldError
from boardwright.job.circuit import Circuit
from boardwright.job.edit import Edit
from boardwright.job.job import Job

_NAMED_BY = {"bonds": "service", "devices": "way"}
"""What names an item of a list; a circuit and an appliance are named after what was typed."""

_LONGEST_ID = 40
_READ = ("readings", "appliances", "way")
"""What a copy of a circuit does not take over: it was seen on the other one."""


def added(job: Job, at: str, part: Mapping[str, Any]) -> tuple[list[Edit], str]:
    """Return the edits that add a part at a path, and the path it then has.

    Raises
    ------
    FieldError
        What names it was not given.
    """
    *above, last = at.split(".")
    if last != "new":
        return [Edit(at, dict(part))], at
    name, item = _named(job, above[-1], part, ".".join(above))
    path = ".".join((*above, name))
    edits = [Edit(path, item)]
    if above[-1] == "circuits":
        edits += _assumed_of(path, item, part)
    return edits, path


def _named(job: Job, kind: str, part: Mapping[str, Any], at: str) -> tuple[str, dict[str, Any]]:
    if kind in _NAMED_BY:
        key = _NAMED_BY[kind]
        return _given(part, key, at), dict(part)
    if kind == "circuits":
        name = _given(part, "name", at)
        made = free_id(name, [circuit.id for circuit in job.circuits])
        return made, _begun(job, {"id": made, **part})
    taken = [appliance.id for circuit in job.circuits for appliance in circuit.appliances]
    made = free_id(_given(part, "kind", at), taken)
    return made, {"id": made, **part}


def _given(part: Mapping[str, Any], key: str, at: str) -> str:
    if not part.get(key):
        raise FieldError(f"{at}.new.{key}", "nothing", "an answer before it can be added")
    return str(part[key])


def _begun(job: Job, part: dict[str, Any]) -> dict[str, Any]:
    """Return a new circuit; sizes that were not given are those of the most alike circuit."""
    like = _like(job, str(part.get("serves", ""))).cable
    sizes = {"line_mm2": like.line_mm2, "cpc_mm2": like.cpc_mm2, "length_m": like.length_m}
    return {**part, "existing": False, "cable": {**sizes, **part.get("cable", {})}}


def _like(job: Job, serves: str) -> Circuit:
    alike = (circuit for circuit in job.circuits if circuit.serves == serves)
    return next(alike, job.circuits[0])


def _assumed_of(path: str, item: Mapping[str, Any], part: Mapping[str, Any]) -> Iterator[Edit]:
    given = part.get("cable", {})
    for key, value in item["cable"].items():
        if key not in given:
            yield Edit(f"{path}.cable.{key}", value, assumed=True)


def copied(job: Job, path: str) -> tuple[list[Edit], str]:
    """Return the edits that repeat a circuit, without what was read on it."""
    circuit = job.circuit(path.removeprefix("circuits."))
    name = f"{circuit.name[:50]}, copy"
    made = free_id(name, [each.id for each in job.circuits])
    data = circuit.model_dump(mode="json", exclude_defaults=True)
    kept = {key: value for key, value in data.items() if key not in _READ}
    return [Edit(f"circuits.{made}", {**kept, "id": made, "name": name})], f"circuits.{made}"


def moved(job: Job, path: str, by: int) -> list[Edit]:
    """Return the edit that moves a circuit up (-1) or down (1) in the list."""
    ids = [circuit.id for circuit in job.circuits]
    at = ids.index(path.removeprefix("circuits."))
    to = min(max(at + by, 0), len(ids) - 1)
    ids.insert(to, ids.pop(at))
    data = {c.id: c.model_dump(mode="json", exclude_defaults=True) for c in job.circuits}
    return [Edit("circuits", [data[each] for each in ids])]


def taken_away(job: Job, path: str) -> list[Edit]:
    """Return the edits that remove a part, and what speaks of it elsewhere."""
    edits = [Edit(path, None)]
    if path.startswith("circuits.") and path.count(".") == 1:
        return [*_unnamed(job, path.removeprefix("circuits.")), *edits]
    return edits


def _unnamed(job: Job, circuit_id: str) -> Iterator[Edit]:
    for device in job.existing_board.devices if job.existing_board else ():
        if device.circuit == circuit_id:
            yield Edit(f"existing_board.devices.{device.way}.circuit", None)
    for circuit in job.circuits:
        if circuit.readings.shares_neutral_with == circuit_id:
            yield Edit(f"circuits.{circuit.id}.readings.shares_neutral_with", None)
    for key in ("keep_together", "keep_apart"):
        groups: Sequence[Sequence[str]] = getattr(job.wishes, key)
        if any(circuit_id in group for group in groups):
            left = [[name for name in group if name != circuit_id] for group in groups]
            yield Edit(f"wishes.{key}", [group for group in left if len(group) > 1])


def free_id(name: str, taken: Sequence[str]) -> str:
    """Return an id after a name that nothing has yet."""
    word = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[: _LONGEST_ID - 4] or "item"
    if word not in taken:
        return word
    return next(f"{word}-{n}" for n in range(2, len(taken) + 3) if f"{word}-{n}" not in taken)


__all__ = ["added", "copied", "free_id", "moved", "taken_away"]
