"""A wrong job file in plain words: the field, its line, what was found, what would be right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from boardwright.core.errors import BoardwrightError, FieldError, InputErrors
from boardwright.job.mend import remedy
from boardwright.job.paths import dotted
from boardwright.job.tree import Items, Node, Section, plain
from boardwright.job.words import NOTHING, closest, found, inside, nearest, wanted

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

    from boardwright.job.paths import Loc
    from boardwright.job.words import Schema

MAX_SHOWN = 10


def explained(error: ValidationError, tree: Section, name: str) -> InputErrors:
    """Return the errors of a job file, each with its line, the first lines first."""
    lined = [(line_of(tree, loc), said) for loc, said in field_errors(error, plain(tree))]
    lined.sort(key=lambda pair: pair[0])
    return listed([said.at(f"{name}, line {line}") for line, said in lined], name)


def field_errors(error: ValidationError, data: object) -> list[tuple[Loc, FieldError]]:
    """Return the errors of data that came from no file, as from a form, each with its place."""
    from boardwright.job.schema import job_schema

    schema = job_schema()
    details = error.errors(include_url=False)
    unknown = [detail["loc"] for detail in details if detail["type"] == "extra_forbidden"]
    # A key that is only misspelt is told once, as unknown, and not a second time as missing.
    meant = {(*loc[:-1], closest(str(loc[-1]), _keys(loc[:-1], schema))) for loc in unknown}
    told = [each for each in details if each["type"] != "missing" or each["loc"] not in meant]
    return [pair for detail in told for pair in _said(detail, data, schema)]


def _keys(loc: Loc, schema: Schema) -> list[str]:
    return list((inside(schema, loc, schema) or {}).get("properties", {}))


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
    if detail["type"] == "signs":
        return [(loc, FieldError(path, found(value), "signs that can be seen on paper"))]
    if detail["type"] == "too_short" and len(value) >= detail["ctx"]["min_length"]:
        # Its items were wrong, each with an error of its own, so none was left to count.
        return []
    key = next((str(step) for step in reversed(loc) if isinstance(step, str)), "")
    return [
        (loc, FieldError(path, found(value), wanted(here, key), remedy=remedy(value, key, here)))
    ]


def _unknown_key(path: str, loc: Loc, schema: Schema) -> FieldError:
    key = str(loc[-1])
    said = nearest(key, _keys(loc[:-1], schema))
    if key.isdigit():
        said = "If it is the end of a number, write the number with a point, as 0.35."
    return FieldError(path, key, "a key of this section", remedy=said)


def _missing(path: str, key: str, here: Schema) -> FieldError:
    if here.get("properties"):
        return FieldError(
            path, NOTHING, f"the section {key!r}", remedy="`boardwright new` shows how."
        )
    return FieldError(path, NOTHING, wanted(here, key), remedy=f"Add {key!r}.")
