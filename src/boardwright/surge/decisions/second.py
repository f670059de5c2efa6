"""A second SPD at the equipment: which of the catalogue, and how it is joined."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType, Kind, SpdData
from boardwright.surge.from_board import spd_as_wired
from boardwright.surge.home import HomeSurge, SpdAsWired


@dataclass(frozen=True, slots=True)
class SecondSpd:
    """A device for the far end of a cable, with its leads there and what it costs in its box."""

    device: DeviceType
    wired: SpdAsWired
    parts_gbp: float
    why: str


def second_spd(catalogue: Catalogue, lead_m: float) -> SecondSpd | None:
    """Return the device of the lowest level for a far place: a Type 3, else a boxed Type 2.

    A Type 3 is made for it; where the catalogue holds none, a Type 2 does the same more dearly.
    Each of its leads is ``lead_m`` long. [m]
    """
    return min(_offered(catalogue, lead_m), key=_order, default=None)


def _order(second: SecondSpd) -> tuple[bool, float, float, str]:
    data = second.device.spd
    third = data is not None and "T3" in data.types
    level_v = data.up_v if data else 0.0
    return (not third, level_v, second.parts_gbp, second.device.id)


def with_second(home: HomeSurge, place: str, spd: SpdAsWired) -> HomeSurge:
    """Return a home with an SPD at the end of one of its cables."""
    circuits = (
        replace(circuit, second=spd) if circuit.name == place else circuit
        for circuit in home.circuits
    )
    return replace(home, circuits=tuple(circuits))


def _offered(catalogue: Catalogue, lead_m: float) -> Iterator[SecondSpd]:
    boxes = [each for each in catalogue.enclosures.values() if each.purpose == "SPD box"]
    for device in catalogue.of_kind(Kind.SPD):
        data = device.spd
        if data is None or data.phases != 1:
            continue
        fitting = [box for box in boxes if box.family in device.permitted_families]
        if not fitting or not {"T2", "T3"} & {*data.types}:
            continue
        box = min(fitting, key=lambda each: (each.price_gbp, each.id))
        why = "a Type 3 in a small box at the equipment"
        if "T3" not in data.types:
            why = "the catalogue holds no Type 3, so a Type 2 in a box of its own"
        yield SecondSpd(device, _wired(data, lead_m), device.price_gbp + box.price_gbp, why)


def _wired(data: SpdData, lead_m: float) -> SpdAsWired:
    leads_m = (lead_m, lead_m, lead_m)
    # The breaker of the circuit stands ahead of it, far away: no back-up in its own leads.
    wired = spd_as_wired(data, leads_m=leads_m, csa_mm2=data.csa_line_mm2, backup_fitted=False)
    # A Type 3 has no Imax: what its test drives through it is the most it is proved for.
    return replace(wired, imax_8x20_a=data.imax_8x20_a or data.in_8x20_a)
