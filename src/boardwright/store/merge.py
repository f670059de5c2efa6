"""Two changes of one thing brought together, field by field.

Pure: values in, values out. Which of the two writers is called mine and which theirs decides
nothing; where both changed one field to different values, neither wins.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

from boardwright.job.paths import item_names
from boardwright.store.order import ordered


class Absent(Enum):
    """Stands for a field that is not there."""

    ABSENT = "not said"


ABSENT = Absent.ABSENT

Tree = Any
"""Plain values, lists and sections of them, or ABSENT."""
Table = Mapping[str, Tree]


@dataclass(frozen=True, slots=True)
class Clash:
    """A field that both changed, to different values; ``ABSENT`` where one has none."""

    path: str
    base: Tree
    mine: Tree
    theirs: Tree


@dataclass(frozen=True, slots=True)
class Merged:
    """What comes of two changes; where they clash, the value is still the one before both."""

    value: Tree
    clashes: tuple[Clash, ...] = ()


def merge(base: Tree, mine: Tree, theirs: Tree, path: str = "") -> Merged:
    """Return a value with the changes of both sides.

    Sections are merged key by key, and lists whose items have names item by item. Everything else
    is one field: one side may change it, or both to the same.
    """
    if theirs in (mine, base):
        return Merged(mine)
    if mine == base:
        return Merged(theirs)
    sides = (base, mine, theirs)
    if _are_sections(sides):
        return _sections([{} if side is ABSENT else side for side in sides], path)
    lists = [() if side is ABSENT else side for side in sides]
    names = _names(lists)
    if names:
        tables = [dict(zip(*pair, strict=True)) for pair in zip(names, lists, strict=True)]
        return _lists(tables, path)
    return Merged(base, (Clash(path, base, mine, theirs),))


def _are_sections(sides: Sequence[Tree]) -> bool:
    """Say whether all are sections; one that both began anew was empty before.

    One that a side took away is not: what the other then wrote into it must not stand alone.
    """
    base, *changed = sides
    return all(isinstance(side, Mapping) for side in changed) and (
        base is ABSENT or isinstance(base, Mapping)
    )


def _names(lists: Sequence[Tree]) -> list[list[str]]:
    """Return the items' names in each list; nothing if any list has an item without one."""
    if not all(isinstance(side, list | tuple) for side in lists):
        return []
    if all(isinstance(item, str) for side in lists for item in side):
        names = [list(side) for side in lists]
    else:
        names = [item_names(side) for side in lists]
        if any(name.startswith("#") for side in names for name in side):
            return []
    return names if all(len({*side}) == len(side) for side in names) else []


def _lists(sides: Sequence[Table], path: str) -> Merged:
    merged = _sections(sides, path)
    base, mine, theirs = (tuple(side) for side in sides)
    order = ordered(base, mine, theirs, kept=frozenset(merged.value))
    if order is None:
        clash = Clash(f"{path} (order)".strip(), base, mine, theirs)
        return Merged(tuple(sides[0].values()), (*merged.clashes, clash))
    return Merged(tuple(merged.value[name] for name in order), merged.clashes)


def _sections(sides: Sequence[Table], path: str) -> Merged:
    value: dict[str, Tree] = {}
    clashes: list[Clash] = []
    # The order of keys says nothing, so sorting them loses nothing.
    for key in sorted({key for side in sides for key in side}):
        base, mine, theirs = (side.get(key, ABSENT) for side in sides)
        merged = merge(base, mine, theirs, f"{path}.{key}".removeprefix("."))
        clashes += merged.clashes
        if merged.value is not ABSENT:
            value[key] = merged.value
    return Merged(value, tuple(clashes))
