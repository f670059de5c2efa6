"""Parts of a job begun, copied, moved and taken away, as edits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from boardwright.core.errors import FieldError
from boardwright.job.circuit import Circuit
from boardwright.job.edit import Edit
from boardwright.job.job import Job
from boardwright.web.forms.circuit_edits import free_id, moving, removing

_NAMED_BY = {"bonds": "service", "devices": "way"}
"""What names an item of a list; a circuit and an appliance are named after what was typed."""

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
    """Return the edits that move a circuit up (-1) or down (1) in the list."""
    return list(moving(job, path.removeprefix("circuits."), by))


def taken_away(job: Job, path: str) -> list[Edit]:
    """Return the edits that remove a part, and what speaks of it elsewhere."""
    kind, _, name = path.partition(".")
    if kind == "circuits" and "." not in name:
        return list(removing(job, name))
    return [Edit(path, None)]


__all__ = ["added", "copied", "moved", "taken_away"]
