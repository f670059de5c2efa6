"""Comb busbars: which teeth one comb meets."""

from __future__ import annotations

from dataclasses import dataclass, replace

from boardwright.board.results import Item
from boardwright.wiring.layout import Layout, fed_lines, load_lines, name_of


@dataclass(frozen=True, slots=True)
class Comb:
    """One run of a busbar on one line; ``fed`` true where its feeder has a tooth in it.

    ``teeth`` stand from left to right; ``feed`` is the one it is fed by, the feeder's own or
    the nearest to it; ``far`` the end away from it. ``lug`` is the bar that feeds the comb of a
    further rail, empty where there is none.
    """

    id: str
    line: str
    rail: int
    teeth: tuple[str, ...]
    feed: str
    fed: bool
    lug: str = ""

    @property
    def far(self) -> str:
        """The tooth at the end farther from its feed."""
        at = self.teeth.index(self.feed)
        return self.teeth[-1] if at < len(self.teeth) / 2 else self.teeth[0]


def combs(layout: Layout) -> tuple[Comb, ...]:
    """Return the combs of the board, feeder by feeder, rail by rail, line by line."""
    feeders = [layout.main, layout.head, *layout.section_rcds]
    unique = {f.id: f for f in feeders if f is not None}
    rails = sorted({b.rail for b in layout.arrangement.enclosure.busbars})
    found: list[Comb] = []
    for feeder in unique.values():
        for rail in rails:
            for line in load_lines(feeder):
                for run in _runs(layout, feeder, rail, line):
                    found.append(_comb(layout, feeder, line, run, len(found)))
    # An RCD ahead of all ways parts the busbar: two combs, each with a name of its own.
    names = [comb.id for comb in found]
    return tuple(
        replace(comb, id=f"{comb.id}-{k}") if comb.id in names[:k] else comb
        for k, comb in enumerate(found)
    )


def _comb(
    layout: Layout, feeder: Item, line: str, run: list[tuple[Item, str]], number: int
) -> Comb:
    """Name a run after its section and line; the first of all is plain ``busbar``."""
    rail = layout.arrangement.placement(run[0][0].id).rail
    section = f"-{feeder.section}" if feeder.section else ""
    name = f"busbar{section}" if line == "L" else f"busbar{section}-{line.lower()}"
    fed = any(item is feeder for item, _ in run)
    plain = fed and rail == layout.arrangement.placement(feeder.id).rail
    teeth = tuple(tooth for _, tooth in run)
    own = [tooth for item, tooth in run if item is feeder]
    order = [p.item.id for p in layout.placements]
    before = order.index(feeder.id) <= order.index(run[0][0].id)
    feed = (own or [teeth[0] if before else teeth[-1]])[0]
    lug = None if fed or feeder.section else layout.lug(rail, line)
    return Comb(
        name if plain else f"{name}-{number}", line, rail, teeth, feed, fed, lug.id if lug else ""
    )


def _runs(layout: Layout, feeder: Item, rail: int, line: str) -> list[list[tuple[Item, str]]]:
    """Return runs of neighbouring teeth; a tooth of another feeder's parts two runs."""
    fed = {item.id for item in layout.fed_by(feeder)}
    runs: list[list[tuple[Item, str]]] = [[]]
    for placement in layout.placements:
        if placement.rail != rail:
            continue
        item = placement.item
        tooth = _tooth(item, line, leaving=item is feeder)
        if tooth and (item is feeder or item.id in fed):
            runs[-1].append((item, tooth))
        elif item.id not in fed and item is not feeder and _has_teeth(item):
            runs.append([])
    return [run for run in runs if run]


def _tooth(item: Item, line: str, *, leaving: bool) -> str:
    """Return the terminal that takes the comb's tooth for a line, or an empty name."""
    if leaving:
        teeth = [t for t in item.device.terminals if t.role == "load" and t.busbar]
        own = [t for t in teeth if load_lines(item).get(line) is t]
        return name_of(item, own[0]) if own else ""
    terminal = fed_lines(item).get(line)
    return name_of(item, terminal) if terminal and terminal.busbar else ""


def _has_teeth(item: Item) -> bool:
    return any(t.busbar for t in item.device.terminals)
