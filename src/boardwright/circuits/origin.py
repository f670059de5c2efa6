"""The supply as the board sees it: Zdb, fault currents, the submain to a remote board."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from boardwright.circuits.conductor import hot_factor, r20_ohm
from boardwright.circuits.fault import fault_a, fault_behind_a, hot_loop_ohm
from boardwright.circuits.results import Origin
from boardwright.circuits.submain import capacity, drop_v, zs_max_ohm
from boardwright.job.job import Job
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
        submain_volt_drop_v=0.0 if submain is None else drop_v(submain, job, demand_a, edition),
        submain_zs_max_ohm=None if submain is None else zs_max_ohm(submain, job, edition),
        submain_iz_a=None if submain is None else capacity(submain, job, edition).iz_a,
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


@dataclass(frozen=True, slots=True)
class Length:
    """A length of conductor between the origin and the board, at 20 °C."""

    name: str
    csa_mm2: float
    length_m: float
    r20_ohm: float
    is_line: bool


def to_board(job: Job, edition: Edition) -> Iterator[Length]:
    """Yield each conductor of the loop of the tails, and of the submain beyond them."""
    tails, submain = job.supply.tails, job.supply.submain
    if tails.csa_mm2 and tails.length_m:
        # The earthing conductor runs beside the tails.
        earth_mm2 = job.earthing.conductor_mm2 or tails.csa_mm2
        yield _length("tail", tails.csa_mm2, tails.length_m, edition, is_line=True)
        yield _length("earth beside it", earth_mm2, tails.length_m, edition, is_line=False)
    if submain:
        yield _length("submain", submain.line_mm2, submain.length_m, edition, is_line=True)
        yield _length("its cpc", submain.cpc_mm2, submain.length_m, edition, is_line=False)


def _length(
    name: str, csa_mm2: float, length_m: float, edition: Edition, *, is_line: bool
) -> Length:
    return Length(name, csa_mm2, length_m, r20_ohm(edition, csa_mm2, length_m), is_line)


def _path_to_board_ohm(job: Job, edition: Edition) -> float:
    """Add the loop between origin and board, at 20 °C. [Ω]"""
    return sum(part.r20_ohm for part in to_board(job, edition))


def one_way_ohm(job: Job, edition: Edition) -> float:
    """Add the line conductors between origin and board, at 20 °C. [Ω]"""
    return sum(part.r20_ohm for part in to_board(job, edition) if part.is_line)


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
    return fault_behind_a(supply.u0_v, origin_a, one_way_ohm(job, edition), fault_ways(job))


def fault_ways(job: Job) -> int:
    """Return how often the strongest fault passes the line: a balanced one has no return."""
    return 2 if job.supply.phases == 1 else 1


def submain_drop_v(job: Job, origin: Origin, phases: int) -> float:
    """Return what is lost before the board, as a circuit of so many phases sees it. [V]"""
    before_v = origin.submain_volt_drop_v
    # A tabulated three-phase drop is line to line.
    return before_v / sqrt(3) if phases < job.supply.phases else before_v
