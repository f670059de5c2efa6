"""What the netlist is made of: terminals that one conductor joins."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.wiring.results import Origin

COLOURS = {
    "L": "brown",
    "L1": "brown",
    "L2": "black",
    "L3": "grey",
    "N": "blue",
    "PE": "green-and-yellow",
}
"""Harmonised colours (BS EN 60445; BS 7671, Table 51, from memory)."""


@dataclass(frozen=True, slots=True)
class Joint:
    """Two terminals, or all teeth of a busbar, that one conductor joins."""

    id: str
    begin: str
    end: str
    function: str
    csa_mm2: float
    colour: str = ""
    origin: Origin = Origin.NEW
    group: str = ""
    teeth: tuple[str, ...] = ()
