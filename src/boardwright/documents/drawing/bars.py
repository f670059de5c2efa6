"""Neutral and earth bars, and the combs that feed the devices."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.enclosures import Bar
from boardwright.design import Variant
from boardwright.documents.drawing.frame import Frame
from boardwright.wiring.results import Origin

_NAMES = {"PE": "Earth", "N": "Neutral"}


@dataclass(frozen=True, slots=True)
class BarMark:
    """A bar: its body, its screws, and beside those in use what they serve."""

    id: str
    name: str
    kind: str
    x_mm: float
    y_mm: float
    width_mm: float
    screws_mm: tuple[float, ...]
    served_mm: tuple[tuple[float, str], ...]
    name_left: bool


@dataclass(frozen=True, slots=True)
class CombMark:
    """One phase of a comb: its teeth, and the y of its body and of the teeth's tips."""

    function: str
    teeth_mm: tuple[float, ...]
    top_mm: float
    bottom_mm: float
    tip_mm: float
    first: bool


def bar_marks(variant: Variant, frame: Frame) -> tuple[BarMark, ...]:
    """Return a mark for each bar of the enclosure."""
    return tuple(_bar(bar, variant, frame) for bar in variant.arrangement.enclosure.bars)


def comb_marks(variant: Variant, frame: Frame) -> tuple[CombMark, ...]:
    """Return a mark for each joined run of busbar, one below the other where phases differ."""
    runs = _runs(variant)
    busbars = variant.arrangement.enclosure.busbars
    rails = variant.arrangement.enclosure.rails
    if not runs or not busbars:
        return ()
    phases = sorted({function for function, _, _ in runs})
    height = 6.2 / len(phases)
    marks = []
    for number, (function, rail, teeth) in enumerate(runs):
        centre = frame.y(rails[rail].y_mm)
        drops = [busbar.below_rail_mm for busbar in busbars if busbar.rail == rail]
        top = centre + (drops or [busbars[0].below_rail_mm])[0] - 3.8
        marks.append(
            CombMark(
                function=function,
                teeth_mm=teeth,
                top_mm=top + phases.index(function) * height,
                bottom_mm=top + (phases.index(function) + 1) * height,
                tip_mm=centre + 42.2,
                first=number == 0,
            )
        )
    return tuple(marks)


def _bar(bar: Bar, variant: Variant, frame: Frame) -> BarMark:
    width = bar.count * bar.pitch_mm + 2.2
    served = []
    for conductor in variant.wiring.conductors:
        for here, there in ((conductor.begin, conductor.end), (conductor.end, conductor.begin)):
            place, _, number = here.terminal.rpartition(".")
            if place == bar.id and number.isdigit():
                label = _served(there.terminal.rpartition(".")[0], variant)
                served.append((bar.terminal_x_mm(int(number)), label))
    return BarMark(
        id=bar.id,
        name=_NAMES.get(bar.conductor, f"Lug of {bar.conductor}"),
        # A lug is known by the link that ends on it: there is no room for words beside it.
        kind=f"bar {bar.section.upper()}".rstrip() if bar.conductor in _NAMES else "",
        x_mm=bar.x_mm - 1.1,
        y_mm=frame.y(bar.y_mm),
        width_mm=width,
        screws_mm=tuple(bar.terminal_x_mm(n) for n in range(1, bar.count + 1)),
        served_mm=tuple(served) if bar.conductor == "N" else (),
        name_left=bar.x_mm + width + 22 > frame.width_mm,
    )


def _served(place: str, variant: Variant) -> str:
    for placement in variant.arrangement.placements:
        item = placement.item
        if place in {item.id, f"cable-{item.circuit_id}"}:
            return {"main-switch": "MS", "spd": "SPD"}.get(item.id, str(placement.way))
    return ""


def _runs(variant: Variant) -> list[tuple[str, int, tuple[float, ...]]]:
    """Return each comb's line, its rail and the places of its teeth, from left to right.

    A further rail's comb begins at the lug that feeds it.
    """
    lugs = {bar.id: bar for bar in variant.arrangement.enclosure.bars}
    placements = {placement.item.id: placement for placement in variant.arrangement.placements}
    runs = []
    for comb in variant.wiring.conductors:
        if comb.origin is Origin.BUSBAR:
            met = [terminal.rpartition(".") for terminal in comb.terminals]
            xs = {placements[i].terminal_mm(n)[0] for i, _, n in met if i in placements}
            xs |= {lugs[i].terminal_x_mm(1) for i, _, _ in met if i in lugs}
            rail = next(placements[i].rail for i, _, _ in met if i in placements)
            runs.append((comb.function, rail, tuple(sorted(xs))))
    return runs
