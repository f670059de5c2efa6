"""A wrong job file in plain words: the field, its line, what was found, what would be right."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from boardwright.core.errors import BoardwrightError, FieldError, InputErrors
from boardwright.job.paths import dotted
from boardwright.job.tree import Items, Node, Section, plain
from boardwright.job.words import NOTHING, found, inside, nearest, wanted

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

    from boardwright.job.paths import Loc
    from boardwright.job.words import Schema

MAX_SHOWN = 10


def explained(error: ValidationError, tree: Section, name: str) -> InputErrors:
    """Return the errors of a job file, each with its line, the first lines first."""
    from boardwright.job.schema import job_schema

    schema, data = job_schema(), plain(tree)
    lined: list[tuple[int, FieldError]] = []
    for detail in error.errors(include_url=False):
        for loc, said in _said(detail, data, schema):
            line = line_of(tree, loc)
            lined.append((line, said.at(f"{name}, line {line}")))
    return listed([said for _, said in sorted(lined, key=lambda pair: pair[0])], name)


def listed(errors: Sequence[BoardwrightError], name: str = "") -> InputErrors:
    """Join errors; of very many only the first, with the number of the others."""
    shown = list(errors[:MAX_SHOWN])
    if len(errors) > MAX_SHOWN:
        start = f"{name}: " if name else ""
        shown.append(BoardwrightError(f"{start}and {len(errors) - MAX_SHOWN} more."))
    return InputErrors(shown)


def line_of(tree: Section, loc: Loc) -> int:
    """Return the line of a place, or of the nearest thing around it that is in the file."""
    node: Node = tree
    line = tree.line
    for step in loc:
        if isinstance(node, Section) and isinstance(step, str) and step in node.entries:
            entry = node.entries[step]
            node, line = entry.node, entry.key.line
        elif isinstance(node, Items) and isinstance(step, int) and step < len(node.nodes):
            node = node.nodes[step]
            line = node.line
        else:
            break
    return line


def _said(detail: ErrorDetails, data: object, schema: Schema) -> list[tuple[Loc, FieldError]]:
    loc = detail["loc"]
    if detail["type"] == "inconsistent":
        return [
            (
                fault.loc,
                FieldError(
                    dotted(fault.loc, data), found(fault.found), fault.expected, remedy=fault.remedy
                ),
            )
            for fault in detail["ctx"]["faults"]
        ]
    path = dotted(loc, data)
    if detail["type"] in {"extra_forbidden", "invalid_key"}:
        return [(loc, _unknown_key(path, loc, schema))]
    here = inside(schema, loc, schema) or {}
    if detail["type"] == "missing":
        return [(loc, _missing(path, str(loc[-1]), here))]
    value = detail["input"]
    if detail["type"] == "too_short" and len(value) >= detail["ctx"]["min_length"]:
        # Its items were wrong, each with an error of its own, so none was left to count.
        return []
    key = next((str(step) for step in reversed(loc) if isinstance(step, str)), "")
    return [(loc, FieldError(path, found(value), wanted(here, key), remedy=_remedy(value, here)))]


def _unknown_key(path: str, loc: Loc, schema: Schema) -> FieldError:
    key, around = str(loc[-1]), inside(schema, loc[:-1], schema) or {}
    remedy = nearest(key, list(around.get("properties", {})))
    if key.isdigit():
        remedy = "If it is the end of a number, write the number with a point, as 0.35."
    return FieldError(path, key, "a key of this section", remedy=remedy)


def _missing(path: str, key: str, here: Schema) -> FieldError:
    if here.get("properties"):
        return FieldError(
            path, NOTHING, f"the section {key!r}", remedy="`boardwright new` shows how."
        )
    return FieldError(path, NOTHING, wanted(here, key), remedy=f"Add {key!r}.")


def _remedy(value: object, here: Schema) -> str:
    """Say how the value found could be mended, where its form shows what was meant."""
    if isinstance(value, str) and here.get("type") in {"number", "integer"}:
        comma = re.fullmatch(r"(-?\d+),(\d+)", value)
        if comma:
            return f"Write {comma[1]}.{comma[2]} with a point."
        unit = re.fullmatch(r"(-?\d+(?:\.\d+)?)\s*[a-zA-ZΩµ°²]+2?", value)
        return f"Write {unit[1]} without its unit." if unit else ""
    if isinstance(value, bool) and set(here.get("enum", ())) == {"yes", "no"}:
        return f"Write {'yes' if value else 'no'}."
    if isinstance(value, int | float) and wanted(here).startswith(("a text", "an id")):
        return f'Put it in quotes: "{value}".'
    if isinstance(value, str) and here.get("enum"):
        remedy = nearest(value, [str(choice) for choice in here["enum"]])
        return remedy if remedy.startswith("Did") else ""
    return ""
