"""Whether the free cores of an existing cable reach a way, before any conductor is routed."""

from __future__ import annotations

import math

from boardwright.board.results import TERMINAL_RISE_MM, Item
from boardwright.catalogue.devices import MODULE_MM
from boardwright.catalogue.enclosures import EnclosureType

SPARE_MM = 20.0
"""Left over at the terminal, as the check of the finished wiring asks. [mm]"""


def short_modules(enclosure: EnclosureType, item: Item, rail: int, moved: int) -> int:
    """Return by how many modules of length a circuit's cores fall short of their way.

    The cable comes in over the place that its way had, ``moved`` modules from the new one; its
    cores run along the board and down to the farther of the device and the neutral bar.
    """
    if item.reach_mm is None:
        return 0
    needed_mm = moved * MODULE_MM + _down_mm(enclosure, item, rail) + SPARE_MM
    return max(0, math.ceil((needed_mm - item.reach_mm) / MODULE_MM))


def _down_mm(enclosure: EnclosureType, item: Item, rail: int) -> float:
    """Return the height from where cables enter to the farthest end of a core. [mm]"""
    edges_mm = {"bottom": 0.0, "top": enclosure.height_mm, "back": enclosure.height_mm}
    entries_mm = [
        edges_mm.get(entry.edge, entry.at_mm)
        for entry in enclosure.entries
        if entry.purpose == "circuits"
    ] or [enclosure.height_mm]
    # Of equals the upper: cables come down a wall more often than up.
    entry_mm = min(entries_mm, key=lambda y: (round(abs(y - enclosure.rails[rail].y_mm)), -y))
    loads = [terminal for terminal in item.device.terminals if terminal.role == "load"]
    ends_mm = [
        enclosure.rails[rail].y_mm + (TERMINAL_RISE_MM if t.side == "top" else -TERMINAL_RISE_MM)
        for t in loads
    ]
    if not any(terminal.conductor == "N" for terminal in loads):
        ends_mm += [
            bar.y_mm
            for bar in enclosure.bars
            if bar.conductor == "N" and bar.section == item.section and bar.rail in {None, rail}
        ]
    return max((abs(entry_mm - end_mm) for end_mm in ends_mm), default=0.0)
