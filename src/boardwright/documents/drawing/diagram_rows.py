"""The board of the single-line diagram as rows: one device, what it feeds, and how deep."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.results import Item, Role, Scheme
from boardwright.catalogue.devices import DeviceType, Kind
from boardwright.design import Design, Variant
from boardwright.documents.drawing.devices import rating
from boardwright.documents.drawing.feeds import Fed, tree
from boardwright.documents.drawing.symbols import of_found, of_kind, of_load
from boardwright.documents.words.circuit_words import way_of
from boardwright.documents.words.figures import NO_BREAK, number, quantity
from boardwright.job.board import ExistingDevice
from boardwright.job.circuit import Circuit

_NOT_SURVEYED = "what it feeds was not surveyed"

_SOURCES = frozenset({"PV", "battery"})


@dataclass(frozen=True, slots=True)
class Row:
    """One device and its line: symbols, words above and below the line, the name at its end.

    ``feeds`` is true where a busbar begins behind the device; ``phases`` counts the strokes on
    the line; ``source`` is true where energy comes back.
    """

    depth: int
    device: str
    load: str
    above: tuple[str, ...]
    below: tuple[str, ...]
    name: str
    note: str = ""
    feeds: bool = False
    phases: int = 1
    source: bool = False


def rows(design: Design, variant: Variant) -> tuple[Row, ...]:
    """Return the rows of a variant, from the incoming side down."""
    if variant.scheme is Scheme.SEPARATE_BOX:
        return (*_found_board(design), *_below(tree(variant), design, variant, 1))
    return tuple(_below(tree(variant), design, variant, 0))


def _below(
    branches: tuple[Fed, ...], design: Design, variant: Variant, depth: int
) -> Iterator[Row]:
    for fed in branches:
        if fed.item.device.kind is Kind.SPD:
            yield _spd(None, fed.item, variant, depth)
        elif len(fed.feeds) == 1 and fed.feeds[0].item.device.kind is Kind.SPD:
            yield _spd(fed.item, fed.feeds[0].item, variant, depth)
        elif fed.item.circuit_id:
            yield _circuit(fed.item, design, variant, depth)
            yield from _below(fed.feeds, design, variant, depth + 1)
        else:
            yield _distributor(fed, variant, depth)
            yield from _below(fed.feeds, design, variant, depth + 1)


def _distributor(fed: Fed, variant: Variant, depth: int) -> Row:
    item, device = fed.item, fed.item.device
    way = _way(item, variant)
    words = {
        Role.MAIN_SWITCH: "Main switch",
        Role.INCOMER_RCD: "RCD ahead of all ways",
        Role.SECTION_RCD: f"RCD of section {item.section.removeprefix('rcd-').upper()}",
    }
    name = words.get(item.role, item.label)
    poles = f"{device.poles}-pole" if device.kind is Kind.MAIN_SWITCH else ""
    unknown = item.role is Role.AS_FOUND and device.idn_a is not None and not fed.feeds
    return Row(
        depth,
        of_kind(device.kind),
        "",
        (way, _device(device), poles, _NOT_SURVEYED if unknown else ""),
        (),
        name,
        feeds=bool(fed.feeds),
        phases=device.phases,
    )


def _circuit(item: Item, design: Design, variant: Variant, depth: int) -> Row:
    circuit = design.job.circuit(item.circuit_id)
    return Row(
        depth,
        of_kind(item.device.kind),
        of_load(circuit),
        (_way(item, variant), item.phase, _device(item.device)),
        _cable(circuit),
        circuit.name,
        phases=circuit.phases,
        source=circuit.source is not None or circuit.serves in _SOURCES,
    )


def _spd(backup: Item | None, spd: Item, variant: Variant, depth: int) -> Row:
    data = spd.device.spd
    leads = variant.wiring.spd_leads
    types = "+".join(name.removeprefix("T") for name in data.types) if data else ""
    above = (
        (_way(backup, variant), _device(backup.device), "for the SPD")
        if backup
        else (f"Back-up: {variant.spd.candidate.backup.kind.value}",)
        if variant.spd.candidate
        else ()
    )
    sizes = f"line {number(variant.spd.csa_line_mm2)}, PE {number(variant.spd.csa_pe_mm2)} mm²"
    return Row(
        depth,
        of_kind(backup.device.kind) if backup else "",
        of_kind(Kind.SPD),
        above,
        (sizes, f"leads {leads.total_m:.2f}{NO_BREAK}m" if leads else ""),
        f"SPD Type {types}",
        # No figure of its maker is left out that a person at the board would look for.
        note=", ".join(
            part
            for part in (
                _spd_place(spd, variant),
                f"Up {quantity(data.up_v, 'V')}" if data else "",
            )
            if part
        ),
        phases=spd.device.phases,
    )


def _spd_place(spd: Item, variant: Variant) -> str:
    boxed = variant.scheme is Scheme.SEPARATE_BOX
    return "in its own box" if boxed else _way(spd, variant).lower()


def _found_board(design: Design) -> Iterator[Row]:
    """Yield the board as found from the survey: what feeds what in it was not surveyed."""
    board = design.job.existing_board
    if board is None:
        return
    switch = quantity(board.main_switch_a, "A") if board.main_switch_a else "rating not known"
    poles = f"{board.main_switch_poles}-pole" if board.main_switch_poles else ""
    phases = design.job.supply.phases
    yield Row(0, "isolator", "", (switch, poles), (), "Board as found", feeds=True, phases=phases)
    for device in sorted(board.devices, key=lambda device: device.way):
        yield _found_device(device, design)


def _found_device(device: ExistingDevice, design: Design) -> Row:
    circuit = design.job.circuit(device.circuit) if device.circuit else None
    size = f"{device.curve}{number(device.in_a)}" if device.in_a else ""
    rcd = f"{number(device.idn_a * 1000)}{NO_BREAK}mA {device.rcd_type}" if device.idn_a else ""
    return Row(
        1,
        of_found(device.kind),
        of_load(circuit) if circuit else "",
        (
            f"Way {device.way}",
            size if device.curve or not size else f"{size}{NO_BREAK}A",
            rcd.strip(),
            "" if circuit else _NOT_SURVEYED,
        ),
        _cable(circuit) if circuit else (),
        circuit.name if circuit else f"{device.kind} as found",
    )


def _way(item: Item, variant: Variant) -> str:
    way = way_of(variant.arrangement.placement(item.id))
    return f"Way {way}" if way else ""


def _device(device: DeviceType) -> str:
    words = rating(device)
    if device.idn_a is not None:
        kind = " S" if device.time_delayed else ""
        words += f", {number(device.idn_a * 1000)}{NO_BREAK}mA {device.rcd_type}{kind}"
    return words.rstrip()


def _cable(circuit: Circuit) -> tuple[str, ...]:
    cable = circuit.cable
    cpc = f"/{number(cable.cpc_mm2)} mm²" if cable.cpc_mm2 else " mm², no cpc"
    size = f"{number(cable.line_mm2)}{cpc}"
    armoured = "armoured" if cable.type.startswith("swa") else ""
    return (size, f"{number(cable.length_m)}{NO_BREAK}m", armoured)
