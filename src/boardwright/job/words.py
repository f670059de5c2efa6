"""What a field wants, in plain words, worked out from the job's own schema."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

Schema = Mapping[str, Any]

_UNITS = {
    "_per_km2_year": "flashes to ground per km² and year",
    "_mohm": "megohm",
    "_ohm": "ohm",
    "_mm2": "mm²",
    "_mm": "mm",
    "_a": "A",
    "_v": "V",
    "_w": "W",
    "_m": "m",
    "_c": "°C",
}


class Said(str):
    """A word that shows in an error as it stands, without quotes."""

    __slots__ = ()

    def __repr__(self) -> str:
        return str(self)


NOTHING = Said("nothing")


def found(value: object) -> object:
    """Return a value as an error shows it: a section or list by its name, not its contents."""
    match value:
        case None:
            return NOTHING
        case dict():
            return Said("a section")
        case list() | tuple():
            return Said(f"a list of {len(value)}")
        case bool():
            return Said(str(value).lower())
        case _:
            return value


def closest(word: str, known: Sequence[str]) -> str:
    """Return the known word that was most likely meant, or nothing."""
    folded = {name.casefold(): name for name in known}
    # A key without its unit is the likeliest slip, and for short keys too far off to be "close".
    close = [name for name in folded if name.startswith(f"{word.casefold()}_")]
    close = close or get_close_matches(word.casefold(), folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else ""


def nearest(word: str, known: Sequence[str]) -> str:
    """Return the remedy for a word that is not known: the one that was meant, or all of them."""
    close = closest(word, known)
    if close:
        return f"Did you mean {close!r}?"
    return f"There are: {', '.join(sorted(known))}." if known else ""


def inside(schema: Schema, loc: Sequence[int | str], root: Schema) -> Schema | None:
    """Return the schema of a place, or None where the job knows no such place."""
    for step in loc:
        schema = resolved(schema, root)
        if isinstance(step, int):
            schema = schema.get("items", {})
        elif step in schema.get("properties", {}):
            schema = schema["properties"][step]
        else:
            return None
    return resolved(schema, root)


def resolved(schema: Schema, root: Schema) -> Schema:
    """Follow references, and look through "or nothing"."""
    while True:
        if "$ref" in schema:
            schema = root["$defs"][schema["$ref"].rpartition("/")[2]]
        elif "anyOf" in schema:
            schema = next(way for way in schema["anyOf"] if way.get("type") != "null")
        else:
            return schema


def wanted(schema: Schema, key: str = "") -> str:
    """Complete "expected …" for a field of that schema; the key tells the unit."""
    if "const" in schema or "enum" in schema:
        return one_of(schema.get("enum") or [schema["const"]])
    if schema.get("format") == "date":
        return "a date written year-month-day, as 2026-11-25"
    kind = schema.get("type")
    if kind in {"number", "integer"}:
        return _number(schema, key)
    if kind == "string":
        return _text(schema)
    if kind == "array":
        return _list(schema)
    return "yes or no" if kind == "boolean" else _section(schema)


def unit_of(key: str) -> str:
    """Return the unit that the end of a key tells, or nothing."""
    return next((unit for ending, unit in _UNITS.items() if key.endswith(ending)), "")


def one_of(choices: Sequence[object]) -> str:
    """Return the choices as a person would say them."""
    *most, last = (str(choice) for choice in choices if choice != "")
    return f"{', '.join(most)} or {last}" if most else last


def _number(schema: Schema, key: str) -> str:
    word = "a whole number" if schema["type"] == "integer" else "a number"
    unit = f" ({unit_of(key)})" if unit_of(key) else ""
    low, high = schema.get("minimum"), schema.get("maximum")
    above = schema.get("exclusiveMinimum")
    if low is not None:
        return f"{word} from {low:g} to {high:g}{unit}" if high else f"{word} from {low:g}{unit}"
    over = f" over {above:g}" if above is not None else ""
    most = f"{' and' if over else ''} at most {high:.9g}" if high is not None else ""
    return f"{word}{over}{most}{unit}"


def _text(schema: Schema) -> str:
    if "pattern" in schema:
        return "an id of at most 40 small letters, figures, - and _, as ring-1"
    least, most = schema.get("minLength", 0), schema.get("maxLength")
    return f"a text of {least} to {most} characters" if most else "a text of at most 400 characters"


def _list(schema: Schema) -> str:
    least, most = schema.get("minItems", 0), schema.get("maxItems")
    return (
        f"a list of {least} to {most} items"
        if most
        else "a list, in brackets or with a line and a - for each item"
    )


def _section(schema: Schema) -> str:
    return f"a section with the keys {', '.join(schema.get('properties', {}))}"
