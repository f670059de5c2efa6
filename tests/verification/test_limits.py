"""The limits handed to a device decide as the gate and the checks do, for any reading.

The figures themselves are tested where they come from; here two ways through the library, one of
them written before the other, must agree.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.circuits.judged_fault import measured_loop
from boardwright.circuits.judged_load import reading_agrees
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.site import Site
from boardwright.core.findings import Verdict
from boardwright.gate.rings import ring
from boardwright.gate.wiring import insulation
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.job.read import read_job
from boardwright.standards.edition import Edition
from boardwright.standards.load import load_edition
from boardwright.verification.limits import (
    Limit,
    Side,
    circuit_limits,
    origin_limits,
    over_range,
    verdict_of,
)

HOMES = Path(__file__).parents[2] / "examples"
TIMES = 300


def _home(name: str) -> tuple[Job, Edition]:
    job = read_job(HOMES / f"{name}.yaml")
    return job, load_edition(job.edition)


def _limits(circuit: Circuit, job: Job, edition: Edition) -> dict[str, Limit]:
    plan = plan_circuits(job, load_catalogue(), edition)
    return {limit.reading: limit for limit in circuit_limits(circuit, plan, edition)}


def _read(circuit: Circuit, readings: dict[str, float]) -> Circuit:
    told = circuit.readings.model_copy(update={**readings, "insulation_test_v": 500})
    return circuit.model_copy(update={"readings": told})


@pytest.mark.parametrize("name", ["semi", "cottage", "three-phase"])
def test_a_loop_is_judged_as_the_check_judges_it(name: str) -> None:
    chance = random.Random(name)
    job, edition = _home(name)
    plan = plan_circuits(job, load_catalogue(), edition)
    site = Site(job, plan.origin, load_catalogue(), edition)
    for circuit in job.circuits:
        limit = _limits(circuit, job, edition).get("zs_ohm")
        if limit is None:
            continue
        [bound] = limit.bounds
        assert isinstance(bound, Side)
        edge = bound.limit
        for zs_ohm in (edge, edge * 1.0001, *(chance.uniform(0, 2 * edge) for _ in range(20))):
            read = _read(circuit, {"zs_ohm": zs_ohm})
            found = measured_loop(read, plan.circuit(circuit.id), site)
            assert found is not None
            assert verdict_of(limit, zs_ohm, {})[0] is found.verdict, (circuit.id, zs_ohm)
            assert found.limit == edge


def test_insulation_is_judged_as_the_gate_judges_it() -> None:
    chance = random.Random(1)
    job, edition = _home("semi")
    circuit = job.circuits[0]
    limit = _limits(circuit, job, edition)["ir_earth_mohm"]
    for mohm in (0.0, 1.0, 2.0, 0.99, 1.99, *(chance.uniform(0, 5) for _ in range(TIMES))):
        found = insulation(_read(circuit, {"insulation_mohm": mohm}), edition)
        assert verdict_of(limit, mohm, {})[0] is found.verdict, mohm


def test_a_ring_is_judged_as_the_gate_judges_it() -> None:
    chance = random.Random(2)
    job, edition = _home("semi")
    circuit = next(c for c in job.circuits if c.topology == "ring")
    limits = _limits(circuit, job, edition)
    for _ in range(TIMES):
        r1_ohm = round(chance.uniform(0.1, 0.6), 2)
        read = {
            "r1_ohm": r1_ohm,
            "rn_ohm": round(r1_ohm + chance.choice((0, 0.01, 0.04, 0.05, 0.06, 0.2, 11)), 2),
            "r2_ohm": round(r1_ohm * chance.uniform(1, 2.4), 2),
        }
        found = list(ring(_read(circuit, read), edition))
        worst = min((finding.verdict for finding in found), key=lambda verdict: verdict.rank)
        own = [verdict_of(limits[key], value, read)[0] for key, value in read.items()]
        assert min(own, key=lambda verdict: verdict.rank) is worst, read


def test_r1r2_is_judged_as_the_check_judges_it() -> None:
    chance = random.Random(3)
    job, edition = _home("semi")
    plan = plan_circuits(job, load_catalogue(), edition)
    site = Site(job, plan.origin, load_catalogue(), edition)
    for circuit in job.circuits:
        limit = _limits(circuit, job, edition)["r1r2_ohm"]
        for _ in range(30):
            ohm = round(chance.uniform(0, 2), 2)
            read = _read(circuit, {"r1r2_ohm": ohm})
            doubted = reading_agrees(read, plan.circuit(circuit.id), site) is not None
            expected = Verdict.ADVISE if doubted else Verdict.PASS
            assert verdict_of(limit, ohm, {})[0] is expected, (circuit.id, ohm)


def test_readings_stand_in_tester_order() -> None:
    # BS 7671, 643, and the guidance on it (from memory): continuity, ring, insulation, polarity;
    # then live: the loop, the RCD.
    job, edition = _home("semi")
    circuit = next(c for c in job.circuits if c.topology == "ring")

    assert list(_limits(circuit, job, edition)) == [
        *("r1_ohm", "rn_ohm", "r2_ohm", "r1r2_ohm"),
        *("ir_live_mohm", "ir_earth_mohm", "polarity"),
        *("zs_ohm", "rcd_ms", "rcd_button"),
    ]


def test_a_trip_time_is_held_against_300_ms() -> None:
    # One test at the rated residual current, 300 ms for the general type: trade-body article on
    # the change to RCD testing with A2:2022.
    job, edition = _home("semi")
    limit = _limits(job.circuits[0], job, edition)["rcd_ms"]

    assert verdict_of(limit, 300, {})[0] is Verdict.PASS
    assert verdict_of(limit, 300.1, {})[0] is Verdict.FAIL


def test_what_no_rcd_protects_has_no_trip_time() -> None:
    job, edition = _home("semi-split")
    plan = plan_circuits(job, load_catalogue(), edition)
    without = [s for c in job.circuits if not (s := _limits(c, job, edition)).get("rcd_ms")]
    behind = {name for section in plan.sections for name in section.circuit_ids}

    assert len(job.circuits) - len(without) >= len(behind) > 0


def test_over_range_proves_more_and_never_less() -> None:
    job, edition = _home("semi")
    limits = _limits(job.circuits[0], job, edition)

    more, less = limits["ir_earth_mohm"], limits["zs_ohm"]
    assert verdict_of(more, over_range(more, 999), {})[0] is Verdict.PASS
    assert verdict_of(less, over_range(less, 0.01), {})[0] is Verdict.FAIL


@pytest.mark.parametrize(("name", "reading"), [("semi", "ze_ohm"), ("cottage", "ra_ohm")])
def test_the_origin_asks_what_its_system_has(name: str, reading: str) -> None:
    job, edition = _home(name)
    limits = {limit.reading: limit for limit in origin_limits(job, edition)}

    # 0.35 ohm declared for TN-C-S (network operators' publications); 200 ohm and more may be
    # unstable (BS 7671, note to Table 41.5).
    edge = {"ze_ohm": 0.35, "ra_ohm": 200.0}[reading]
    assert verdict_of(limits[reading], edge, {})[0] is Verdict.PASS
    assert verdict_of(limits[reading], edge * 1.01, {})[0] is not Verdict.PASS


def test_what_is_seen_is_right_or_not() -> None:
    job, edition = _home("semi")
    limit = _limits(job.circuits[0], job, edition)["polarity"]

    assert verdict_of(limit, "yes", {})[0] is Verdict.PASS
    assert verdict_of(limit, "no", {})[0] is Verdict.FAIL
