"""What differs between two states of a job, field by field and in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from boardwright.job.job import Job
from boardwright.job.paths import item_names
from boardwright.job.schema import job_schema
from boardwright.job.words import inside, unit_of


@dataclass(frozen=True, slots=True)
class Difference:
    """One field: its path, its place and name in words, and what it said; nothing for not known."""

    path: str
    place: str
    what: str
    unit: str
    before: Any
    after: Any


def differences(before: Job, after: Job) -> tuple[Difference, ...]:
    """Return every field that differs, in the order of the job file.

    An item of a list that is in one of them only is one difference.
    """
    tables = (before.model_dump(), after.model_dump())
    return tuple(
        _worded(path, values, (before, after))
        for path, *values in _walk("", *tables)
        if path != "designed_on"
    )


def field_words(path: str, *jobs: Job) -> tuple[str, str]:
    """Return the place and the name of a field in words; circuits go by their names."""
    steps = path.split(".")
    loc: list[int | str] = []
    places: list[str] = []
    for at, step in enumerate(steps):
        here = inside(_schema(), loc, _schema()) or {}
        if "items" in here or here.get("type") == "array":
            loc.append(0)
            places.append(_item(steps[:at], step, jobs))
        else:
            loc.append(step)
    return ", ".join(places), "" if loc[-1] == 0 else _description(loc)


def _worded(path: str, values: Sequence[Any], jobs: tuple[Job, Job]) -> Difference:
    place, what = field_words(path, *reversed(jobs))
    return Difference(path, place, what, unit_of(path.rpartition(".")[2]), *values)


def _walk(path: str, before: Any, after: Any) -> Iterator[tuple[str, Any, Any]]:  # noqa: ANN401 - any value of a job
    if before == after:
        return
    pair = (before, after)
    if all(isinstance(each, Mapping) for each in pair):
        for key in {**before, **after}:
            yield from _walk(f"{path}.{key}".strip("."), before.get(key), after.get(key))
        return
    lists = [each or () for each in pair]
    if all(isinstance(each, list | tuple) for each in lists) and _are_named(lists):
        old, new = (dict(zip(item_names(each), each, strict=True)) for each in lists)
        if [*old] != [*new] and set(old) == set(new):
            yield path, [*old], [*new]
        for name in {**old, **new}:
            yield from _walk(f"{path}.{name}", old.get(name), new.get(name))
        return
    yield path, before, after


def _are_named(lists: Sequence[Sequence[Any]]) -> bool:
    names = [name for each in lists for name in item_names(each)]
    return bool(names) and not any(name.startswith("#") for name in names)


def _description(loc: Sequence[int | str]) -> str:
    section = inside(_schema(), loc[:-1], _schema()) or {}
    name = str(loc[-1])
    found = section.get("properties", {}).get(name, {})
    return str(found.get("description") or name.replace("_", " "))


def _item(steps: Sequence[str], name: str, jobs: Sequence[Job]) -> str:
    """Return what an item of a list is called: a circuit's own name, else kind and name."""
    for job in jobs:
        for circuit in job.circuits if [*steps] == ["circuits"] else ():
            if circuit.id == name:
                return circuit.name
    kind = steps[-1].removesuffix("s")
    return f"way {name}" if kind == "device" else f"{kind} {name}"


@cache
def _schema() -> Mapping[str, Any]:
    return job_schema()


__all__ = ["Difference", "differences", "field_words"]
