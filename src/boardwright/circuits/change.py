"""What can be changed about one circuit: one small change at a time, in words and in hours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.circuits.altered import is_larger, sizes, with_cable, with_device, with_load
from boardwright.circuits.fault import BREAKERS
from boardwright.circuits.protection import FUSES
from boardwright.circuits.results import CircuitResult
from boardwright.circuits.reverse import largest_load
from boardwright.circuits.site import Site
from boardwright.job.circuit import Circuit

_CURVES = "BCD"
_SPLIT_A = 20.0
"""A radial of a ring's usual cable: 20 A. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change: its kind (a row of the hours of work), what is done, the circuit afterwards."""

    kind: str
    does: str
    circuit: Circuit
    work_h: float


def changes(circuit: Circuit, site: Site) -> Iterator[Change]:
    """Yield every change worth a try, of each kind the smallest step first."""
    result = site.assessed(circuit)
    yield from _device(circuit, result, site)
    yield from _rcbo(circuit, result, site)
    yield from _lying(circuit, result, site)
    yield from _load(circuit, result, site)
    yield from _split(circuit, result, site)
    yield from _larger_cable(circuit, site)


def _change(site: Site, kind: str, does: str, circuit: Circuit) -> Change:
    hours = site.edition.table("remedy_work_h").rows[kind]
    work_h = hours["work_h"] + hours["work_h_per_m"] * circuit.cable.length_m
    return Change(kind, does, circuit, work_h)


def _ratings(site: Site) -> tuple[float, ...]:
    return tuple(sorted(float(row) for row in site.edition.table("breaker_ratings_a").rows))


def _device(circuit: Circuit, result: CircuitResult, site: Site) -> Iterator[Change]:
    device = result.protection
    if device.standard not in BREAKERS:
        return
    for in_a in reversed([r for r in _ratings(site) if r < result.in_a]):
        does = f"Fit {device.curve}{in_a:g} in place of {device.curve}{result.in_a:g}."
        yield _change(site, "smaller device", does, with_device(circuit, {"in_a": in_a}))
    for in_a in (r for r in _ratings(site) if r > result.in_a):
        does = f"Fit {device.curve}{in_a:g} in place of {device.curve}{result.in_a:g}."
        yield _change(site, "larger device", does, with_device(circuit, {"in_a": in_a}))
    for curve in reversed(_CURVES[: _CURVES.index(device.curve)]):
        does = (
            f"Fit type {curve} in place of type {device.curve}, if what it feeds starts without "
            "tripping it."
        )
        yield _change(site, "lower curve", does, with_device(circuit, {"curve": curve}))


def _rcbo(circuit: Circuit, result: CircuitResult, site: Site) -> Iterator[Change]:
    standard = result.protection.standard
    if standard == "RCBO":
        return
    ratings = [result.in_a]
    if standard in FUSES:
        # A fuse's ratings are not a breaker's: the next one up, then those below.
        above = [r for r in _ratings(site) if r >= result.in_a][:1]
        ratings = above + [r for r in reversed(_ratings(site)) if r < result.in_a]
    for in_a in ratings:
        does = f"Fit an RCBO {circuit.wanted.curve}{in_a:g} of 30 mA in place of the {standard}."
        changed = {"standard": "RCBO", "in_a": in_a}
        yield _change(site, "RCBO", does, with_device(circuit, changed))


def _lying(circuit: Circuit, result: CircuitResult, site: Site) -> Iterator[Change]:
    if circuit.cable.grouped_with:
        does = "Lay the cable apart from the circuits it runs bunched with."
        apart = with_cable(circuit, {"grouped_with": 0})
        yield _change(site, "apart from others", does, apart)
    if result.method not in {"C", "D"} or circuit.cable.insulated_mm:
        does = "Lay the cable out of insulation and conduit, clipped to a surface (method C)."
        clipped = with_cable(circuit, {"method": "C", "insulated_mm": None})
        yield _change(site, "out of insulation", does, clipped)


def _load(circuit: Circuit, result: CircuitResult, site: Site) -> Iterator[Change]:
    if result.ib_assumed:
        return
    # A fixed load may lawfully stand behind a device over its cable, but nobody plans it so.
    made = _ratings(site) if result.protection.standard in BREAKERS else ()
    in_a = max((r for r in (*made, result.in_a) if r <= result.iz_a), default=0.0)
    behind = with_device(circuit, {"in_a": min(in_a, result.in_a)})
    most = largest_load(behind, site) if in_a else None
    if most and 0 < most.ib_a < result.ib_a:
        fitted = "" if most.in_a == result.in_a else f"Fit {circuit.wanted.curve}{most.in_a:g}: "
        kept = f"keep the load to {most.ib_a:.1f} A, {most.power_w / 1000:.1f} kW."
        does = fitted + kept if fitted else f"K{kept[1:]}"
        yield _change(site, "smaller load", does, with_load(behind, most.ib_a))


def _split(circuit: Circuit, result: CircuitResult, site: Site) -> Iterator[Change]:
    if circuit.topology != "ring":
        return
    half = with_cable(circuit, {"length_m": circuit.cable.length_m / 2})
    radial = with_device(half.model_copy(update={"topology": "radial"}), {"in_a": _SPLIT_A})
    does = f"Open the ring at its middle: two radials, each on {_SPLIT_A:g} A."
    load_a = min(result.ib_a, _SPLIT_A)
    yield _change(site, "ring split", does, with_load(radial, load_a))


def _larger_cable(circuit: Circuit, site: Site) -> Iterator[Change]:
    kind = "larger cable" if circuit.existing else "larger cable, not laid yet"
    cable = circuit.cable
    for line_mm2, cpc_mm2 in sizes(site.edition, circuit):
        if is_larger(line_mm2, cpc_mm2, cable):
            verb = "Renew" if circuit.existing else "Lay"
            does = f"{verb} the cable in {line_mm2:g}/{cpc_mm2:g} mm²."
            changed = with_cable(circuit, {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2})
            yield _change(site, kind, does, changed)
