"""One circuit: its draft from load and cable, then its faults behind a known origin."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.capacity import Capacity, cable_capacity
from boardwright.circuits.conductor import hot_factor, loop_ohm, r20_ohm_per_m, ring_r1r2_ohm
from boardwright.circuits.design_current import DesignCurrent, design_current
from boardwright.circuits.fault import (
    adiabatic_mm2,
    device_zs_max_ohm,
    disconnection_s,
    fault_a,
    hot_loop_ohm,
    least_fault_a,
    rcd_zs_max_ohm,
)
from boardwright.circuits.fuses import without_fuse
from boardwright.circuits.lookup import figure
from boardwright.circuits.origin import submain_drop_v
from boardwright.circuits.protection import OWN_RCD, protection, rating_a
from boardwright.circuits.rcd import leakage_a
from boardwright.circuits.results import CircuitResult, FaultProtection, Origin, Protection
from boardwright.circuits.stress import Overcurrent, Stress, overcurrent_stress
from boardwright.circuits.volt_drop import ct_factor, drop_per_a_m, volt_drop_limit_v, volt_drop_v
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

RING_PATHS = 4
"""A ring seen from its far point: a quarter of the loop of its whole length."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A circuit before its supply is known; ``behind_section``: it shares an RCD with others."""

    circuit: Circuit
    current: DesignCurrent
    capacity: Capacity
    protection: Protection
    leakage_a: float
    behind_section: bool


@dataclass(frozen=True, slots=True)
class Fault:
    """An earth fault at the circuit's far end, hot."""

    r1r2_20c_ohm: float | None
    zs_ohm: float | None
    zs_max_ohm: float
    breaker_zs_max_ohm: float
    by: FaultProtection
    disconnection_s: float
    adiabatic_mm2: float | None


def draft_of(circuit: Circuit, job: Job, catalogue: Catalogue, edition: Edition) -> Draft:
    """Return a circuit's load, cable and device."""
    circuit = without_fuse(circuit, job, edition)
    current = design_current(circuit, job.supply.u0_v, edition)
    capacity = cable_capacity(circuit, edition)
    in_a = rating_a(circuit, ib_a=current.ib_a, iz_a=capacity.iz_a, edition=edition)
    device = protection(circuit, in_a, job=job, catalogue=catalogue, edition=edition)
    return Draft(
        circuit=circuit,
        current=current,
        capacity=capacity,
        protection=device,
        leakage_a=leakage_a(circuit, catalogue),
        behind_section=job.wishes.division == "split load"
        and device.standard == "MCB"
        and circuit.serves not in OWN_RCD,
    )


def assess(draft: Draft, job: Job, origin: Origin, edition: Edition) -> CircuitResult:
    """Return a circuit worked out behind a known origin."""
    circuit, capacity = draft.circuit, draft.capacity
    fault = _fault(draft, job, origin, edition)
    return CircuitResult(
        id=circuit.id,
        name=circuit.name,
        ib_a=draft.current.ib_a,
        ib_assumed=draft.current.assumed,
        in_a=draft.protection.in_a,
        iz_a=capacity.iz_a,
        it_a=capacity.it_a,
        factor=capacity.factor,
        method=capacity.method,
        method_assumed=capacity.method_assumed,
        volt_drop_v=_volt_drop_v(draft, job, origin, edition),
        volt_drop_limit_v=volt_drop_limit_v(
            edition,
            u0_v=job.supply.u0_v,
            phases=circuit.phases,
            lighting=circuit.serves == "lighting",
        ),
        r1r2_20c_ohm=fault.r1r2_20c_ohm,
        zs_ohm=fault.zs_ohm,
        zs_max_ohm=fault.zs_max_ohm,
        breaker_zs_max_ohm=fault.breaker_zs_max_ohm,
        fault_protection=fault.by,
        disconnection_s=fault.disconnection_s,
        ipf_max_a=origin.ipf_board_max_a,
        ipf_min_a=_ipf_min_a(fault.zs_ohm, job, edition),
        adiabatic_mm2=fault.adiabatic_mm2,
        cpc_mm2=circuit.cable.cpc_mm2,
        leakage_a=draft.leakage_a,
        leakage_measured=circuit.readings.leakage_a is not None,
        protection=draft.protection,
        iz_best_a=capacity.best_iz_a,
        method_best=capacity.best_method,
        capacity_rule=capacity.rule,
        ct_factor=_ct(draft, edition),
        ca_factor=capacity.ca_factor,
        cg_factor=capacity.cg_factor,
        ci_factor=capacity.ci_factor,
        cf_factor=capacity.cf_factor,
    )


def _volt_drop_v(draft: Draft, job: Job, origin: Origin, edition: Edition) -> float:
    """Return the drop from the origin, the submain's included. [V]"""
    circuit = draft.circuit
    per_a_m = drop_per_a_m(edition, circuit.cable.line_mm2, circuit.phases)
    return volt_drop_v(
        per_a_m,
        drop_load_a(circuit, draft.current.ib_a, edition),
        circuit.cable.length_m,
        paths=paths_of(circuit),
        before_v=submain_drop_v(job, origin, circuit.phases),
    )


def paths_of(circuit: Circuit) -> int:
    """Return by how much a circuit's length is divided for its far point."""
    return RING_PATHS if circuit.topology == "ring" else 1


