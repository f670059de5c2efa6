"""The text of a job file as a tree in which every value knows its place.

Read from the parser's events, so that nothing is ever built that the file asks for: a tag, an
anchor or an alias is an error, and the limits hold before any value exists.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from boardwright.core.errors import BoardwrightError, FieldError, FileError
from boardwright.job.paths import one_line

MAX_BYTES = 1_000_000
"""A survey of sixty circuits, commented line by line, takes a tenth of this."""
MAX_DEPTH = 12
MAX_VALUES = 30_000
KEPT = 16
"""How many trees are kept: a save reads a text, and then again to change it line by line."""
LONGEST_NUMBER = 30
"""Characters; what is longer stays text, for no reading has so many figures."""

Event = Any
"""An event of ruamel.yaml; its classes are not loaded before a file is read."""

Plain = None | bool | int | float | str | list["Plain"] | dict[str, "Plain"]


@dataclass(frozen=True, slots=True)
class Leaf:
    """One written value; ``start`` and ``end`` count characters, ``line`` counts from 1."""

    value: bool | int | float | str | None
    start: int
    end: int
    line: int
    style: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """A key and its value."""

    key: Leaf
    node: Node


@dataclass(frozen=True, slots=True)
class Section:
    """Keys and values, in the order written; ``flow`` is true inside braces."""

    start: int
    end: int
    line: int
    flow: bool
    entries: dict[str, Entry] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Items:
    """A list; ``flow`` is true inside brackets."""

    start: int
    end: int
    line: int
    flow: bool
    nodes: list[Node] = field(default_factory=list)


Node = Leaf | Section | Items


@lru_cache(maxsize=KEPT)
def grow(text: str, name: str) -> Section:
    """Return the tree of a job file's text; it is shared, so nobody may change it.

    Raises
    ------
    FileError
        The text is no YAML 1.2 of keys and values, or passes a limit.
    FieldError
        A key stands twice.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    if len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        raise FileError(f"{name}: found over 1 MB of text, expected a job of at most 1 MB.")
    try:
        return _Grower(text, name, YAML(typ="safe", pure=True).parse(text)).root()
    except YAMLError as error:
        raise _unreadable(error, name) from None
    except BoardwrightError:
        raise
    except Exception as error:  # The parser itself falls over on some rubbish.
        raise FileError(
            f"{name}: cannot be read as YAML. Check its indentation, colons and quotes."
        ) from error


def plain(node: Node) -> Plain:
    """Return what the tree says, without its places."""
    match node:
        case Section():
            return {key: plain(entry.node) for key, entry in node.entries.items()}
        case Items():
            return [plain(item) for item in node.nodes]
        case Leaf():
            return node.value


