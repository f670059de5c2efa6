"""The distribution circuit to a remote board: its cable, its device, what is lost along it."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.circuits.capacity import capacity_table
from boardwright.circuits.fault import device_zs_max_ohm, disconnection_s
from boardwright.circuits.lookup import row_up_to
from boardwright.circuits.stress import Overcurrent, Stress, overcurrent_stress
from boardwright.circuits.volt_drop import drop_per_a_m, volt_drop_v
from boardwright.core.findings import Rule
from boardwright.job.job import Job
from boardwright.job.supply import Submain
from boardwright.standards.edition import Edition


@dataclass(frozen=True, slots=True)
class SubmainCapacity:
    """What the cable carries; its route is not asked for, so by the worst method of its table."""

    iz_a: float
    method: str
    rule: Rule


def capacity(submain: Submain, job: Job, edition: Edition) -> SubmainCapacity:
    """Return a submain's capacity by the worst method there is for its cable."""
    table = capacity_table(edition, submain.cable, job.supply.phases)
    row = row_up_to(table, submain.line_mm2)
    method = min(table.rows[row], key=table.rows[row].__getitem__)
    return SubmainCapacity(
        table.rows[row][method], method, edition.cell_rule(table.key, row, method)
    )


def load_a(submain: Submain, demand_a: float) -> float:
    """Return what a submain carries: the demand, or what its device lets pass. [A]"""
    return min(demand_a, submain.fuse_a)


def drop_v(submain: Submain, job: Job, demand_a: float, edition: Edition) -> float:
    """Return the volt drop of a submain, line to line on three phases. [V]"""
    per_a_m = drop_per_a_m(edition, submain.line_mm2, job.supply.phases)
    return volt_drop_v(per_a_m, load_a(submain, demand_a), submain.length_m)


def curve_of(submain: Submain) -> str:
    """Return the curve of the breaker at the intake, empty for a fuse."""
    return submain.fuse_standard[-1] if submain.fuse_standard.startswith("MCB") else ""


def allowed_s(submain: Submain, job: Job, edition: Edition) -> float:
    """Return the time in which a fault at the board must be gone. [s]"""
    system, fuse_a = job.supply.system, submain.fuse_a
    return disconnection_s(edition, system=system, in_a=fuse_a, sockets=False, distribution=True)


def stress_at_board(submain: Submain, job: Job, zdb_ohm: float, edition: Edition) -> Stress:
    """Return the current and the time of a fault at the board that count for the conductors."""
    return overcurrent_stress(
        device_of(submain),
        zdb_ohm,
        limit_s=allowed_s(submain, job, edition),
        u0_v=job.supply.u0_v,
        edition=edition,
    )


def device_of(submain: Submain) -> Overcurrent:
    """Return the device at the intake."""
    curve = curve_of(submain)
    return Overcurrent("MCB" if curve else submain.fuse_standard, curve, submain.fuse_a)


def zs_max_ohm(submain: Submain, job: Job, edition: Edition) -> float | None:
    """Return the loop within which the submain's own device disconnects; None on TT. [Ω]"""
    if job.supply.system == "TT":
        # Through an electrode no fuse disconnects: an RCD ahead must, whatever the loop.
        return None
    device = device_of(submain)
    return device_zs_max_ohm(
        edition,
        standard=device.standard,
        curve=device.curve,
        in_a=device.in_a,
        time_s=allowed_s(submain, job, edition),
        u0_v=job.supply.u0_v,
    )
