"""Nothing is painted on: one input is changed, and what must move moves, the rest stays.

What must move follows from physics (Ohm's law, the lead's inductance) or from the rule named
beside the case; what must stay is whatever the input cannot reach.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.load import load_catalogue
from boardwright.design import Design, design
from boardwright.job.job import Job
from boardwright.job.read import read_job
from boardwright.standards.load import load_edition

EXAMPLES = Path(__file__).parents[2] / "examples"
CATALOGUE = load_catalogue()


@cache
def _home(name: str) -> Job:
    return read_job(EXAMPLES / f"{name}.yaml")


def _with(job: Job, path: str, value: object) -> Job:
    """Return the job with one field changed, validated again."""
    data = job.model_dump(mode="json", exclude_none=True)
    *parents, last = path.split(".")
    place: Any = data
    for part in parents:
        place = (
            next(c for c in place if c["id"] == part) if isinstance(place, list) else place[part]
        )
    place[last] = value
    return Job.model_validate(data)


def _verdict(result: Design, check: str) -> tuple[str, ...]:
    return tuple(
        sorted(f"{f.subject}: {f.verdict.value}" for f in result.findings if f.check == check)
    )


def _figures(result: Design) -> Mapping[str, object]:
    """Return the outputs that the cases name."""
    chosen, plan = result.chosen, result.plan
    shower, ring = plan.circuit("shower"), plan.circuit("kitchen-ring")
    board = chosen.study.places[0]
    assert chosen.spd.candidate is not None
    assert chosen.wiring.spd_leads is not None
    assert board.with_spd_v is not None
    return {
        "demand": plan.demand.total_a,
        "shower volt drop": shower.volt_drop_v,
        "shower R1+R2": shower.r1r2_20c_ohm,
        "shower Zs": shower.zs_ohm,
        "shower Zs limit": shower.zs_max_ohm,
        "shower capacity": shower.iz_a,
        "shower rating": shower.in_a,
        "ring Zs": ring.zs_ohm,
        "ring volt drop": ring.volt_drop_v,
        "fault current at the board": plan.origin.ipf_board_max_a,
        "fault protection": shower.fault_protection,
        "risk level": result.need.crl,
        "SPD": chosen.spd.candidate.device.id,
        "SPD leads": round(chosen.wiring.spd_leads.total_m, 4),
        "surge at the board": (board.with_spd_v.p5_v, board.with_spd_v.p95_v),
        "rail": tuple(p.item.id for p in chosen.arrangement.placements),
        "back-up verdict": _verdict(result, "spd.backup"),
        "fuse ahead": _verdict(result, "spd.fuse_ahead"),
        "demand verdict": _verdict(result, "demand.fuse"),
        "section verdict": _verdict(result, "rcd.overload"),
        "tails verdict": _verdict(result, "gate.tails"),
        "short-circuit figure": tuple(
            f.value for f in result.findings if f.check == "supply.fault_rating"
        ),
    }


@dataclass(frozen=True)
class Case:
    """One change, what must move, and what must stay."""

    home: str
    moves: tuple[str, ...]
    stays: tuple[str, ...]
    job: Callable[[Job], Job] = lambda job: job
    catalogue: Callable[[Catalogue], Catalogue] = lambda catalogue: catalogue


def _upside_down(catalogue: Catalogue) -> Catalogue:
    """Return the catalogue with the terminals of the semi's SPD on the other side each."""
    other = {"top": "bottom", "bottom": "top"}
    device = catalogue.devices["ravel-spd-t2"]
    terminals = tuple(t.model_copy(update={"side": other[t.side]}) for t in device.terminals)
    turned = device.model_copy(update={"terminals": terminals})
    return replace(catalogue, devices=MappingProxyType({**catalogue.devices, device.id: turned}))


CASES = {
    # Volt drop and R1+R2 grow with length; nothing else of the home knows this cable.
    "cable length": Case(
        "semi",
        ("shower volt drop", "shower R1+R2", "shower Zs"),
        ("ring Zs", "ring volt drop", "demand", "SPD leads", "rail", "risk level", "shower rating"),
        job=lambda job: _with(job, "circuits.shower.cable.length_m", 24.0),
    ),
    # The pin-out decides the leads, the leads what a surge leaves.
    "SPD pin-out": Case(
        "semi-fixed-spd",
        ("SPD leads", "surge at the board"),
        ("demand", "shower Zs", "ring volt drop", "risk level", "SPD", "rail"),
        catalogue=_upside_down,
    ),
    # Zs = Ze + (R1 + R2).
    "Ze": Case(
        "semi",
        ("shower Zs", "ring Zs"),
        ("shower volt drop", "shower R1+R2", "demand", "SPD leads", "risk level", "rail"),
        job=lambda job: _with(job, "supply.ze_ohm", 0.30),
    ),
    # The highest fault current belongs to breaking capacity, not to disconnection.
    "prospective fault current": Case(
        "semi",
        ("fault current at the board", "short-circuit figure"),
        ("shower Zs", "ring Zs", "shower volt drop", "demand", "SPD leads", "rail"),
        job=lambda job: _with(job, "supply.ipf_a", 4200.0),
    ),
    # In TT the RCD disconnects: 50 V / IΔn governs (Table 41.5), not the breaker's Zs.
    "earthing system": Case(
        "semi",
        ("fault protection", "shower Zs limit", "surge at the board"),
        ("shower volt drop", "ring volt drop", "shower R1+R2", "demand", "shower capacity"),
        job=lambda job: _with(_with(job, "supply.system", "TT"), "earthing.electrode_ohm", 60.0),
    ),
    # A 60 A fuse protects what a 100 A fuse does not (536.4.202), and asks less of the tails.
    "cut-out rating": Case(
        "semi-split",
        ("section verdict", "demand verdict", "fuse ahead"),
        ("shower volt drop", "shower Zs", "ring Zs", "SPD leads", "risk level", "demand"),
        job=lambda job: _with(job, "supply.cutout_fuse_a", 60.0),
    ),
}


def _job_of(home: str) -> Job:
    if home == "semi-fixed-spd":
        return _with(_home("semi"), "wishes.spd", "ravel-spd-t2")
    return _home(home)


@cache
def _before(home: str) -> Mapping[str, object]:
    job = _job_of(home)
    return _figures(design(job, CATALOGUE, load_edition(job.edition)))


@pytest.mark.parametrize("name", CASES)
def test_what_must_move_moves_and_the_rest_stays(name: str) -> None:
    case = CASES[name]
    before = _before(case.home)
    job = case.job(_job_of(case.home))

    after = _figures(design(job, case.catalogue(CATALOGUE), load_edition(job.edition)))

    moved = {key for key in before if before[key] != after[key]}
    assert set(case.moves) <= moved, f"did not move: {set(case.moves) - moved}"
    assert not set(case.stays) & moved, f"moved: {set(case.stays) & moved}"


def test_the_same_job_gives_the_same_design() -> None:
    job = _home("semi")

    first = design(job, CATALOGUE, load_edition(job.edition))
    second = design(job, load_catalogue(), load_edition(job.edition))

    assert first.mark == second.mark
    assert first.chosen.wiring == second.chosen.wiring
    assert first.findings == second.findings
    assert first.chosen.study.places == second.chosen.study.places
