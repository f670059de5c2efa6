"""The board as found, when something new is to stand in it."""

from __future__ import annotations

from collections.abc import Iterator
from string import ascii_lowercase

from boardwright.board.rails import Rails
from boardwright.board.results import Item, Role
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import MODULE_MM, DeviceType, Kind, Terminal
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.circuits.results import CircuitPlan
from boardwright.job.board import ExistingBoard, ExistingDevice
from boardwright.job.job import Job

CONTINUOUS = frozenset(
    {"EV point", "heat pump", "storage heater", "immersion heater", "room heating", "PV", "battery"}
)
"""Purposes that load a device for hours on end. Common practice, no source."""

_KINDS = {
    "main switch": Kind.MAIN_SWITCH,
    "MCB": Kind.MCB,
    "RCBO": Kind.RCBO,
    "RCCB": Kind.RCCB,
    "SPD": Kind.SPD,
    "fuse": Kind.MCB,
    "other": Kind.ISOLATOR,
}


def found_enclosure(
    existing: ExistingBoard, phases: int, catalogue: Catalogue
) -> EnclosureType | None:
    """Return the catalogue's enclosure that the board as found is, or None.

    Family, hand, phases, number of ways and whether RCCBs feed sections must agree: a guess at
    its bars and entries would make every length below it a guess.
    """
    for enclosure in catalogue.enclosures.values():
        if (
            enclosure.purpose == "consumer unit"
            and enclosure.family == existing.family
            and enclosure.phases == phases
            and existing.hand in {None, enclosure.hand}
            and enclosure.modules - switch_modules(enclosure, catalogue) == existing.ways
            and any(bar.section for bar in enclosure.bars) is bool(found_sections(existing))
            and existing.combustible in {None, "yes" if enclosure.combustible else "no"}
        ):
            return enclosure
    return None


def found_sections(existing: ExistingBoard) -> dict[int, str]:
    """Return the section of each way that an RCCB as found feeds, and of that RCCB's own.

    Sections are lettered as they stand; an RCCB whose ways are not known makes none.
    """
    feeding = [device for device in existing.devices if device.feeds]
    feeding.sort(key=lambda device: device.way)
    return {
        way: letter
        for device, letter in zip(feeding, ascii_lowercase, strict=False)
        for way in (device.way, *device.feeds)
    }


def switch_modules(enclosure: EnclosureType, catalogue: Catalogue) -> int:
    """Return the width of the enclosure's main switch, 0 where it has none. [modules]"""
    switch = catalogue.devices.get(enclosure.main_switch)
    return switch.modules if switch else 0


def longest_free_run(existing: ExistingBoard) -> int:
    """Return the longest run of ways with nothing, or a blank, on them."""
    taken = {
        way
        for device in existing.devices
        if device.kind not in {"blank", "main switch"}
        for way in range(device.way, device.way + device.modules)
    }
    longest = run = 0
    for way in range(1, existing.ways + 1):
        run = 0 if way in taken else run + 1
        longest = max(longest, run)
    return longest


def found_items(
    existing: ExistingBoard,
    enclosure: EnclosureType,
    job: Job,
    plan: CircuitPlan,
    catalogue: Catalogue,
) -> Iterator[Item]:
    """Yield an item for each device as found, fixed where it stands."""
    names = {circuit.id: circuit.name for circuit in job.circuits}
    running = {circuit.id for circuit in job.circuits if circuit.serves in CONTINUOUS}
    sections = found_sections(existing)
    currents_a = {circuit.id: circuit.ib_a for circuit in plan.circuits}
    first = switch_modules(enclosure, catalogue)
    rails = Rails(enclosure)
    for device in existing.devices:
        if device.kind in {"blank", "main switch"}:
            continue
        place = first + device.way - 1
        yield Item(
            id=f"way-{device.circuit}" if device.circuit else f"found-{device.way}",
            role=Role.AS_FOUND,
            device=_device_type(device, enclosure, catalogue),
            label=names.get(device.circuit or "", device.kind),
            circuit_id=device.circuit or "",
            section=sections.get(device.way, ""),
            ib_a=currents_a.get(device.circuit or "", 0.0),
            continuous=device.circuit in running,
            found_way=device.way,
            fixed_module=rails.module(place, device.modules),
            fixed_rail=rails.rail(place),
        )


def _device_type(
    device: ExistingDevice, enclosure: EnclosureType, catalogue: Catalogue
) -> DeviceType:
    """Return the catalogue's type that the device is, else one drawn up from what was seen."""
    for known in catalogue.permitted(enclosure):
        if (
            known.kind is _KINDS[device.kind]
            and known.kind is not Kind.SPD
            and known.modules == device.modules
            and known.in_a == device.in_a
            and known.curve == device.curve
            and known.idn_a == device.idn_a
            and known.rcd_type == device.rcd_type
            and known.time_delayed == device.time_delayed
        ):
            return known
    return _as_seen(device, enclosure)


def _as_seen(device: ExistingDevice, enclosure: EnclosureType) -> DeviceType:
    # An SPD type needs data that nobody reads off a front: what is seen of an old one is a body
    # on the rail, and a body is all that the arrangement asks of it.
    kind = Kind.ISOLATOR if device.kind == "SPD" else _KINDS[device.kind]
    return DeviceType(
        id=f"as-found-{device.way}",
        maker=enclosure.maker,
        family="as found",
        kind=kind,
        name=f"{device.kind} as found",
        modules=device.modules,
        poles=2 if device.kind == "RCCB" else 1,
        in_a=device.in_a,
        curve=device.curve,
        idn_a=device.idn_a,
        rcd_type=device.rcd_type,
        time_delayed=device.time_delayed,
        terminals=_rccb_terminals() if device.kind == "RCCB" else _way_terminals(),
    )


def _way_terminals() -> tuple[Terminal, ...]:
    return (
        _terminal("L-in", "bottom", "supply", busbar=True),
        _terminal("L-out", "top", "load", busbar=False),
    )


def _rccb_terminals() -> tuple[Terminal, ...]:
    """Return the terminals of an RCCB: fed at the top, the comb of its section below."""
    return (
        _terminal("L-in", "top", "supply", busbar=False),
        _terminal("N-in", "top", "supply", busbar=False),
        _terminal("L-out", "bottom", "load", busbar=True),
        _terminal("N-out", "bottom", "load", busbar=False),
    )


def _terminal(name: str, side: str, role: str, *, busbar: bool) -> Terminal:
    """Return a terminal where devices of one module have theirs. Common practice, no source."""
    return Terminal.model_validate(
        {
            "name": name,
            "conductor": name[0],
            "side": side,
            "offset_mm": MODULE_MM * (0.5 if name[0] == "L" else 1.5),
            "role": role,
            "capacity_mm2": 16,
            "torque_nm": 2.0,
            "busbar": busbar,
        }
    )
