"""Where a circuit stands on the board, and the device it asks for, in the words of the papers."""

from __future__ import annotations

from boardwright.board.results import Placement
from boardwright.circuits.results import CircuitResult
from boardwright.design import Design
from boardwright.documents.words.figures import NO_BREAK, TO, number, quantity


def in_way_order(design: Design) -> list[CircuitResult]:
    """Return the circuits in the order of their ways on the proposed board."""
    placed = [p.item.circuit_id for p in design.chosen.arrangement.placements]
    order = {circuit_id: place for place, circuit_id in enumerate(placed) if circuit_id}
    return sorted(design.plan.circuits, key=lambda c: order.get(c.id, len(placed)))


def way_numbers(design: Design) -> dict[str, str]:
    """Return the number on the board of each circuit's way, by circuit id."""
    return {p.item.circuit_id: way_of(p) for p in design.chosen.arrangement.placements}


def way_of(place: Placement) -> str:
    """Return the ways a device takes as numbered below the board: 4, or 2–3; empty for none."""
    if not place.way:
        return ""
    last = place.way + place.item.device.modules - 1
    return str(place.way) if last == place.way else f"{place.way}{TO}{last}"


def device_words(circuit: CircuitResult) -> str:
    """Return the device a circuit asks for: B32, 30 mA type A."""
    protection = circuit.protection
    text = f"{protection.curve}{number(circuit.in_a)}"
    if protection.idn_a is None:
        return text
    return f"{text}, {quantity(protection.idn_a, 'A')} type{NO_BREAK}{protection.rcd_type}"
