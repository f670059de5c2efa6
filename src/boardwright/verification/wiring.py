"""Checks on the wires: do they fit their terminals, is each terminal joined, do cores reach?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

from boardwright.board.results import Item, Placement, Role, Scheme
from boardwright.catalogue.devices import DeviceType, Terminal
from boardwright.core.findings import Finding, Sense
from boardwright.job.circuit import Circuit
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.wiring.lanes import LANE_LEAST_MM
from boardwright.wiring.layout import LINES
from boardwright.wiring.practice import core_diameter_mm, least_bend_mm, rule
from boardwright.wiring.results import SECOND_LEG, Conductor, Origin
from boardwright.wiring.slots import capacity_mm2

_BENT_FROM_MM2 = 10.0
_BENT_POINTS = 3
_REACH_SPARE_MM = 20.0


@check
def terminals_take_their_conductors(facts: Facts) -> Iterator[Finding]:
    """Every conductor within its terminal's capacity, and several in one only as its maker says."""
    if facts.wiring is None or facts.arrangement is None:
        return
    held: dict[str, list[Conductor]] = {}
    for conductor in facts.wiring.conductors:
        for name in conductor.terminals:
            held.setdefault(name, []).append(conductor)
    capacities = _capacities(facts)
    found = [
        _held(facts, name, held[name], capacities[name]) for name in held if name in capacities
    ]
    adverse = [finding for finding in found if finding is not None]
    yield from adverse
    if not adverse:
        point = Point(
            "wiring.terminal_capacity", "Terminals", "", rule("terminal", facts.edition.title)
        )
        yield point.passed(f"All {len(found)} terminals in use take the conductors put in them.")


def _capacities(facts: Facts) -> dict[str, tuple[str, float]]:
    """Return label and capacity of every terminal in the board, by name."""
    if facts.arrangement is None:
        return {}
    found = {
        f"{p.item.id}.{t.name}": (f"{p.item.label}, terminal {t.name}", t.capacity_mm2)
        for p in facts.arrangement.placements
        for t in p.item.device.terminals
    }
    for bar in facts.arrangement.enclosure.bars:
        kind = {"PE": "Earth bar", "N": "Neutral bar"}.get(bar.conductor, "Lug of the busbar")
        for number in range(1, bar.count + 1):
            capacity = capacity_mm2(bar, number)
            found[f"{bar.id}.{number}"] = (f"{kind}, terminal {number}", capacity)
    return found


def _held(
    facts: Facts, name: str, members: list[Conductor], terminal: tuple[str, float]
) -> Finding | None:
    """Return what is to be said of one terminal, or None where nothing is.

    The tooth of a comb stands in a clamp of its own and takes none of the cable's room.
    """
    label, limit_mm2 = terminal
    cables = [c for c in members if c.origin is not Origin.BUSBAR]
    total_mm2 = sum(c.csa_mm2 for c in cables)
    point = Point(
        "wiring.terminal_capacity",
        label,
        name,
        rule("terminal", facts.edition.title),
        value=total_mm2,
        limit=limit_mm2,
        unit="mm²",
    )
    sizes = " + ".join(f"{c.csa_mm2:g}" for c in cables)
    if total_mm2 > limit_mm2:
        return point.failed(
            f"{sizes} mm² in a terminal for {limit_mm2:g} mm².",
            _smallest_change(facts, name, total_mm2),
        )
    if len(cables) > 1 and (name.rpartition(".")[2].isdigit() or _unlike(cables)):
        return point.advised(
            f"{sizes} mm² share one terminal for {limit_mm2:g} mm².",
            "Only if its maker allows several conductors of these sizes in it; tug each.",
        )
    return None


def _smallest_change(facts: Facts, name: str, total_mm2: float) -> str:
    """Return the least change with which the terminal would hold what is put in it."""
    item_id, _, terminal_name = name.rpartition(".")
    placements = facts.arrangement.placements if facts.arrangement and facts.board else ()
    own = next((p.item.device for p in placements if p.item.id == item_id), None)
    if own is None or facts.board is None:
        return f"Put one of them in a terminal of its own, or take a bar for {total_mm2:g} mm²."
    role = own.terminal(terminal_name).role
    for other in facts.catalogue.permitted(facts.board.enclosure):
        roomy = all(t.capacity_mm2 >= total_mm2 for t in other.terminals if t.role == role)
        if _rated_as(other) == _rated_as(own) and roomy:
            return f"Take {other.name} ({other.id}): its terminals take {total_mm2:g} mm²."
    return (
        "Join to one conductor that the terminal takes in a connection block inside the board, if "
        "that conductor still carries the device's rating; else a box of its own for this circuit."
    )


def _rated_as(device: DeviceType) -> tuple[object, ...]:
    """Return what a device must share with another to stand in its place."""
    return (
        device.kind, device.modules, device.phases, device.in_a, device.curve, device.idn_a,
        device.rcd_type, device.time_delayed,
    )  # fmt: skip


def _unlike(cables: list[Conductor]) -> bool:
    """Tell whether conductors in one terminal differ, so that the smaller may stay loose."""
    return len({c.csa_mm2 for c in cables}) > 1


