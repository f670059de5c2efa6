"""Dotted paths: how a field is named in errors, and in the list of what was assumed.

An item of a list goes by its id (or, without one, by its service or way): a number would point
elsewhere as soon as a line is moved. An item that has no such name goes by ``#`` and its number.
"""

from __future__ import annotations

from collections.abc import Sequence

Loc = tuple[int | str, ...]

LONGEST_KEY = 60


def dotted(loc: Sequence[int | str], data: object) -> str:
    """Return the dotted path of a place in nested data, as ``circuits.shower.cable.line_mm2``."""
    parts: list[str] = []
    for step in loc:
        if isinstance(step, int):
            parts.append(item_names(data)[step] if _has(data, step) else f"#{step + 1}")
        else:
            parts.append(one_line(step))
        data = _inside(data, step)
    return ".".join(parts)


def one_line(key: str) -> str:
    """Return a key as a sentence can hold it: whatever a file has for a key, it stays one word."""
    seen = key if key.isprintable() else repr(key)[1:-1]
    return seen if len(seen) <= LONGEST_KEY else f"{seen[:LONGEST_KEY]}..."


def find(path: str, data: object) -> bool:
    """Say whether a dotted path names something in nested data."""
    for part in path.split("."):
        if isinstance(data, dict):
            if part not in data:
                return False
            data = data[part]
        else:
            names = item_names(data)
            if part not in names:
                return False
            data = _inside(data, names.index(part))
    return True


def item_names(data: object) -> list[str]:
    """Return the name of each item of a list; a name that two items share names neither."""
    items = data if isinstance(data, list | tuple) else ()
    names = [_name(item) for item in items]
    return [
        name if name and names.count(name) == 1 else f"#{number}"
        for number, name in enumerate(names, start=1)
    ]


def _name(item: object) -> str:
    if isinstance(item, dict):
        # A circuit has a way too, but one without its id would be mistaken for another.
        keys = ("id", "service") if "serves" in item else ("id", "service", "way")
        return next((str(item[key]) for key in keys if isinstance(item.get(key), str | int)), "")
    return ""


def _has(data: object, step: int) -> bool:
    return isinstance(data, list | tuple) and step < len(data)


def _inside(data: object, step: int | str) -> object:
    if isinstance(data, dict):
        return data.get(step)
    if isinstance(step, int) and isinstance(data, list | tuple) and step < len(data):
        return data[step]
    return None
