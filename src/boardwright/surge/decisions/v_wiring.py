"""V wiring: where the supply may run through an SPD's own terminals, and where not."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.devices import DeviceType, Kind
from boardwright.surge.decisions.subject import Subject
from boardwright.surge.from_board import spd_as_wired
from boardwright.surge.home import SpdAsWired
from boardwright.wiring.layout import Layout
from boardwright.wiring.netlist import sizes
from boardwright.wiring.schedule import box_lead_m
from boardwright.wiring.through import why_not_through


@dataclass(frozen=True, slots=True)
class BoxedThrough:
    """An SPD with through terminals in a box on the supply, or why there is none."""

    name: str
    wired: SpdAsWired | None
    parts_gbp: float
    why: str


def why_not_v(subject: Subject) -> str:
    """Return why the supply cannot run through the fitted SPD's terminals, or nothing."""
    return why_not_through(Layout(subject.arrangement), subject.job, _tails_mm2(subject))


def through_in_box(subject: Subject) -> BoxedThrough:
    """Return the cheapest SPD that the supply may run through, in a box beside the board."""
    found: list[tuple[float, DeviceType]] = []
    refused: list[str] = []
    for device in subject.catalogue.of_kind(Kind.SPD):
        why = _hindrance(subject, device)
        if why:
            refused.append(why)
        elif why is not None:
            found.append((device.price_gbp + _box_gbp(subject, device), device))
    if not found:
        said = refused[0] if refused else "the catalogue holds no SPD with through terminals"
        return BoxedThrough("", None, 0.0, said)
    parts_gbp, device = min(found, key=lambda each: (each[0], each[1].id))
    return _boxed(subject, device, parts_gbp)


def _boxed(subject: Subject, device: DeviceType, parts_gbp: float) -> BoxedThrough:
    way_m, data = box_lead_m(subject.job), device.spd
    if data is None:
        return BoxedThrough("", None, 0.0, "")
    wired = spd_as_wired(
        data, leads_m=(0.0, 0.0, way_m), csa_mm2=data.csa_pe_mm2, backup_fitted=False
    )
    why = f"its {data.through_current_a:g} A cover the fuse ahead; an earth lead of {way_m:g} m"
    return BoxedThrough(device.name, wired, parts_gbp, why)


def _hindrance(subject: Subject, device: DeviceType) -> str | None:
    """Return why a device cannot carry the supply, nothing if it can; None if not made for it."""
    data, phases, fuse_a = device.spd, subject.job.supply.phases, subject.fuse_ahead_a
    pairs = [t for t in device.terminals if t.through and t.role == "line"]
    if data is None or data.phases != phases or len(pairs) < phases + 1:
        return None
    if not _boxes(subject, device):
        return f"no box of the catalogue takes {device.name}"
    if fuse_a is None:
        return "the fuse ahead is not known"
    if fuse_a > min(data.through_current_a, data.backup_max_gg_a):
        return (
            f"{device.name} has them for {data.through_current_a:g} A,"
            f" the fuse ahead is {fuse_a:g} A"
        )
    least_mm2 = min(terminal.capacity_mm2 for terminal in pairs)
    if least_mm2 < _tails_mm2(subject):
        return f"the terminals of {device.name} do not take {_tails_mm2(subject):g} mm²"
    return ""


def _boxes(subject: Subject, device: DeviceType) -> list[float]:
    return [
        box.price_gbp
        for box in subject.catalogue.enclosures.values()
        if box.purpose == "SPD box" and box.family in device.permitted_families
    ]


def _box_gbp(subject: Subject, device: DeviceType) -> float:
    return min(_boxes(subject, device))


def _tails_mm2(subject: Subject) -> float:
    return sizes(Layout(subject.arrangement), subject.job, subject.edition).tails_mm2
