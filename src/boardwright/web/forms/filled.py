"""A form of the survey as it was sent: what changed, as edits of the job."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from boardwright.core.errors import FieldError
from boardwright.documents.words.figures import NO_BREAK
from boardwright.job.edit import Edit
from boardwright.web.views.fields import Field


@dataclass(frozen=True, slots=True)
class Sent:
    """What a form brought: typed values by path, and the paths ticked unknown and assumed."""

    values: Mapping[str, str]
    unknown: frozenset[str]
    assumed: frozenset[str]


def changed(fields: Sequence[Field], sent: Sent) -> tuple[Edit, ...]:
    """Return the edits between what a form showed and what came back."""
    return tuple(edit for field in fields if (edit := _edit(field, sent)) is not None)


def began(fields: Sequence[Field], at: str, sent: Sent) -> dict[str, Any]:
    """Return the part of the job that new fields begin; what was left empty is left out."""
    part: dict[str, Any] = {}
    for field in fields:
        typed = sent.values.get(field.path, "").strip()
        if not typed:
            continue
        *outer, key = field.path.removeprefix(f"{at}.").split(".")
        inside = part
        for name in outer:
            inside = inside.setdefault(name, {})
        inside[key] = value_of(field, typed)
    return part


def _edit(field: Field, sent: Sent) -> Edit | None:
    if field.state == "new" or field.path not in sent.values:
        return None
    typed = sent.values[field.path].strip().replace("\r\n", "\n")
    asked = field.path in sent.unknown
    # A value typed while the mark of before still stood is an answer, not a doubt.
    unknown = asked and (typed == field.value or not typed)
    if field.must:
        return _kept(field, typed, assumed=unknown or field.path in sent.assumed)
    if unknown or not typed:
        known = field.value and field.state != "unknown"
        return Edit(field.path, field.blank or None) if known else None
    return _kept(field, typed, assumed=field.path in sent.assumed)


def _kept(field: Field, typed: str, *, assumed: bool) -> Edit | None:
    if typed == field.value and assumed == (field.state == "assumed"):
        return None
    # What the design cannot do without, and nobody gave, stays what it is taken for.
    shown = typed or field.value
    return Edit(field.path, value_of(field, shown) if shown else None, assumed)


def value_of(field: Field, typed: str) -> Any:  # noqa: ANN401 - any value of a job
    """Return what a person typed as the job has it; a number that is none stays as typed."""
    if field.kind == "choice":
        return _chosen(field, typed)
    if field.kind == "number":
        return _number(field, typed)
    if field.kind == "ways":
        return _ways(typed)
    return _groups(field, typed) if field.kind == "groups" else typed


def _chosen(field: Field, typed: str) -> Any:  # noqa: ANN401 - a word, a number or a truth
    if field.as_type == "bool":
        return {"yes": True, "no": False}.get(typed, typed)
    return int(typed) if field.as_type == "int" and typed.isdecimal() else typed


def _number(field: Field, typed: str) -> str | float:
    if field.factor == 1.0:
        return typed
    try:
        shown = float(typed)
    except ValueError:
        # The job's own reader says what is wrong with it.
        return typed
    return float(f"{shown / field.factor:.12g}")


def _ways(typed: str) -> list[int] | str:
    ways = [way.strip() for way in typed.split(",") if way.strip()]
    return [int(way) for way in ways] if all(way.isdecimal() for way in ways) else typed


def _groups(field: Field, typed: str) -> list[list[str]]:
    ids = {each.words.casefold(): each.value for each in field.choices}
    return [
        [ids.get(name.strip().casefold(), name.strip()) for name in line.split(",") if name.strip()]
        for line in typed.splitlines()
        if line.strip()
    ]


def sentence_of(field: Field, error: FieldError, typed: str) -> str:
    """Return what stands beside a wrong answer: its name, what was typed, what would be right."""
    shown = f"{typed}{NO_BREAK}{field.unit}" if typed and field.unit else typed or "nothing"
    if field.kind == "number":
        remedy = f" {error.remedy}" if error.remedy and field.factor == 1.0 else ""
        return f"{field.label}: {shown} cannot be kept. Enter {field.wants}.{remedy}"
    remedy = f" {error.remedy}" if error.remedy else ""
    return f"{field.label}: {shown} cannot be kept. Enter {error.expected}.{remedy}"


def placed(
    errors: Sequence[Exception], fields: Sequence[Field], sent: Sent
) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return each error beside its field, and the rest."""
    by_path = {field.path: field for field in fields}
    beside: dict[str, str] = {}
    rest: list[str] = []
    for error in errors:
        field = _speaks_of(error, by_path)
        if field is None or not isinstance(error, FieldError):
            rest.append(str(error))
        else:
            beside[field.path] = sentence_of(field, error, sent.values.get(field.path, ""))
    return beside, tuple(rest)


def _speaks_of(error: Exception, by_path: Mapping[str, Field]) -> Field | None:
    return next(iter(_candidates(error, by_path)), None)


def _candidates(error: Exception, by_path: Mapping[str, Field]) -> Iterator[Field]:
    path = error.path if isinstance(error, FieldError) else ""
    if path in by_path:
        yield by_path[path]
    for known, field in by_path.items():
        # An item that is being added has no name yet in the form.
        start, new, end = known.partition(".new.")
        if new and path.startswith(f"{start}.") and path.endswith(f".{end}"):
            yield field


__all__ = ["Sent", "began", "changed", "placed", "sentence_of", "value_of"]
