"""The working of a circuit's earth fault: loop, limit, current, protective conductor, leakage."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits.assess import RING_PATHS, fault_stress
from boardwright.circuits.conductor import hot_factor, r20_ohm_per_m
from boardwright.circuits.fault import BREAKERS
from boardwright.circuits.lookup import figure
from boardwright.circuits.results import CircuitPlan, CircuitResult, FaultProtection
from boardwright.circuits.stress import Stress
from boardwright.circuits.working import formulas
from boardwright.circuits.working.step import Sheet, Step
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_LOOP = Sheet("Earth fault loop")
_FAULT = Sheet("Earth fault")
_LEAK = Sheet("Standing leakage")


def loop_steps(
    circuit: Circuit, result: CircuitResult, plan: CircuitPlan, edition: Edition
) -> Iterator[Step]:
    """Yield R1+R2, cold and hot, and Zs; nothing where there is no protective conductor."""
    if result.r1r2_20c_ohm is None:
        return
    yield from _cold(circuit, result, edition)
    hot = _LOOP.worked(formulas.HOT, _heat(edition), edition.rule("temperature.coefficient_per_k"))
    yield hot
    warm = {"cold_ohm": result.r1r2_20c_ohm, "hot_factor": hot_factor(edition)}
    yield _LOOP.worked(formulas.LOOP_HOT, warm, hot.rule)
    zdb_ohm = plan.origin.zdb_ohm
    if zdb_ohm is None:
        yield _LOOP.given(
            "zs_ohm", formulas.ZS.says, None, note="the loop at the board is not known"
        )
        return
    note = "Ze at the distributor's declared maximum" if plan.origin.zdb_assumed else ""
    loop = {
        "before_ohm": zdb_ohm,
        "cold_ohm": result.r1r2_20c_ohm,
        "hot_factor": hot_factor(edition),
    }
    by_rcd = result.fault_protection is FaultProtection.RCD
    rule = edition.rule("zs.rcd" if by_rcd else "zs.breaker")
    yield _LOOP.worked(formulas.ZS, loop, rule, note)


def _cold(circuit: Circuit, result: CircuitResult, edition: Edition) -> Iterator[Step]:
    """Yield R1+R2 by cable and by readings, and which of them counts."""
    cable, read = circuit.cable, circuit.readings
    values = {
        "line_ohm_per_m": r20_ohm_per_m(edition, cable.line_mm2),
        "cpc_ohm_per_m": r20_ohm_per_m(edition, cable.cpc_mm2),
        "length_m": cable.length_m,
    }
    ring = circuit.topology == "ring"
    if ring:
        values["paths"] = RING_PATHS
    note = f"{cable.line_mm2:g} mm² and {cable.cpc_mm2:g} mm² copper"
    rule = edition.rule("resistance_ohm_per_km")
    found = [_LOOP.worked(formulas.along(formulas.LOOP_COLD, ring=ring), values, rule, note)]
    if read.r1r2_ohm is not None:
        found.append(_LOOP.given("r1r2_20c_ohm", "R1+R2 as read", read.r1r2_ohm, note="surveyed"))
    if ring and read.r1_ohm is not None and read.r2_ohm is not None:
        ends = {"r1_ohm": read.r1_ohm, "r2_ohm": read.r2_ohm}
        found.append(_LOOP.worked(formulas.RING_READ, ends))
    yield from found
    if len(found) > 1:
        note = "the largest counts: a reading may be low through a parallel path"
        yield _LOOP.given("r1r2_20c_ohm", "R1+R2 taken", result.r1r2_20c_ohm, note=note)


def _heat(edition: Edition) -> dict[str, float]:
    return {
        "at_c": edition.number("temperature.hot_c"),
        "per_kelvin_fraction": edition.number("temperature.coefficient_per_k"),
    }


def fault_steps(
    circuit: Circuit, result: CircuitResult, job: Job, edition: Edition
) -> Iterator[Step]:
    """Yield the time allowed, the limit of the loop, the currents, and the least conductor."""
    says = "Time in which an earth fault must be gone"
    by = f"by the {result.fault_protection.value}"
    time_rule = edition.rule("disconnection_s")
    yield _FAULT.given("disconnection_s", says, result.disconnection_s, rule=time_rule, note=by)
    limit = _limit(result, job, edition)
    yield limit
    if result.fault_protection is not FaultProtection.RCD:
        factor = edition.number("factor.measured_cold")
        cold = {"measured_factor": factor, "zs_max_ohm": result.zs_max_ohm}
        yield _FAULT.worked(formulas.ZS_MAX_COLD, cold, edition.rule("factor.measured_cold"))
    if result.zs_ohm is None:
        return
    fault = {"u0_v": job.supply.u0_v, "zs_ohm": result.zs_ohm}
    yield _FAULT.worked(formulas.FAULT, fault)
    yield _FAULT.worked(
        formulas.FAULT_LEAST, {"cmin": edition.number("cmin"), **fault}, edition.rule("cmin")
    )
    stress = fault_stress(
        result.protection,
        result.fault_protection,
        result.zs_ohm,
        limit_s=result.disconnection_s,
        u0_v=job.supply.u0_v,
        edition=edition,
    )
    k_factor = figure(edition.table("k"), circuit.cable.type, "protective")
    yield adiabatic_step(_FAULT, stress, k_factor, circuit.cable.cpc_mm2, edition)


def adiabatic_step(
    sheet: Sheet, stress: Stress, k_factor: float, cpc_mm2: float, edition: Edition
) -> Step:
    """Return the least protective conductor for the stress of a fault."""
    values = {"current_a": stress.current_a, "time_s": stress.time_s, "k_factor": k_factor}
    note = f"it lasts {stress.time_s:g} s at most; the cpc is {cpc_mm2:g} mm²"
    if stress.bounded:
        note = (
            f"{stress.current_a:.0f} A open the fuse in {stress.time_s:g} s; the stronger fault "
            f"here lets less through; the cpc is {cpc_mm2:g} mm²"
        )
    return sheet.worked(formulas.ADIABATIC, values, edition.rule("adiabatic"), note)


def _limit(result: CircuitResult, job: Job, edition: Edition) -> Step:
    """Return the largest loop by what disconnects: worked, or of a fuse read off a table."""
    device = result.protection
    touch_v = edition.number("touch_voltage_v")
    idn_a = device.idn_a or edition.number("rcd.additional_idn_a")
    by_rcd = result.fault_protection is FaultProtection.RCD
    if by_rcd or result.zs_max_ohm != result.breaker_zs_max_ohm:
        values = {"touch_v": touch_v, "idn_a": idn_a}
        return _FAULT.worked(formulas.ZS_MAX_RCD, values, edition.rule("zs.rcd"))
    short = result.disconnection_s < 1
    if device.standard not in BREAKERS:
        rule = edition.rule("fuse_zs_ohm.0.4" if short else "fuse_zs_ohm.5")
        note = f"{device.standard}, {device.in_a:g} A"
        return _FAULT.given(
            "zs_max_ohm", "Largest loop of a fuse", result.zs_max_ohm, rule=rule, note=note
        )
    multiple = figure(edition.table("trip_multiple"), device.curve, "0.4" if short else "5")
    values = {
        "u0_v": job.supply.u0_v,
        "cmin": edition.number("cmin"),
        "in_a": device.in_a,
        "trip_multiple": multiple,
    }
    note = f"curve {device.curve}"
    return _FAULT.worked(formulas.ZS_MAX, values, edition.rule("zs.breaker"), note)


def leakage_steps(result: CircuitResult, edition: Edition) -> Iterator[Step]:
    """Yield the standing leakage and its share of what one RCD should bear."""
    note = "read by clamp" if result.leakage_measured else "by its appliances"
    yield _LEAK.given("leakage_a", "Standing earth leakage", result.leakage_a, note=note)
    if result.protection.idn_a is not None:
        values = {
            "leakage_a": result.leakage_a,
            "leakage_fraction": edition.number("rcd.leakage_fraction"),
            "idn_a": result.protection.idn_a,
        }
        yield _LEAK.worked(formulas.LEAKAGE, values, edition.rule("rcd.leakage_fraction"))
