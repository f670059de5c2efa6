"""What the entries of a catalogue owe one another, beyond each being well-formed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType, Kind
from boardwright.core.errors import FieldError

MIN_TERMINAL_PITCH_MM = 5.0
"""Two terminals of one side nearer than this cannot both take a screwdriver. [mm]

Common practice, no source.
"""


class EntryError(FieldError):
    """A field that does not agree with the rest of the catalogue."""

    def __init__(self, table: str, entry_id: str, field: str, found: object, expected: str) -> None:
        """Say which entry, which field, what was found, what would be right."""
        self.table = table
        self.id = entry_id
        super().__init__(f"{table} {entry_id}.{field}", found, expected)


def faults(catalogue: Catalogue) -> Iterator[EntryError]:
    """Yield every disagreement between entries or between the fields of one."""
    for device in catalogue.devices.values():
        yield from _terminals(device)
        yield from _kind(device)
        yield from _backup(device, catalogue)
    for enclosure in catalogue.enclosures.values():
        switch = enclosure.main_switch
        if switch and switch not in catalogue.devices:
            expected = "the id of a device in the catalogue"
            yield EntryError("enclosure", enclosure.id, "main_switch", switch, expected)


def _terminals(device: DeviceType) -> Iterator[EntryError]:
    names = [terminal.name for terminal in device.terminals]
    for name in sorted({name for name in names if names.count(name) > 1}):
        expected = "a name of its own for each terminal"
        yield EntryError("device", device.id, "terminals", name, expected)
    for terminal in device.terminals:
        if terminal.offset_mm >= device.width_mm:
            where = f"terminals.{terminal.name}.offset_mm"
            expected = f"less than the device's width, {device.width_mm:.1f} mm"
            yield EntryError("device", device.id, where, terminal.offset_mm, expected)
    for one, other in combinations(device.terminals, 2):
        apart_mm = abs(one.offset_mm - other.offset_mm)
        if one.side == other.side and apart_mm < MIN_TERMINAL_PITCH_MM:
            where = f"terminals.{other.name}.offset_mm"
            expected = (
                f"at least {MIN_TERMINAL_PITCH_MM:g} mm from terminal {one.name} of the same side"
            )
            yield EntryError("device", device.id, where, other.offset_mm, expected)


def _kind(device: DeviceType) -> Iterator[EntryError]:
    """SPD data belongs to an SPD, a rated current to all else, and conductors to both."""
    if (device.kind is Kind.SPD) != (device.spd is not None):
        expected = "SPD data" if device.kind is Kind.SPD else "no SPD data on another kind"
        yield EntryError("device", device.id, "spd", device.spd and "data", expected)
    if device.kind is not Kind.SPD and device.in_a is None:
        yield EntryError("device", device.id, "in_a", None, "the rated current")
    if device.kind in {Kind.RCBO, Kind.RCCB} and not (device.idn_a and device.rcd_type):
        yield EntryError("device", device.id, "idn_a", device.idn_a, "idn_a and rcd_type of an RCD")
    if device.spd is None:
        return
    conductors = {terminal.conductor for terminal in device.terminals}
    wanted = {"L", "N", "PE"} if device.spd.phases == 1 else {"L1", "L2", "L3", "N", "PE"}
    if conductors != wanted:
        found = ", ".join(sorted(conductors))
        expected = f"terminals for {', '.join(sorted(wanted))}"
        yield EntryError("device", device.id, "terminals", found, expected)
    if "T1" in device.spd.types and device.spd.iimp_10x350_a is None:
        yield EntryError("device", device.id, "spd.iimp_10x350_a", None, "Iimp of a Type 1 SPD")


def _backup(device: DeviceType, catalogue: Catalogue) -> Iterator[EntryError]:
    if device.spd is None:
        return
    named = [("spd.backup_mcb", device.spd.backup_mcb)]
    named += [("spd.tested.mcb", pairing.mcb) for pairing in device.spd.tested]
    for field, mcb in named:
        breaker = catalogue.devices.get(mcb)
        if mcb and (breaker is None or breaker.kind is not Kind.MCB):
            yield EntryError("device", device.id, field, mcb, "the id of an MCB")
