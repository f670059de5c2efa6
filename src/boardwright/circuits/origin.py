"""The supply as the board sees it: Zdb, fault currents, the submain to a remote board."""

from __future__ import annotations

from math import sqrt

from boardwright.circuits.capacity import capacity_table
from boardwright.circuits.conductor import hot_factor, loop_20c_ohm, r20_ohm
from boardwright.circuits.fault import (
    device_zs_max_ohm,
    disconnection_s,
    fault_a,
    fault_behind_a,
    hot_loop_ohm,
)
from boardwright.circuits.lookup import row_up_to
from boardwright.circuits.results import Origin
from boardwright.circuits.volt_drop import drop_per_a_m, volt_drop_v
from boardwright.job.job import Job
from boardwright.job.supply import Submain
from boardwright.standards.edition import Edition


def origin_of(job: Job, demand_a: float, edition: Edition) -> Origin:
    """Return the supply at the board: Ze, tails and submain added up.

    A missing Ze is taken at the distributor's declared maximum, and said so.
    """
    supply, submain = job.supply, job.supply.submain
    ze_ohm = supply.ze_ohm if supply.ze_ohm is not None else declared_ze_ohm(job, edition)
    zdb_ohm = None
    if ze_ohm is not None:
        zdb_ohm = hot_loop_ohm(ze_ohm, _path_to_board_ohm(job, edition), hot_factor(edition))
    origin_a = _ipf_origin_a(job, edition)
    return Origin(
        ze_ohm=supply.ze_ohm,
        zdb_ohm=zdb_ohm,
        zdb_assumed=supply.ze_ohm is None and zdb_ohm is not None,
        ipf_origin_a=origin_a,
        ipf_board_max_a=_ipf_board_a(job, origin_a, edition),
        ipf_board_min_a=None if zdb_ohm is None else fault_a(supply.u0_v, zdb_ohm),
        submain_volt_drop_v=_submain_drop_v(job, demand_a, edition),
        submain_zs_max_ohm=None if submain is None else _submain_zs_max_ohm(job, submain, edition),
        submain_iz_a=None if submain is None else submain_iz_a(job, submain, edition),
    )


def declared_ze_ohm(job: Job, edition: Edition) -> float | None:
    """Return the largest Ze the distributor declares; on TT the rod's reading leads. [Ω]"""
    match job.supply.system:
        case "TN-C-S":
            return edition.number("ze.tn_c_s_max_ohm")
        case "TN-S":
            return edition.number("ze.tn_s_max_ohm")
        case "TT":
            electrode_ohm = job.earthing.electrode_ohm
            source_ohm = edition.number("ze.tt_source_ohm")
            return None if electrode_ohm is None else electrode_ohm + source_ohm


def submain_iz_a(job: Job, submain: Submain, edition: Edition) -> float:
    """Return the submain's capacity; its route is not asked for, so by the worst method. [A]"""
    table = capacity_table(edition, submain.cable, job.supply.phases)
    return min(table.rows[row_up_to(table, submain.line_mm2)].values())


def _path_to_board_ohm(job: Job, edition: Edition) -> float:
    """Add the loop of the tails, and of the submain beyond them, at 20 °C. [Ω]"""
    tails, earth_mm2 = job.supply.tails, job.earthing.conductor_mm2
    cold_ohm = 0.0
    if tails.csa_mm2 and tails.length_m:
        cold_ohm += r20_ohm(edition, tails.csa_mm2, tails.length_m)
        # The earthing conductor runs beside the tails.
        cold_ohm += r20_ohm(edition, earth_mm2 or tails.csa_mm2, tails.length_m)
    if submain := job.supply.submain:
        cold_ohm += loop_20c_ohm(edition, submain.line_mm2, submain.cpc_mm2, submain.length_m)
    return cold_ohm


def _ipf_origin_a(job: Job, edition: Edition) -> float | None:
    """Return the highest fault current at the origin; between lines it is about twice. [A]

    A tester reads a line against neutral or earth: on three phases the recorded figure may or may
    not have been doubled, so twice what Ze gives is the least that is believed.
    """
    supply = job.supply
    if supply.ipf_a is None or supply.phases == 1 or supply.ze_ohm is None:
        return supply.ipf_a
    between_lines_a = edition.number("three_phase.ipf_factor") * supply.u0_v / supply.ze_ohm
    return supply.ipf_a if supply.system == "TT" else max(supply.ipf_a, between_lines_a)


def _ipf_board_a(job: Job, origin_a: float | None, edition: Edition) -> float | None:
    """Return the highest fault current at the board, conductors cold. [A]"""
    if origin_a is None:
        return None
    supply = job.supply
    # A balanced three-phase fault does not return by the neutral.
    ways = 2 if supply.phases == 1 else 1
    one_way_ohm = 0.0
    if supply.tails.csa_mm2 and supply.tails.length_m:
        one_way_ohm += r20_ohm(edition, supply.tails.csa_mm2, supply.tails.length_m)
    if supply.submain:
        one_way_ohm += r20_ohm(edition, supply.submain.line_mm2, supply.submain.length_m)
    return fault_behind_a(supply.u0_v, origin_a, ways * one_way_ohm)


def _submain_drop_v(job: Job, demand_a: float, edition: Edition) -> float:
    submain = job.supply.submain
    if submain is None:
        return 0.0
    per_a_m = drop_per_a_m(edition, submain.line_mm2, job.supply.phases)
    return volt_drop_v(per_a_m, min(demand_a, submain.fuse_a), submain.length_m)


def _submain_zs_max_ohm(job: Job, submain: Submain, edition: Edition) -> float | None:
    """Return the loop within which the submain's own device disconnects; None on TT. [Ω]"""
    if job.supply.system == "TT":
        # Through an electrode no fuse disconnects: an RCD ahead must, whatever the loop.
        return None
    time_s = disconnection_s(
        edition, system=job.supply.system, in_a=submain.fuse_a, sockets=False, distribution=True
    )
    breaker = submain.fuse_standard.startswith("MCB")
    return device_zs_max_ohm(
        edition,
        standard="MCB" if breaker else submain.fuse_standard,
        curve=submain.fuse_standard[-1] if breaker else "",
        in_a=submain.fuse_a,
        time_s=time_s,
        u0_v=job.supply.u0_v,
    )


def submain_drop_v(job: Job, origin: Origin, phases: int) -> float:
    """Return what is lost before the board, as a circuit of so many phases sees it. [V]"""
    before_v = origin.submain_volt_drop_v
    # A tabulated three-phase drop is line to line.
    return before_v / sqrt(3) if phases < job.supply.phases else before_v
