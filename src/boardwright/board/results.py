"""What the board stage hands on."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from boardwright.catalogue.devices import DeviceType
from boardwright.catalogue.enclosures import EnclosureType


class Scheme(Enum):
    """The ways to give a home its surge protection and its board."""

    NEW_BOARD = "a new board"
    SPARE_WAYS = "the SPD in spare ways of the board as found"
    SEPARATE_BOX = "the SPD in a box beside the board as found"


class Role(Enum):
    """What an item on the rail is there for."""

    MAIN_SWITCH = "main switch"
    INCOMER_RCD = "RCD ahead of all circuits"
    SPD_BACKUP = "back-up of the SPD"
    SPD = "SPD"
    SECTION_RCD = "RCD of a section"
    CIRCUIT = "circuit"
    AS_FOUND = "as found"


@dataclass(frozen=True, slots=True)
class Item:
    """One device that must stand on the rail.

    ``id`` is stable: ``main-switch``, ``incomer-rcd``, ``spd``, ``spd-backup``, ``rcd-a``,
    ``way-<circuit id>``, ``found-<way>``.
    ``phase`` names the phase of a one-phase way on a three-phase board, else is empty.
    ``continuous`` marks a load that runs for hours; ``found_way`` is the circuit's way on the
    board as found; ``fixed_module`` is set for what stays where it is; ``reach_mm`` is the free
    core length of an existing cable, None where it is new or not known.
    """

    id: str
    role: Role
    device: DeviceType
    label: str
    short: str = field(default="", kw_only=True)
    circuit_id: str = ""
    section: str = ""
    phase: str = ""
    ib_a: float = 0.0
    fixed_module: int | None = None
    fixed_rail: int = 0
    continuous: bool = False
    found_way: int | None = None
    reach_mm: float | None = None


@dataclass(frozen=True, slots=True)
class BoardPlan:
    """What goes into which enclosure, before its order on the rail is known.

    ``reasons`` tell why this enclosure and these devices; ``missing`` what the catalogue lacks;
    ``division`` what the sharing of RCDs, settled before the rail, pays for its wishes.
    """

    scheme: Scheme
    enclosure: EnclosureType
    items: tuple[Item, ...]
    reasons: tuple[str, ...]
    missing: tuple[str, ...] = ()
    division: tuple[Preference, ...] = ()

    @property
    def shortfall(self) -> tuple[int, int]:
        """How far it is from holding everything: what it lacks, and modules too many."""
        taken = sum(item.device.modules for item in self.items)
        return len(self.missing), max(0, taken - self.enclosure.modules)


@dataclass(frozen=True, slots=True)
class Placement:
    """One item in its place.

    ``module`` is its first module from the rail's left, from 0; ``way`` its first way as numbered
    below the board from the main switch's neighbour, 0 for the main switch.
    ``x_mm`` is the device's left edge, ``y_mm`` the rail's centre, in the enclosure's frame.
    """

    item: Item
    rail: int
    module: int
    way: int
    x_mm: float
    y_mm: float

    def terminal_mm(self, name: str) -> tuple[float, float]:
        """Return where a terminal's screw stands in the enclosure's frame. [mm]"""
        terminal = self.item.device.terminal(name)
        rise_mm = TERMINAL_RISE_MM if terminal.side == "top" else -TERMINAL_RISE_MM
        return self.x_mm + terminal.offset_mm, self.y_mm + rise_mm


DEVICE_HEIGHT_MM = 84.0
"""Height of a modular device on the rail. [mm] Common practice, no source."""

TERMINAL_RISE_MM = 34.5
"""From the rail's centre to the screws. [mm] Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Preference:
    """One weighted wish of the search, in words, and what the answer pays for it.

    ``cost`` is the weight times the amount by which the wish is missed; ``key`` is its name in
    the job, where its weight can be changed.
    """

    name: str
    weight: float
    cost: float
    key: str = ""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """The devices in their places. ``gap`` is 0 when proven optimal.

    ``left_out`` are the ids of items for which the rail has no place.
    """

    scheme: Scheme
    enclosure: EnclosureType
    placements: tuple[Placement, ...]
    spare_modules: int
    preferences: tuple[Preference, ...]
    proven: bool
    gap: float
    note: str = ""
    left_out: tuple[str, ...] = ()

    def placement(self, item_id: str) -> Placement:
        """Return the placement of an item, or raise KeyError."""
        for placement in self.placements:
            if placement.item.id == item_id:
                return placement
        raise KeyError(item_id)
