"""Devices on the rail as marks: body, window, lever, terminals, rating."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.results import Arrangement, Item, Placement, Role
from boardwright.catalogue.devices import MODULE_MM, DeviceType, Kind
from boardwright.documents.drawing.frame import Frame

GAP_MM = 0.6
"""A device is drawn narrower than its place by this much, so that neighbours part. [mm]"""

_CARTRIDGED = frozenset({Kind.SPD})


@dataclass(frozen=True, slots=True)
class TerminalMark:
    """A screw with its letters: ``letters_y`` is their base line from the rail's centre."""

    x_mm: float
    y_mm: float
    letters: str
    letters_y_mm: float
    screw: bool


@dataclass(frozen=True, slots=True)
class DeviceMark:
    """One device. ``y`` is the rail's centre; ``levers`` and ``cartridges`` are (x, width)."""

    id: str
    title: str
    x_mm: float
    y_mm: float
    width_mm: float
    rating: str
    detail: str
    levers_mm: tuple[tuple[float, float], ...]
    cartridges_mm: tuple[tuple[float, float], ...]
    terminals: tuple[TerminalMark, ...]
    as_found: bool

    @property
    def centre(self) -> float:
        """The middle of the device. [mm]"""
        return self.x_mm + self.width_mm / 2


def device_marks(arrangement: Arrangement, frame: Frame) -> tuple[DeviceMark, ...]:
    """Return a mark for each placed device."""
    return tuple(_device(placement, frame) for placement in arrangement.placements)


def spare_marks(arrangement: Arrangement, frame: Frame) -> tuple[tuple[float, float], ...]:
    """Return left edge and rail's centre of the modules with nothing in them. [mm]"""
    marks = []
    for number, rail in enumerate(arrangement.enclosure.rails):
        taken = {
            placement.module + n
            for placement in arrangement.placements
            if placement.rail == number
            for n in range(placement.item.device.modules)
        }
        marks += [
            (rail.x_mm + n * MODULE_MM + GAP_MM / 2, frame.y(rail.y_mm))
            for n in range(rail.modules)
            if n not in taken
        ]
    return tuple(marks)


def rating(device: DeviceType) -> str:
    """Return the figure in the window: B32, 100 A, SPD."""
    if device.kind is Kind.SPD or device.in_a is None:
        return device.kind.value if device.kind is Kind.SPD else ""
    in_a = f"{device.in_a:g}"
    return f"{device.curve}{in_a}" if device.curve else f"{in_a}\N{NO-BREAK SPACE}A"


def detail(item: Item) -> str:
    """Return the one line below the rating."""
    device = item.device
    if item.role is Role.SPD_BACKUP:
        return "for SPD"
    if device.spd is not None:
        return "Type " + "+".join(name.removeprefix("T") for name in device.spd.types)
    if device.kind is Kind.MAIN_SWITCH:
        return "main switch"
    if device.idn_a is not None:
        kept = " S" if device.time_delayed else ""
        return f"{device.idn_a * 1000:g}\N{NO-BREAK SPACE}mA{kept}"
    return ""


def _device(placement: Placement, frame: Frame) -> DeviceMark:
    item, device = placement.item, placement.item.device
    x, width = placement.x_mm + GAP_MM / 2, device.width_mm - GAP_MM
    y = frame.y(placement.y_mm)
    return DeviceMark(
        id=item.id,
        title=f"{item.label}: {device.name}",
        x_mm=x,
        y_mm=y,
        width_mm=width,
        rating=rating(device),
        detail=detail(item),
        levers_mm=() if device.kind in _CARTRIDGED else (_lever(x, width, device),),
        cartridges_mm=_cartridges(x, device) if device.kind in _CARTRIDGED else (),
        terminals=tuple(
            _terminal(placement, terminal.name, frame) for terminal in device.terminals
        ),
        as_found=item.role is Role.AS_FOUND,
    )


def _terminal(placement: Placement, name: str, frame: Frame) -> TerminalMark:
    terminal = placement.item.device.terminal(name)
    x, y = frame.flat(*placement.terminal_mm(name))
    # Letters stand between screw and window; 4.4 mm type hangs from its base line.
    letters_y = y + 9.8 if terminal.side == "top" else y - 6.2
    # A lead fitted by the maker, or the tooth of a comb, has no screw of its own here.
    return TerminalMark(x, y, terminal.conductor, letters_y, screw=not terminal.flying_lead_mm)


def _lever(x: float, width: float, device: DeviceType) -> tuple[float, float]:
    lever = 6.0 if device.modules == 1 else 18.0 + 10.0 * (device.modules - 2)
    return x + (width - lever) / 2, lever


def _cartridges(x: float, device: DeviceType) -> tuple[tuple[float, float], ...]:
    """One cartridge a module, each with its status window."""
    return tuple(
        (x - GAP_MM / 2 + n * MODULE_MM + (MODULE_MM - 14.0) / 2, 14.0)
        for n in range(device.modules)
    )
