"""A job file's text changed where its values changed, and nowhere else.

Every value of the tree knows its characters, so a change is an edit of those characters:
comments, order, quotes and blank lines stay because nothing else is written again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from boardwright.job.emit import INDENT, block, flow, items, scalar
from boardwright.job.paths import item_names
from boardwright.job.tree import Entry, Items, Leaf, Node, Section

Dump = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Edit:
    """Characters from ``start`` to ``end`` give way to ``text``."""

    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Change:
    """A value before and after, in full; ``lean`` is the new one without what is left out."""

    old: Any
    new: Any
    lean: Any

    def of(self, key: str) -> Change:
        """Return the change of one key of a section."""
        new = self.new.get(key)
        lean = self.lean.get(key) if isinstance(self.lean, Mapping) else None
        old = self.old.get(key) if isinstance(self.old, Mapping) else None
        return Change(old, new, _given(new) if lean is None else lean)


def patched(text: str, tree: Section, change: Change) -> str:
    """Return the text with the changed values of a whole job."""
    return _applied(text, _Patch(text).section(tree, change), 0, len(text))


def _applied(text: str, edits: Iterable[Edit], start: int, end: int) -> str:
    """Return a stretch of the text, edited; edits at one place keep their order."""
    parts: list[str] = []
    for edit in sorted(edits, key=lambda edit: (edit.start, edit.end)):
        parts += [text[start : edit.start], edit.text]
        start = edit.end
    return "".join([*parts, text[start:end]])


def _given(value: Any) -> Any:  # noqa: ANN401 - any value of a job
    """Leave out what is not known."""
    if isinstance(value, Mapping):
        return {key: _given(inner) for key, inner in value.items() if inner is not None}
    return [_given(inner) for inner in value] if isinstance(value, list | tuple) else value


class _Patch:
    """Finds the edits of one text."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._newline = "\r\n" if "\r\n" in text else "\n"

    def section(self, node: Section, change: Change) -> Iterator[Edit]:
        """Yield the edits that bring a section up to date."""
        if node.flow:
            yield from self._flow_section(node, change)
            return
        gone = self._gone(node, change)
        for key, entry in node.entries.items():
            if key in gone:
                yield self._removed(entry)
            elif change.of(key).old != change.new.get(key):
                yield from self._entry(entry, change.of(key), self._column(node))
        yield from self._added(node, change, [key for key in node.entries if key not in gone])

    def _gone(self, node: Section, change: Change) -> set[str]:
        """Return the keys whose lines go; the last one, and one behind a dash, only empties."""
        gone = {
            key
            for key, entry in node.entries.items()
            if change.new.get(key) is None
            and change.old.get(key) is not None
            and not self._text[self._line_start(entry.key.start) : entry.key.start].strip()
        }
        if len(gone) == len(node.entries):
            gone.discard(next(iter(node.entries)))
        return gone

    def _added(self, node: Section, change: Change, kept: Sequence[str]) -> Iterator[Edit]:
        """Yield new keys, each group behind the key that stands before it in the model."""
        groups: dict[str | None, dict[str, Any]] = {}
        before: str | None = None
        for key, new in change.new.items():
            if key in kept:
                before = key
            elif key not in node.entries and change.of(key).old != new and new is not None:
                groups.setdefault(before, {})[key] = change.of(key).lean
        column = self._column(node)
        for anchor, values in groups.items():
            lines = block(values, column)
            if anchor is None:
                spot = node.entries[kept[0]].key.start
                lines[0] = lines[0].lstrip()
                yield Edit(spot, spot, self._newline.join([*lines, " " * column]))
            else:
                spot = self._line_end(node.entries[anchor].node.end)
                yield Edit(spot, spot, "".join(self._newline + line for line in lines))

    def _entry(self, entry: Entry, change: Change, column: int) -> Iterator[Edit]:
        node = entry.node
        # Keys of a person's own, as the ways of circuits, may all go: then none is left to edit at.
        if isinstance(node, Section) and node.entries.keys() & (change.new or {}):
            yield from self.section(node, change)
        elif isinstance(node, Items) and self._in_lines(node) and change.new:
            yield self._list(node, change, self._line_end(entry.key.end))
        elif isinstance(node, Leaf) and node.start < node.end and _is_scalar(change.lean):
            yield Edit(node.start, node.end, scalar(change.lean, node.style))
        else:
            colon = self._text.index(":", entry.key.end) + 1
            yield Edit(colon, node.end, self._value(change.lean, column))

    def _value(self, lean: object, column: int) -> str:
        """Return what stands behind a colon."""
        if isinstance(lean, Mapping) and lean:
            return "".join(self._newline + line for line in block(lean, column + INDENT))
        if isinstance(lean, list | tuple) and lean and isinstance(lean[0], Mapping):
            return "".join(self._newline + line for line in items(lean, column + INDENT))
        return "" if lean is None else f" {flow(lean)}"

    def _removed(self, entry: Entry) -> Edit:
        start = self._line_start(entry.key.start)
        return Edit(max(start - len(self._newline), 0), self._line_end(entry.node.end), "")

    def _flow_section(self, node: Section, change: Change) -> Iterator[Edit]:
        wanted = {
            key: change.of(key).lean
            for key, new in change.new.items()
            if new is not None and (key in node.entries or change.of(key).old != new)
        }
        if wanted.keys() != node.entries.keys():
            yield Edit(node.start, node.end, flow(wanted))
            return
        for key, entry in node.entries.items():
            below = change.of(key)
            if below.old == below.new:
                continue
            if isinstance(entry.node, Section) and isinstance(below.new, Mapping) and below.new:
                yield from self._flow_section(entry.node, below)
            else:
                style = entry.node.style if isinstance(entry.node, Leaf) else ""
                text = scalar(below.lean, style) if _is_scalar(below.lean) else flow(below.lean)
                yield Edit(entry.node.start, entry.node.end, text)

    def _in_lines(self, node: Items) -> bool:
        """Say whether each item stands behind a dash on a line of its own."""
        before = self._text[self._line_start(node.start) : node.start]
        return not node.flow and bool(node.nodes) and not before.strip()

    def _list(self, node: Items, change: Change, start: int) -> Edit:
        """Put the list together from its items' lines; each brings the comments above it."""
        column = node.start - self._line_start(node.start)
        starts = [start, *(self._line_end(item.end) for item in node.nodes)]
        old_names = _names(change.old)
        parts: list[str] = []
        for name, new, lean in zip(_names(change.new), change.new, change.lean, strict=True):
            if name in old_names:
                at = old_names.index(name)
                inner = Change(change.old[at], new, lean)
                edits = self._item(node.nodes[at], inner)
                parts.append(_applied(self._text, edits, starts[at], starts[at + 1]))
            else:
                parts += [self._newline + line for line in items([lean], column)]
        return Edit(starts[0], starts[-1], "".join(parts))

    def _item(self, node: Node, change: Change) -> Iterator[Edit]:
        if change.old == change.new:
            return
        if isinstance(node, Section) and isinstance(change.new, Mapping):
            yield from self.section(node, change)
        else:
            yield Edit(node.start, node.end, flow(change.lean))

    def _column(self, node: Section) -> int:
        start = next(iter(node.entries.values())).key.start
        return start - self._line_start(start)

    def _line_start(self, spot: int) -> int:
        return self._text.rfind("\n", 0, spot) + 1

    def _line_end(self, spot: int) -> int:
        end = self._text.find("\n", spot)
        end = len(self._text) if end < 0 else end
        return end - 1 if self._text[end - 1 : end] == "\r" else end


def _is_scalar(value: object) -> bool:
    return value is not None and not isinstance(value, Mapping | list | tuple)


def _names(values: Sequence[object]) -> list[str]:
    """Name a list's items; a bare value is its own name."""
    if all(isinstance(value, str) for value in values) and len({*values}) == len(values):
        return [str(value) for value in values]
    return item_names(values)