@check
def every_terminal_joined(facts: Facts) -> Iterator[Finding]:
    """Every terminal that needs a conductor has one."""
    if facts.wiring is None or facts.arrangement is None:
        return
    joined = {name for c in facts.wiring.conductors for name in c.terminals}
    needed = [
        (placement.item, terminal)
        for placement in facts.arrangement.placements
        for terminal in _needed(facts, placement)
    ]
    cited = rule("joined", facts.edition.title)
    open_ends = [(i, t) for i, t in needed if f"{i.id}.{t.name}" not in joined]
    for item, terminal in open_ends:
        point = Point(
            "wiring.every_terminal",
            f"{item.label}, terminal {terminal.name}",
            f"{item.id}.{terminal.name}",
            cited,
        )
        yield point.failed(
            "No conductor is planned for this terminal.",
            "See whether the board has the bar or busbar that it asks for.",
        )
    if not open_ends:
        point = Point("wiring.every_terminal", "Terminals", "", cited)
        yield point.passed(f"All {len(needed)} terminals that need a conductor have one.")


def _needed(facts: Facts, placement: Placement) -> Iterator[Terminal]:
    """Yield the terminals of a device that must be joined.

    The load side of the main switch feeds something by one pole at least; through terminals
    serve V wiring only; a three-phase load may have no neutral; what stands on a board as found
    keeps the wires it has.
    """
    item = placement.item
    if item.role is Role.AS_FOUND and not item.circuit_id:
        return
    for terminal in item.device.terminals:
        load = terminal.role == "load"
        spared = load and terminal.conductor == "N" and _no_neutral(facts, item)
        if not terminal.through and not spared and not (load and _idle(facts, item, terminal)):
            yield terminal


def _idle(facts: Facts, item: Item, terminal: Terminal) -> bool:
    """Tell whether an RCD feeds nothing by a line: its board has no way on that phase."""
    if item.role is not Role.INCOMER_RCD or terminal.conductor not in LINES:
        return False
    ways = [p.item for p in facts.arrangement.placements] if facts.arrangement else []
    return not any(
        way.role is Role.CIRCUIT and (way.device.phases > 1 or way.phase == terminal.conductor)
        for way in ways
    )


def _no_neutral(facts: Facts, item: Item) -> bool:
    return bool(item.circuit_id) and facts.job.circuit(item.circuit_id).phases != 1


@check
def bends_wide_enough(facts: Facts) -> Iterator[Finding]:
    """Judge the room that the routes leave for bends by the least bend of the real cable."""
    if facts.wiring is None:
        return
    thick = [
        c
        for c in facts.wiring.conductors
        if c.csa_mm2 >= _BENT_FROM_MM2 and c.origin is Origin.NEW and len(c.path) >= _BENT_POINTS
    ]
    if not thick:
        return
    tight = [c for c in thick if bend_room_mm(c) < _bend_mm(c)]
    worst = min(thick, key=lambda c: bend_room_mm(c) - _bend_mm(c))
    point = Point(
        "wiring.bend",
        "Thick conductors",
        worst.id,
        rule("bend", facts.edition.title),
        value=round(bend_room_mm(worst), 1),
        limit=round(_bend_mm(worst), 1),
        unit="mm",
        sense=Sense.AT_LEAST,
    )
    if not tight:
        yield point.passed(f"All {len(thick)} of 10 mm² and more have room for their bends.")
        return
    names = "; ".join(f"{c.begin.label} to {c.end.label}" for c in tight)
    yield point.advised(
        f"{len(tight)} of {len(thick)} bend tighter than solid or stranded copper should: {names}.",
        "Take the maker's shaped link or a flexible core, or use the enclosure's depth.",
    )


def _bend_mm(conductor: Conductor) -> float:
    """Return the least radius of the real core, to its middle. [mm]"""
    return least_bend_mm(conductor.csa_mm2) + core_diameter_mm(conductor.csa_mm2) / 2


def bend_room_mm(conductor: Conductor) -> float:
    """Return the largest radius that the tightest bend of a route could have. [mm]

    A single step is laid as one curve over its whole height: a step d within a height h
    takes two arcs of (h² + d²) / 4d.
    """
    lengths_mm = [math.dist(a, b) for a, b in pairwise(conductor.path)]
    last = len(lengths_mm) - 1
    if _is_step(conductor):
        step_mm, height_mm = lengths_mm[1], lengths_mm[0] + lengths_mm[2]
        return (height_mm**2 + step_mm**2) / (4 * step_mm)
    shares_mm = [mm if k in (0, last) else mm / 2 for k, mm in enumerate(lengths_mm)]
    return min(min(a, b) for a, b in pairwise(shares_mm))


def _is_step(conductor: Conductor) -> bool:
    """Tell whether a route goes on, after one sideways part, the way it came."""
    heights_mm = [y for _, y, _ in conductor.path]
    if len(heights_mm) != 4:  # noqa: PLR2004 - two uprights and a sideways part
        return False
    first_mm, _, third_mm = (b - a for a, b in pairwise(heights_mm))
    return first_mm * third_mm > 0


