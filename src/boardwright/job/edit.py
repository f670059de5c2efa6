"""Fields of a job set one by one, as a form or a table does; the rest of its text stays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from boardwright.core.errors import FieldError
from boardwright.job.explain import field_errors, listed
from boardwright.job.job import Job
from boardwright.job.paths import item_names, one_line
from boardwright.job.read import parse_job
from boardwright.job.write import job_text

# What an item of a list is called by, for a list that has none of it yet.
_NAMED_BY = {"circuits": "id", "appliances": "id", "bonds": "service", "devices": "way"}


@dataclass(frozen=True, slots=True)
class Edit:
    """One field by its dotted path, as ``circuits.shower.cable.line_mm2``, and its new value.

    Nothing as a value means not known yet; of an item of a list, that the item goes. ``assumed``
    marks the value as one that nobody saw.
    """

    path: str
    value: Any
    assumed: bool = False


def edited(text: str, edits: Sequence[Edit], name: str = "job") -> str:
    """Return a job's text with fields set; its comments and order are kept.

    A circuit that is not there yet begins with the first of its fields.

    Raises
    ------
    BoardwrightError
        A path leads nowhere, or the job does not hold together with the new values.
    """
    data = parse_job(text, name).model_dump(exclude_defaults=True)
    for edit in edits:
        data = _with(data, edit.path.split("."), edit)
        data["assumed"] = _assumed(data.get("assumed", ()), edit)
    return job_text(_job(data), text, name)


def _job(data: dict[str, Any]) -> Job:
    try:
        return Job.model_validate(data)
    except ValidationError as error:
        raise listed([said for _, said in field_errors(error, data)]) from None


def _with(section: dict[str, Any], steps: Sequence[str], edit: Edit) -> dict[str, Any]:
    """Return a section with the value at the end of the steps."""
    key, rest = steps[0], steps[1:]
    inside = section.get(key)
    if not rest:
        # Nothing known is what a key left out says.
        kept = {name: value for name, value in section.items() if name != key}
        return kept if edit.value is None else {**section, key: edit.value}
    if isinstance(inside, list | tuple) or key in _NAMED_BY:
        return {**section, key: _items(inside or (), key, rest, edit)}
    if inside is not None and not isinstance(inside, dict):
        raise _nowhere(edit)
    return {**section, key: _with(inside or {}, rest, edit)}


def _items(items: Sequence[Any], key: str, steps: Sequence[str], edit: Edit) -> tuple[Any, ...]:
    """Return a list with one of its items changed, added or taken away."""
    name, rest = steps[0], steps[1:]
    names = item_names(items)
    if not rest:
        new = () if edit.value is None else (edit.value,)
        if name not in names:
            return (*items, *new)
        at = names.index(name)
        return (*items[:at], *new, *items[at + 1 :])
    if name in names:
        at = names.index(name)
        if not isinstance(items[at], dict):
            raise _nowhere(edit)
        return (*items[:at], _with(items[at], rest, edit), *items[at + 1 :])
    if key not in _NAMED_BY:
        raise _nowhere(edit)
    return (*items, _with({_NAMED_BY[key]: name}, rest, edit))


def _nowhere(edit: Edit) -> FieldError:
    return FieldError("path", one_line(edit.path), "the dotted path of a field of the job")


def _assumed(paths: object, edit: Edit) -> object:
    """Return what is assumed still: a value that a person gives is not, unless they say so."""
    if not isinstance(paths, list | tuple) or not all(isinstance(path, str) for path in paths):
        # An edit said so: the job's own reader refuses it.
        return paths
    kept = tuple(
        path for path in paths if path != edit.path and not path.startswith(f"{edit.path}.")
    )
    return (*kept, edit.path) if edit.assumed and edit.value is not None else kept


__all__ = ["Edit", "edited"]
