"""The working of the distribution circuit: its cable, its volt drop, its loop, its cpc."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.circuits.lookup import figure
from boardwright.circuits.results import CircuitPlan
from boardwright.circuits.submain import allowed_s, capacity, curve_of, load_a, stress_at_board
from boardwright.circuits.volt_drop import drop_per_a_m
from boardwright.circuits.working import formulas
from boardwright.circuits.working.loop import adiabatic_step
from boardwright.circuits.working.step import Sheet, Step
from boardwright.job.job import Job
from boardwright.job.supply import Submain
from boardwright.standards.edition import Edition

_SHEET = Sheet("Distribution circuit")
_LARGEST = "Largest loop at the board within which its device disconnects"


def submain_steps(plan: CircuitPlan, job: Job, edition: Edition) -> Iterator[Step]:
    """Yield every figure of the distribution circuit; nothing where the tails reach the board."""
    submain = job.supply.submain
    if submain is None:
        return
    found = capacity(submain, job, edition)
    note = f"{submain.line_mm2:g} mm², method {found.method}, the worst plausible"
    yield _SHEET.given(
        "submain_iz_a", "Capacity as installed", found.iz_a, rule=found.rule, note=note
    )
    yield _drop(submain, plan, job, edition)
    if plan.origin.submain_zs_max_ohm is not None:
        yield _zs_max(submain, plan.origin.submain_zs_max_ohm, job, edition)
    if plan.origin.zdb_ohm is not None and job.supply.system != "TT":
        yield _cpc(submain, plan.origin.zdb_ohm, job, edition)


def _drop(submain: Submain, plan: CircuitPlan, job: Job, edition: Edition) -> Step:
    phases = job.supply.phases
    values = {
        "drop_v_per_a_m": drop_per_a_m(edition, submain.line_mm2, phases),
        "load_a": load_a(submain, plan.demand.total_a),
        "length_m": submain.length_m,
    }
    rule = edition.rule(f"volt_drop_mv_per_a_m.{phases}")
    note = "line to line; a one-phase circuit sees it divided by √3" if phases > 1 else ""
    return _SHEET.worked(formulas.SUBMAIN_DROP, values, rule, note)


def _zs_max(submain: Submain, most_ohm: float, job: Job, edition: Edition) -> Step:
    """Return the largest loop: worked for a breaker, of a fuse read off a table."""
    time_s = allowed_s(submain, job, edition)
    curve, short = curve_of(submain), "0.4" if time_s < 1 else "5"
    note = f"{submain.fuse_standard}, {submain.fuse_a:g} A, {time_s:g} s"
    if not curve:
        rule = edition.rule(f"fuse_zs_ohm.{short}")
        return _SHEET.given("submain_zs_max_ohm", _LARGEST, most_ohm, rule=rule, note=note)
    formula = replace(formulas.ZS_MAX, gives="submain_zs_max_ohm", says=_LARGEST)
    values = {
        "u0_v": job.supply.u0_v,
        "cmin": edition.number("cmin"),
        "in_a": submain.fuse_a,
        "trip_multiple": figure(edition.table("trip_multiple"), curve, short),
    }
    return _SHEET.worked(formula, values, edition.rule("zs.breaker"), note)


def _cpc(submain: Submain, zdb_ohm: float, job: Job, edition: Edition) -> Step:
    stress = stress_at_board(submain, job, zdb_ohm, edition)
    k_factor = figure(edition.table("k"), submain.cable, "protective")
    return adiabatic_step(_SHEET, stress, k_factor, submain.cpc_mm2, edition)
