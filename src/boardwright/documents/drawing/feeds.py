"""Who feeds whom: the tree of devices, read off the line conductors of the wiring."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from boardwright.board.results import Item
from boardwright.design import Variant

SUPPLY = "meter"
FOUND = "board"
"""Where line conductors come from outside: the meter's side, or the board as found."""

_LINES = frozenset({"L", "L1", "L2", "L3"})


@dataclass(frozen=True, slots=True)
class Fed:
    """One device of the tree with what it feeds, in the order of the rail."""

    item: Item
    feeds: tuple[Fed, ...]

    @property
    def deep(self) -> int:
        """How many levels of devices stand below this one."""
        return max((1 + below.deep for below in self.feeds), default=0)


def fed_by(variant: Variant) -> Mapping[str, str]:
    """Return for each device the device, or the place outside, that its line comes from.

    A device hangs on what owns the outgoing terminal of the net that its own incoming terminal
    is on; busbar, link and lead are the same to this question.
    """
    items = {p.item.id: p.item for p in variant.arrangement.placements}
    nets = _nets(variant, items)
    found: dict[str, str] = {}
    for item in items.values():
        incoming = {
            f"{item.id}.{terminal.name}"
            for terminal in item.device.terminals
            if terminal.conductor in _LINES and terminal.role in {"supply", "line"}
        }
        for net in nets:
            if incoming & net:
                sources = sorted(_sources(net, items, item.id))
                if sources:
                    found.setdefault(item.id, sources[0])
    return found


def tree(variant: Variant) -> tuple[Fed, ...]:
    """Return the devices that nothing on this rail feeds, each with its branches."""
    parents = fed_by(variant)
    items = [
        placement.item
        for placement in sorted(
            variant.arrangement.placements, key=lambda p: (p.rail, p.way, p.module)
        )
    ]
    names = {item.id for item in items}

    def branch(item: Item) -> Fed:
        below = (other for other in items if parents.get(other.id) == item.id)
        return Fed(item, tuple(branch(other) for other in below))

    return tuple(branch(item) for item in items if parents.get(item.id) not in names)


def _nets(variant: Variant, items: Mapping[str, Item]) -> list[set[str]]:
    """Return the terminals that line conductors, or a device's through pair, join."""
    joined = [
        set(conductor.terminals)
        for conductor in variant.wiring.conductors
        if conductor.function in _LINES
    ]
    joined += [pair for item in items.values() for pair in _through(item)]
    joined += _bars(variant, joined)
    nets: list[set[str]] = []
    for terminals in joined:
        met = [net for net in nets if net & terminals]
        nets = [net for net in nets if not net & terminals]
        nets.append(terminals.union(*met))
    return nets


def _bars(variant: Variant, joined: list[set[str]]) -> list[set[str]]:
    """Return the terminals of each bar in use: a further rail is fed through a bar of its own."""
    names = {name for terminals in joined for name in terminals}
    bars = (bar.id for bar in variant.arrangement.enclosure.bars)
    return [{name for name in names if name.rpartition(".")[0] == bar} for bar in bars]


def _through(item: Item) -> Iterator[set[str]]:
    for line in _LINES:
        same = [t for t in item.device.terminals if t.conductor == line and t.role == "line"]
        if any(t.through for t in same):
            yield {f"{item.id}.{t.name}" for t in same}


def _sources(net: set[str], items: Mapping[str, Item], but: str) -> Iterator[str]:
    """Yield what feeds a net: devices by their outgoing terminals first, then places outside."""
    for terminal in net:
        place, _, name = terminal.rpartition(".")
        if place in items and place != but:
            if items[place].device.terminal(name).role == "load":
                yield place
        elif place in {SUPPLY, FOUND}:
            yield place
