"""Values written as YAML that reads back the same."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date

INDENT = 2

# What may stand without quotes: a word or words that no reader takes for anything but text.
_BARE = re.compile(r"[A-Za-z][\w./()+-]*( [\w./()+&-]+)*", re.ASCII)
_TAKEN = {"null", "true", "false"}
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t"}


def scalar(value: object, style: str = "") -> str:
    """Return one value as it is written; ``style`` is the quote it had before, if any."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return str(int(value)) if value.is_integer() else repr(value)
        case int():
            return str(value)
        case date():
            return value.isoformat()
        case _:
            return _text(str(value), style)


def flow(value: object) -> str:
    """Return a value in one line, lists in brackets and sections in braces."""
    match value:
        case Mapping():
            return f"{{{', '.join(f'{key}: {flow(inner)}' for key, inner in value.items())}}}"
        case list() | tuple():
            return f"[{', '.join(flow(inner) for inner in value)}]"
        case _:
            return scalar(value)


def block(data: Mapping[str, object], indent: int = 0) -> list[str]:
    """Return a section as lines, each value on its own."""
    lines: list[str] = []
    for key, value in data.items():
        lines.extend(pair(key, value, indent))
    return lines


def pair(key: str, value: object, indent: int) -> list[str]:
    """Return a key and its value as lines."""
    head = f"{' ' * indent}{key}:"
    match value:
        case Mapping() if value:
            return [head, *block(value, indent + INDENT)]
        case list() | tuple() if value and isinstance(value[0], Mapping):
            return [head, *items(value, indent + INDENT)]
        case _:
            return [f"{head} {flow(value)}"]


def items(values: Sequence[object], indent: int) -> list[str]:
    """Return a list's items as lines, each behind its dash."""
    lines: list[str] = []
    for value in values:
        if isinstance(value, Mapping) and value:
            first, *rest = block(value, indent + INDENT)
            lines += [f"{' ' * indent}- {first.lstrip()}", *rest]
        else:
            lines.append(f"{' ' * indent}- {flow(value)}")
    return lines


def _text(text: str, style: str) -> str:
    if style == "'" and text.isprintable():
        doubled = text.replace("'", "''")
        return f"'{doubled}'"
    if style != '"' and _BARE.fullmatch(text) and text.casefold() not in _TAKEN:
        return text
    return f'"{"".join(_escaped(character) for character in text)}"'


def _escaped(character: str) -> str:
    if character in _ESCAPES:
        return _ESCAPES[character]
    return character if character.isprintable() else f"\\U{ord(character):08x}"
