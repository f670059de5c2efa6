"""The walk through a home: the screens of the survey, in order, each with the groups it asks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.job.board import ExistingBoard, ExistingDevice
from boardwright.job.circuit import Appliance, Cable, Circuit, EvPoint, Source
from boardwright.job.job import Job
from boardwright.job.supply import Bond, Submain
from boardwright.web.views import circuit_questions as of_circuit
from boardwright.web.views import questions
from boardwright.web.views.asking import Asking, Group, Link, removed
from boardwright.web.views.fields import Field
from boardwright.web.views.stop import Stop

SECTIONS = (
    ("supply", "Supply"),
    ("earthing", "Earthing and bonding"),
    ("environment", "Surge environment"),
    ("premises", "Home and premises"),
    ("board", "Existing board"),
    ("circuits", "Circuits"),
    ("wishes", "Wishes"),
)
"""The sections in the order of a walk: from the meter to what is wanted."""

PARTS = (("", "Circuit"), (".cable", "Cable"), (".load", "Load"), (".readings", "Readings"))
"""The screens of one circuit."""


def stops(job: Job) -> tuple[Stop, ...]:
    """Return every screen of a home, in the order of the walk."""
    return tuple(_stops(job))


def _stops(job: Job) -> Iterator[Stop]:
    for key, title in SECTIONS:
        yield Stop(key, key, title)
        if key == "board" and job.existing_board is not None:
            for device in job.existing_board.devices:
                at = f"existing_board.devices.{device.way}"
                yield Stop(at, "board", f"Way {device.way}")
        if key == "circuits":
            for circuit in job.circuits:
                yield from _of_circuit(circuit)


def _of_circuit(circuit: Circuit) -> Iterator[Stop]:
    at = f"circuits.{circuit.id}"
    for ending, part in PARTS:
        title = circuit.name if not ending else f"{circuit.name}: {part.lower()}"
        yield Stop(f"{at}{ending}", "circuits", title, circuit.id)
        if ending == ".load":
            for appliance in circuit.appliances:
                key = f"{at}.appliances.{appliance.id}"
                yield Stop(key, "circuits", f"{circuit.name}: {appliance.id}", circuit.id)


def groups(stop: Stop, job: Job) -> tuple[Group, ...]:
    """Return what a screen asks."""
    asking = Asking(job)
    if stop.circuit_id:
        return tuple(_circuit_groups(stop, job.circuit(stop.circuit_id), asking))
    if stop.key.startswith("existing_board.devices."):
        return tuple(_device_groups(stop.key, asking))
    return tuple(_SCREENS[stop.key](asking))


def _supply(asking: Asking) -> Iterator[Group]:
    supply = asking.job.supply
    yield asking.group("", supply, "supply", questions.SUPPLY)
    yield asking.group("Tails", supply.tails, "supply.tails", questions.TAILS)
    if supply.submain is None:
        yield asking.new("Distribution circuit", Submain, "supply.submain", questions.SUBMAIN)
    else:
        at = "supply.submain"
        found = asking.group("Distribution circuit", supply.submain, at, questions.SUBMAIN)
        yield removed(found, at, "Remove the distribution circuit")


def _earthing(asking: Asking) -> Iterator[Group]:
    earthing = asking.job.earthing
    yield asking.group("", earthing, "earthing", questions.earthing(asking.job))
    for bond in earthing.bonds:
        at = f"earthing.bonds.{bond.service}"
        found = asking.group(f"Bond, {bond.service}", bond, at, questions.BOND)
        yield removed(found, at, f"Remove {bond.service}")
    service = questions.Question("service", "Service that enters the building")
    group = asking.new("Another service", Bond, "earthing.bonds.new", (service,))
    known = frozenset[str](bond.service for bond in earthing.bonds)
    yield replace(group, fields=tuple(_without(field, known) for field in group.fields))


def _without(field: Field, known: frozenset[str]) -> Field:
    """Leave out what is there already: a name of a list stands once."""
    return replace(field, choices=tuple(c for c in field.choices if c.value not in known))


def _environment(asking: Asking) -> Iterator[Group]:
    around = asking.job.surge_environment
    yield asking.group("", around, "surge_environment", questions.ENVIRONMENT)


def _premises(asking: Asking) -> Iterator[Group]:
    yield asking.group("", asking.job, "", questions.HOME)
    yield asking.group("Building", asking.job.premises, "premises", questions.PREMISES)
    yield asking.group("Demand", asking.job, "", questions.DEMAND)


def _board(asking: Asking) -> Iterator[Group]:
    board = asking.job.existing_board
    if board is None:
        yield asking.new("Board as found", ExistingBoard, "existing_board", questions.EXISTING)
        return
    found = asking.group("", board, "existing_board", questions.EXISTING)
    names = {circuit.id: circuit.name for circuit in asking.job.circuits}
    links = tuple(
        Link(
            f"existing_board.devices.{device.way}",
            f"Way {device.way}: {_device_words(device)}",
            names.get(device.circuit or "", ""),
        )
        for device in board.devices
    )
    yield removed(found, "existing_board", "There is no board: remove it with its devices")
    yield Group("Devices", "", (), links=links)
    wanted = tuple(q for q in questions.DEVICE if q.field in ("way", "kind"))
    yield asking.new("Another device", ExistingDevice, "existing_board.devices.new", wanted)


def _device_words(device: ExistingDevice) -> str:
    rated = f"{device.curve}{device.in_a:g} A" if device.in_a else ""
    return f"{device.kind} {rated}".strip()


def _device_groups(key: str, asking: Asking) -> Iterator[Group]:
    board = asking.job.existing_board
    for device in board.devices if board else ():
        if key == f"existing_board.devices.{device.way}":
            found = asking.group("", device, key, questions.DEVICE)
            yield removed(found, key, "Remove this device")


def _circuits(asking: Asking) -> Iterator[Group]:
    links = tuple(
        Link(f"circuits.{c.id}", c.name, c.serves, moves=True) for c in asking.job.circuits
    )
    yield Group("", "", (), links=links)
    named = tuple(q for q in of_circuit.CIRCUIT if q.field in ("name", "serves"))
    sizes = tuple(q for q in of_circuit.CABLE if q.field in ("line_mm2", "cpc_mm2", "length_m"))
    group = asking.new("Another circuit", Circuit, "circuits.new", named)
    cable = asking.new("", Cable, "circuits.new.cable", sizes)
    note = "A size or length left empty is taken from the most alike circuit, and marked assumed."
    free = tuple(replace(field, needed=False) for field in cable.fields)
    yield replace(group, fields=(*group.fields, *free), note=note)


def _circuit_groups(stop: Stop, circuit: Circuit, asking: Asking) -> Iterator[Group]:
    at = f"circuits.{circuit.id}"
    if stop.key == at:
        found = asking.group("", circuit, at, of_circuit.CIRCUIT)
        yield replace(removed(found, at, f"Remove {circuit.name}"), copies=at)
    elif stop.key == f"{at}.cable":
        yield asking.group("", circuit.cable, stop.key, of_circuit.CABLE)
    elif stop.key == f"{at}.load":
        yield from _load(circuit, at, asking)
    elif stop.key == f"{at}.readings":
        asked = of_circuit.readings(circuit)
        yield asking.group("Before the work", circuit.readings, stop.key, asked)
    else:
        yield from _appliance(stop.key, circuit, asking)


def _load(circuit: Circuit, at: str, asking: Asking) -> Iterator[Group]:
    yield asking.group("", circuit.load, f"{at}.load", of_circuit.LOAD)
    heading = "Protective device, as wished or as found"
    yield asking.group(heading, circuit.wanted, f"{at}.wanted", of_circuit.WANTED)
    if circuit.ev is not None:
        found = asking.group("Charging point", circuit.ev, f"{at}.ev", of_circuit.EV)
        yield removed(found, f"{at}.ev", "Remove the charging point's particulars")
    elif circuit.serves == "EV point":
        yield asking.new("Charging point", EvPoint, f"{at}.ev", of_circuit.EV)
    if circuit.source is not None:
        found = asking.group("Source", circuit.source, f"{at}.source", of_circuit.SOURCE)
        yield removed(found, f"{at}.source", "Remove the source")
    elif circuit.serves in ("PV", "battery"):
        yield asking.new("Source", Source, f"{at}.source", of_circuit.SOURCE)
    links = tuple(Link(f"{at}.appliances.{a.id}", a.id, a.kind) for a in circuit.appliances)
    yield Group("Appliances", "", (), links=links)
    kind = of_circuit.APPLIANCE[:1]
    yield asking.new("Another appliance", Appliance, f"{at}.appliances.new", kind)


def _appliance(key: str, circuit: Circuit, asking: Asking) -> Iterator[Group]:
    for appliance in circuit.appliances:
        if key == f"circuits.{circuit.id}.appliances.{appliance.id}":
            found = asking.group("", appliance, key, of_circuit.APPLIANCE)
            yield removed(found, key, f"Remove {appliance.id}")


def _wishes(asking: Asking) -> Iterator[Group]:
    wishes = asking.job.wishes
    yield asking.group("", wishes, "wishes", questions.WISHES)
    at = "wishes.preferences"
    weights = asking.group("How much each counts", wishes.preferences, at, questions.PREFERENCES)
    yield replace(weights, note="0 to 1,000; one left empty keeps its usual weight.", folded=True)


_SCREENS = {
    "supply": _supply,
    "earthing": _earthing,
    "environment": _environment,
    "premises": _premises,
    "board": _board,
    "circuits": _circuits,
    "wishes": _wishes,
}

__all__ = ["PARTS", "SECTIONS", "groups", "stops"]