class _Grower:
    """Reads events one after the other; stops at the first that a job file may not hold."""

    def __init__(self, text: str, name: str, events: Iterator[Event]) -> None:
        self._text = text
        self._name = name
        self._events = events
        self._values = 0

    def root(self) -> Section:
        """Return the one document of the file."""
        next(self._events)
        start = next(self._events)
        if type(start).__name__ == "StreamEndEvent":
            raise _empty(self._name)
        if getattr(start, "version", None) or getattr(start, "tags", None):
            self._refuse(start, "a line that starts with %", "no directives")
        node = self._node(next(self._events), "", 0)
        next(self._events)
        after = next(self._events)
        if type(after).__name__ != "StreamEndEvent":
            self._refuse(after, "a second document", "one job in one file")
        return self._section(node)

    def _section(self, node: Node) -> Section:
        if isinstance(node, Section):
            return node
        if isinstance(node, Leaf) and node.value is None:
            raise _empty(self._name)
        what = "a list" if isinstance(node, Items) else "one value"
        raise FileError(
            f"{self._name}, line {node.line}: found {what}, expected keys and"
            " values, as in 'title: Number 7'. `boardwright new` shows how."
        )

    def _node(self, event: Event, path: str, depth: int) -> Node:
        self._check(event, path, depth)
        where = (event.start_mark.index, event.end_mark.index, event.start_mark.line + 1)
        kind = type(event).__name__
        if kind == "ScalarEvent":
            start, end, line = where
            # A block text ends past the blank lines below it, which belong to what follows.
            end = len(self._text[:end].rstrip()) if event.style in {"|", ">"} else end
            return Leaf(_value(event.value, event.style), start, end, line, event.style or "")
        flow = bool(event.flow_style)
        if kind == "SequenceStartEvent":
            return self._items(Items(*where, flow), path, depth)
        return self._mapping(Section(*where, flow), path, depth)

    def _items(self, items: Items, path: str, depth: int) -> Items:
        event = next(self._events)
        while type(event).__name__ != "SequenceEndEvent":
            items.nodes.append(self._node(event, f"{path}.#{len(items.nodes) + 1}", depth + 1))
            event = next(self._events)
        return Items(items.start, self._end(items, event), items.line, items.flow, items.nodes)

    def _mapping(self, section: Section, path: str, depth: int) -> Section:
        event = next(self._events)
        entries = section.entries
        while type(event).__name__ != "MappingEndEvent":
            key = self._key(event, path)
            here = f"{path}.{one_line(event.value)}".removeprefix(".")
            if str(key.value) in entries:
                first = entries[str(key.value)].key.line
                raise FieldError(
                    here,
                    key.value,
                    f"each key once; it stands on line {first} too",
                    place=f"{self._name}, line {key.line}",
                )
            node = self._node(next(self._events), here, depth + 1)
            entries[str(key.value)] = Entry(key, self._placed(node, key))
            event = next(self._events)
        end = self._end(section, event)
        return Section(section.start, end, section.line, section.flow, entries)

    def _key(self, event: Event, path: str) -> Leaf:
        self._check(event, path, 0)
        if type(event).__name__ != "ScalarEvent":
            self._refuse(event, "a list or section as a key", "a word before the colon")
        start, end = event.start_mark, event.end_mark
        return Leaf(event.value, start.index, end.index, start.line + 1, event.style or "")

    def _placed(self, node: Node, key: Leaf) -> Node:
        """Put a value that was left empty behind its colon, where it would be written."""
        if not isinstance(node, Leaf) or node.start != node.end:
            return node
        colon = self._text.find(":", key.end, node.start + 1)
        spot = key.end if colon < 0 else colon + 1
        return Leaf(None, spot, spot, key.line)

    def _end(self, node: Section | Items, event: Event) -> int:
        """Return where the last character stands: a block's own end lies past its comments."""
        if node.flow:
            return int(event.end_mark.index)
        if isinstance(node, Items):
            return node.nodes[-1].end if node.nodes else node.end
        return max((entry.node.end for entry in node.entries.values()), default=node.end)

    def _check(self, event: Event, path: str, depth: int) -> None:
        self._values += 1
        if self._values > MAX_VALUES:
            raise FileError(
                f"{self._name}: found over {MAX_VALUES} values, expected one job of one home."
            )
        if type(event).__name__ == "AliasEvent" or getattr(event, "anchor", None) is not None:
            self._refuse(
                event,
                f"an anchor or alias at {path or 'the top'}",
                "every value written out; a text that starts with & or * needs quotes",
            )
        if getattr(event, "ctag", None) is not None:
            self._refuse(
                event,
                f"a tag at {path or 'the top'}",
                "plain values only; a text that starts with ! needs quotes",
            )
        if depth > MAX_DEPTH:
            self._refuse(event, f"over {MAX_DEPTH} levels", "sections as in `boardwright new`")

    def _refuse(self, event: Event, found: str, expected: str) -> None:
        line = event.start_mark.line + 1
        raise FileError(f"{self._name}, line {line}: found {found}, expected {expected}.")


# YAML 1.2.2, section 10.3.2, the core schema: what a plain scalar may mean besides text.
_NULL = re.compile(r"|~|null|Null|NULL")
_BOOL = re.compile(r"true|True|TRUE|false|False|FALSE")
_INT = re.compile(r"[-+]?[0-9]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def _value(text: str, style: str | None) -> bool | int | float | str | None:
    # Hexadecimal, octal, infinity and not-a-number are no readings: they stay text, and the
    # field that gets one says what it wants.
    if style or len(text) > LONGEST_NUMBER:
        return text
    if _NULL.fullmatch(text):
        return None
    if _BOOL.fullmatch(text):
        return text.lower() == "true"
    if _INT.fullmatch(text):
        return int(text)
    return float(text) if _FLOAT.fullmatch(text) else text


_PLAIN_WORDS = {
    "mapping values are not allowed": "a colon where none may stand: check the indentation of"
    " this line and the one above, and put a text with a colon in quotes",
    "cannot start any token": "a character that cannot start a value: indent with spaces, not"
    " tabs, and put such a text in quotes",
    "could not find expected ':'": "a line without a colon after its key",
    "expected <block end>": "a line that is indented differently from its neighbours",
    "expected ',' or": "a bracket or brace that is not closed",
    "special characters are not allowed": "a character that no text file holds",
    "while scanning a quoted": "a quote that is not closed",
}


def _unreadable(error: Exception, name: str) -> FileError:
    said = f"{getattr(error, 'context', '')} {getattr(error, 'problem', '')} {error}"
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line = f", line {mark.line + 1}" if mark else ""
    words = next((plain for key, plain in _PLAIN_WORDS.items() if key in said), "")
    found = words or "what cannot be read as YAML: check indentation, colons and quotes"
    return FileError(f"{name}{line}: found {found}.")


def _empty(name: str) -> FileError:
    return FileError(
        f"{name}: found an empty file, expected a job. `boardwright new` writes a starter."
    )