def drop_load_a(circuit: Circuit, ib_a: float, edition: Edition) -> float:
    """Return the current that counts for volt drop; of a ring's a part is spread along it. [A]"""
    if circuit.topology != "ring":
        return ib_a
    return min(ib_a, edition.number("ring.volt_drop_load_a"))


def leg_a(circuit: Circuit, ib_a: float, edition: Edition) -> float:
    """Return what warms the conductor: each leg of a ring carries half of its load. [A]"""
    load_a = drop_load_a(circuit, ib_a, edition)
    return load_a / 2 if circuit.topology == "ring" else load_a


def _ct(draft: Draft, edition: Edition) -> float:
    factor = ct_factor(
        leg_a(draft.circuit, draft.current.ib_a, edition),
        draft.capacity.it_a,
        ca_factor=draft.capacity.ca_factor,
        cg_factor=draft.capacity.cg_factor,
        limit_c=edition.number("temperature.hot_c"),
    )
    return min(factor, 1.0)


def _fault(draft: Draft, job: Job, origin: Origin, edition: Edition) -> Fault:
    circuit, device = draft.circuit, draft.protection
    limit_s = disconnection_s(
        edition,
        system=job.supply.system,
        in_a=device.in_a,
        sockets=circuit.serves == "sockets" or circuit.load.with_socket,
        distribution=circuit.serves == "sub-board",
    )
    r1r2_20c_ohm = r1r2_cold_ohm(circuit, edition)
    zs_ohm = None
    if origin.zdb_ohm is not None and r1r2_20c_ohm is not None:
        zs_ohm = hot_loop_ohm(origin.zdb_ohm, r1r2_20c_ohm, hot_factor(edition))
    breaker_ohm = device_zs_max_ohm(
        edition,
        standard=device.standard,
        curve=device.curve,
        in_a=device.in_a,
        time_s=limit_s,
        u0_v=job.supply.u0_v,
    )
    by, max_ohm = _protected_by(draft, zs_ohm, breaker_ohm, job, edition)
    least_mm2 = None
    if zs_ohm is not None:
        stress = fault_stress(
            device, by, zs_ohm, limit_s=limit_s, u0_v=job.supply.u0_v, edition=edition
        )
        k_factor = figure(edition.table("k"), circuit.cable.type, "protective")
        least_mm2 = adiabatic_mm2(stress.current_a, stress.time_s, k_factor)
    return Fault(r1r2_20c_ohm, zs_ohm, max_ohm, breaker_ohm, by, limit_s, least_mm2)


def r1r2_cold_ohm(circuit: Circuit, edition: Edition) -> float | None:
    """Return R1+R2 at 20 °C, the worse of cable and readings; None without a cpc. [Ω]

    A reading may be low through a parallel path, and a length is an estimate: neither alone is
    let off.
    """
    cable, read = circuit.cable, circuit.readings
    if cable.cpc_mm2 == 0:
        return None
    line_ohm, cpc_ohm = (r20_ohm_per_m(edition, mm2) for mm2 in (cable.line_mm2, cable.cpc_mm2))
    found = [loop_ohm(line_ohm, cpc_ohm, cable.length_m, paths_of(circuit))]
    if read.r1r2_ohm is not None:
        found.append(read.r1r2_ohm)
    if circuit.topology == "ring" and read.r1_ohm is not None and read.r2_ohm is not None:
        found.append(ring_r1r2_ohm(read.r1_ohm, read.r2_ohm))
    return max(found)


def _protected_by(
    draft: Draft, zs_ohm: float | None, breaker_ohm: float, job: Job, edition: Edition
) -> tuple[FaultProtection, float]:
    """Return what disconnects an earth fault, and the loop within which it does. [Ω]"""
    idn_a = draft.protection.idn_a
    if draft.behind_section:
        idn_a = edition.number("rcd.additional_idn_a")
    rcd_ohm = rcd_zs_max_ohm(edition.number("touch_voltage_v"), idn_a) if idn_a else 0.0
    if job.supply.system != "TT" and (zs_ohm is None or zs_ohm <= breaker_ohm):
        return FaultProtection.BREAKER, breaker_ohm
    if idn_a and (zs_ohm is None or zs_ohm <= rcd_ohm):
        return FaultProtection.RCD, rcd_ohm
    # On TT a breaker's limit helps nobody: an electrode's loop is never so low.
    return FaultProtection.NONE, rcd_ohm if idn_a else breaker_ohm


def fault_stress(
    device: Protection,
    by: FaultProtection,
    zs_ohm: float,
    *,
    limit_s: float,
    u0_v: float,
    edition: Edition,
) -> Stress:
    """Return the current and the time of an earth fault that count for the conductors."""
    if by is FaultProtection.RCD:
        lasts_s = min(limit_s, edition.number("rcd.time_s"))
        return Stress(fault_a(u0_v, zs_ohm), lasts_s)
    return overcurrent_stress(
        Overcurrent(device.standard, device.curve, device.in_a),
        zs_ohm,
        limit_s=limit_s,
        u0_v=u0_v,
        edition=edition,
    )


def _ipf_min_a(zs_ohm: float | None, job: Job, edition: Edition) -> float | None:
    """Return the least fault current, at the lowest supply voltage (411.4.4). [A]"""
    if zs_ohm is None:
        return None
    return least_fault_a(edition.number("cmin"), job.supply.u0_v, zs_ohm)