@check
def cores_reach(facts: Facts) -> Iterator[Finding]:
    """Judge the free length of each existing cable's cores by the way to its new terminals."""
    if facts.wiring is None or facts.board is None or facts.board.scheme is not Scheme.NEW_BOARD:
        return
    for circuit in facts.job.circuits:
        cores = [
            c
            for c in facts.wiring.conductors
            if c.origin is Origin.EXISTING and _is_core_of(circuit, c)
        ]
        if cores:
            yield _reach(facts, circuit, max(cores, key=lambda core: core.length_mm))


def _is_core_of(circuit: Circuit, conductor: Conductor) -> bool:
    cable = conductor.begin.terminal.rpartition(".")[0]
    return cable in (f"cable-{circuit.id}", f"cable-{circuit.id}{SECOND_LEG}")


def _reach(facts: Facts, circuit: Circuit, longest: Conductor) -> Finding:
    """Judge a circuit's free core length against its longest core, with a little to spare."""
    needed_mm = longest.length_mm + _REACH_SPARE_MM
    point = Point(
        "wiring.reach",
        circuit.name,
        circuit.id,
        rule("reach", facts.edition.title),
        value=circuit.cable.reach_mm,
        limit=needed_mm,
        unit="mm",
        sense=Sense.AT_LEAST,
    )
    asked = f"{longest.function} to its terminal asks for {needed_mm:.0f} mm inside the board"
    if circuit.cable.reach_mm is None:
        return point.unknown(
            f"{asked}; the free length was not surveyed.",
            "Measure the free core length from where the cable enters.",
        )
    if circuit.cable.reach_mm >= needed_mm:
        return point.passed(f"{asked}; {circuit.cable.reach_mm:.0f} mm are free.")
    return point.failed(
        f"{asked}; {circuit.cable.reach_mm:.0f} mm are free.",
        "Move the circuit to a nearer way, enter nearer to it, or joint the cores in an enclosure.",
    )


@check
def makers_leads_reach(facts: Facts) -> Iterator[Finding]:
    """Judge whether a lead fitted by the maker reaches its terminal of the bar."""
    if facts.wiring is None or facts.arrangement is None:
        return
    fitted_mm = {
        f"{p.item.id}.{t.name}": t.flying_lead_mm
        for p in facts.arrangement.placements
        for t in p.item.device.terminals
    }
    for conductor in facts.wiring.conductors:
        if conductor.origin is not Origin.FLYING:
            continue
        limit_mm = fitted_mm[conductor.begin.terminal]
        point = Point(
            "wiring.reach",
            conductor.begin.label,
            conductor.id,
            rule("reach", facts.edition.title),
            value=conductor.length_mm,
            limit=limit_mm,
            unit="mm",
        )
        said = (
            f"{conductor.length_mm:.0f} mm to {conductor.end.label}, of {limit_mm:.0f} mm fitted."
        )
        if conductor.length_mm <= limit_mm:
            yield point.passed(said)
        else:
            yield point.failed(
                said, "Move the way nearer to its bar; a fitted lead is not jointed."
            )


@check
def lanes_not_crowded(facts: Facts) -> Iterator[Finding]:
    """Conductors that run side by side have room beside one another."""
    if facts.wiring is None:
        return
    new = [c for c in facts.wiring.conductors if c.origin in (Origin.NEW, Origin.FLYING)]
    runs = [run for c in new for run in _runs(c)]
    gaps_mm = [
        abs(a.across_mm - b.across_mm)
        for a, b in combinations(runs, 2)
        if a.id != b.id and a.upright == b.upright and a.low_mm < b.high_mm and b.low_mm < a.high_mm
    ]
    if not gaps_mm:
        return
    closest_mm = round(min(gaps_mm), 2)
    point = Point(
        "wiring.fill",
        "Conductors side by side",
        "",
        rule("fill", facts.edition.title),
        value=closest_mm,
        limit=LANE_LEAST_MM,
        unit="mm",
        sense=Sense.AT_LEAST,
    )
    said = f"The closest two run {closest_mm:g} mm apart, from middle to middle."
    if closest_mm >= LANE_LEAST_MM:
        yield point.passed(said)
    else:
        yield point.advised(said, "Take the next larger enclosure, or bundle them behind the bar.")


@dataclass(frozen=True, slots=True)
class _Run:
    """One straight part of a path: its ends along it, its place across."""

    id: str
    upright: bool
    low_mm: float
    high_mm: float
    across_mm: float


def _runs(conductor: Conductor) -> Iterator[_Run]:
    """Yield the straight parts between the bends; ends stand as close as their terminals do."""
    if conductor.begin.terminal.startswith("cable-"):
        return
    for (ax, ay, _), (bx, by, _) in list(pairwise(conductor.path))[1:-1]:
        upright = math.isclose(ax, bx)
        along = (ay, by) if upright else (ax, bx)
        yield _Run(conductor.id, upright, min(along), max(along), ax if upright else ay)
