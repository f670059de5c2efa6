"""One field of the survey as a form holds it: its value as typed, its range, what is so of it.

Range and choices come from the job's own schema, so that the form knows no rule of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from boardwright.core.findings import Finding
from boardwright.documents.words.figures import unit_sign
from boardwright.job.base import Surveyed
from boardwright.job.schema import job_schema
from boardwright.job.words import resolved, wanted
from boardwright.web.views.questions import Question

KNOWN, ASSUMED, UNKNOWN, FREE = "known", "assumed", "unknown", "free"
"""States of an answer; free: empty, and the work does not wait for it."""

JOINED_MOST = 4
_JOINED_LETTERS = 26
"""Two to four choices stand in one row where a phone is wide enough for their words."""

_ON_SITE_DIGITS = 9
_NOTHING = ("", "unknown")
"""Choices that say no more than that nobody knows."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several answers."""

    value: str
    words: str


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a form.

    ``kind`` is number, choice, text, ways or groups; ``value`` is what stands in it, as typed.
    ``blank`` is what an answer that nobody knows is saved as: nothing, or the word that says
    so; where the design cannot go on without a figure, ``must`` is true and the value is kept
    as assumed.
    """

    path: str
    label: str
    symbol: str = ""
    unit: str = ""
    kind: str = "text"
    value: str = ""
    state: str = KNOWN
    whole: bool = False
    factor: float = 1.0
    low: str = ""
    high: str = ""
    above: bool = False
    wants: str = ""
    as_type: str = "str"
    choices: tuple[Choice, ...] = ()
    blank: str = ""
    must: bool = False
    fact: bool = True
    needed: bool = False
    settle: str = ""
    wrong: str = ""
    finding: Finding | None = None

    @property
    def id(self) -> str:
        """The field's id in the page."""
        return "f-" + self.path.replace(".", "-").replace(" ", "-")

    @property
    def joined(self) -> bool:
        """Whether its choices stand in one row."""
        letters = sum(len(each.words) for each in self.choices)
        return len(self.choices) <= JOINED_MOST and letters <= _JOINED_LETTERS

    @property
    def chosen(self) -> str:
        """What the chosen answer reads."""
        return next((each.words for each in self.choices if each.value == self.value), "")


Lists = Mapping[str, Sequence[Choice]]
"""Choices that no schema has: the home's circuits, the catalogue's parts."""


def field_of(
    model: Surveyed | type[Surveyed],
    at: str,
    question: Question,
    lists: Lists,
    assumed: Sequence[str],
) -> Field:
    """Return the field of a question about a part of the job; a type stands for a part to add."""
    kind = model if isinstance(model, type) else type(model)
    schema, info = _schema(kind.__name__, question.field), kind.model_fields[question.field]
    path = f"{at}.{question.field}" if at else question.field
    value = getattr(model, question.field) if isinstance(model, Surveyed) else None
    choices = _choices(schema, question, lists)
    optional = info.default in (None, "", ())
    blank = "unknown" if "unknown" in schema.get("enum", ()) else ""
    must = question.fact and not optional and not blank
    shown = _named(value, choices) or shown_value(value, question.factor)
    return Field(
        path=path,
        label=question.label,
        symbol=question.symbol,
        unit=unit_sign(question.unit),
        kind=_kind(schema, choices),
        value=shown,
        state=_state(question, shown, assumed=path in assumed),
        choices=choices,
        blank=blank,
        must=must,
        fact=question.fact,
        needed=info.is_required(),
        settle=question.settle,
        factor=question.factor,
        wants=wants(schema, question),
        as_type=_as_type(schema),
        whole=schema.get("type") == "integer",
        **_range(schema, question.factor),
    )


def _state(question: Question, shown: str, *, assumed: bool) -> str:
    if assumed:
        return ASSUMED
    if shown or not question.fact:
        return KNOWN
    return FREE if question.free else UNKNOWN


def shown_value(value: object, factor: float = 1.0) -> str:
    """Return a value of the job as a person types it; nothing where it is not known."""
    if value in (None, (), *_NOTHING):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value * factor:.{_ON_SITE_DIGITS}g}"
    return str(value)


def _named(value: object, choices: Sequence[Choice]) -> str:
    """Return groups of circuits by their names, one group a line; ways with commas between."""
    if not isinstance(value, tuple):
        return ""
    if all(isinstance(each, int) for each in value):
        return ", ".join(str(way) for way in value)
    names = {each.value: each.words for each in choices}
    return "\n".join(", ".join(names.get(name, name) for name in group) for group in value)


def wants(schema: Mapping[str, Any], question: Question) -> str:
    """Complete "enter …": what would be right, in the unit of the field."""
    if schema.get("type") not in ("number", "integer") or question.factor == 1.0:
        words = wanted(schema)
    else:
        scaled = {**schema, **_scaled(schema, question.factor)}
        words = wanted(scaled)
    return f"{words} {unit_sign(question.unit)}" if question.unit else words


def _scaled(schema: Mapping[str, Any], factor: float) -> dict[str, float]:
    bounds = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")
    return {key: round(schema[key] * factor, 9) for key in bounds if key in schema}


def _range(schema: Mapping[str, Any], factor: float) -> dict[str, Any]:
    bounds = _scaled(schema, factor)
    low = bounds.get("minimum", bounds.get("exclusiveMinimum"))
    high = bounds.get("maximum")
    return {
        "low": "" if low is None else f"{low:.9g}",
        "high": "" if high is None else f"{high:.9g}",
        "above": "exclusiveMinimum" in bounds,
    }


def _kind(schema: Mapping[str, Any], choices: Sequence[Choice]) -> str:
    if schema.get("type") == "array":
        return "ways" if schema["items"].get("type") == "integer" else "groups"
    if choices:
        return "choice"
    return "number" if schema.get("type") in ("number", "integer") else "text"


def _as_type(schema: Mapping[str, Any]) -> str:
    """Return what a choice is in the job: a word, a whole number, or true and false."""
    if schema.get("type") == "boolean":
        return "bool"
    whole = all(isinstance(each, int) for each in schema.get("enum", ("",)))
    return "int" if whole else "str"


def _choices(schema: Mapping[str, Any], question: Question, lists: Lists) -> tuple[Choice, ...]:
    if question.among:
        none = (Choice("", "no wish"),) if not question.fact and schema.get("default") == "" else ()
        return (*none, *lists[question.among])
    if schema.get("type") == "boolean":
        return (Choice("yes", "yes"), Choice("no", "no"))
    return tuple(
        Choice(str(each), f"{question.before}{each}")
        for each in schema.get("enum", ())
        if each not in _NOTHING
    )


@cache
def _root() -> Mapping[str, Any]:
    return job_schema()


@cache
def _schema(model: str, field: str) -> Mapping[str, Any]:
    part = _root() if model == "Job" else _root()["$defs"][model]
    return resolved(part["properties"][field], _root())


__all__ = [
    "ASSUMED",
    "KNOWN",
    "UNKNOWN",
    "Choice",
    "Field",
    "Lists",
    "field_of",
    "shown_value",
    "wants",
]
