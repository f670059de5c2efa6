"""Forty circuits assessed, against the same loops and volt drops by a power-flow library.

The aim: under 50 ms once loaded. The library, pandapower, is a tool of the tests; it works out the
least fault currents alone, we the whole assessment with its findings.
"""

from datetime import date
from math import sqrt
from typing import Any

from bench.harness import Ratio, compare
from boardwright.catalogue.load import load_catalogue
from boardwright.circuits.conductor import r20_ohm
from boardwright.circuits.judged import judged
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.site import Site
from boardwright.job.job import Job
from boardwright.standards.load import load_edition

TITLE = "Circuits: 40 of them planned and judged, against a power-flow library's faults alone"
SIZES = ((1.0, 1.0), (1.5, 1.0), (2.5, 1.5), (4.0, 1.5), (6.0, 2.5), (10.0, 4.0), (16.0, 6.0))
SERVES = ("lighting", "sockets", "fixed appliance", "cooker", "shower")
COUNT = 40
ZE_OHM = 0.35
LOOP_V = sqrt(3) * 230


def measure() -> list[Ratio]:
    """Time planning, and planning with every finding of each circuit, once all is loaded."""
    job, catalogue, edition = _job(), load_catalogue(), load_edition("bs7671_2018_a4")

    def planned() -> object:
        return plan_circuits(job, catalogue, edition)

    def planned_and_judged() -> object:
        plan = plan_circuits(job, catalogue, edition)
        site = Site(job, plan.origin, catalogue, edition)
        pairs = zip(job.circuits, plan.circuits, strict=True)
        return [judged(circuit, result, site) for circuit, result in pairs]

    return compare(
        {"their loops alone, by pandapower": lambda: _faults(job), "planned alone": planned},
        reference="40 circuits planned and judged",
        work=planned_and_judged,
    )


def _job() -> Job:
    circuits = [
        {
            "id": f"c{n}",
            "name": f"Circuit {n}",
            "serves": SERVES[n % len(SERVES)],
            "cable": {
                "line_mm2": SIZES[n % 7][0],
                "cpc_mm2": SIZES[n % 7][1],
                "length_m": 5 + n,
                "method": "C",
            },
            "load": {"ib_a": 2 + n % 20},
        }
        for n in range(COUNT)
    ]
    return Job.model_validate(
        {
            "id": "bench",
            "title": "Bench",
            "designed_on": date(2026, 11, 25),
            "premises": {"kind": "house"},
            "supply": {"system": "TN-C-S", "ze_ohm": ZE_OHM, "cutout_fuse_a": 100},
            "earthing": {},
            "surge_environment": {"setting": "suburban"},
            "circuits": circuits,
        }
    )


def _faults(job: Job) -> object:
    """Build the net and work out the least one-phase faults: r0 = r line + 3 r return."""
    import pandapower as pp
    from pandapower.shortcircuit import calc_sc

    edition = load_edition("bs7671_2018_a4")
    net = pp.create_empty_network()
    source, board = (pp.create_bus(net, vn_kv=LOOP_V / 1000) for _ in range(2))
    grid = {"rx_max": 0.1, "rx_min": 0.1, "x0x_max": 1, "r0x0_max": 0.1, "x0x_min": 1}
    pp.create_ext_grid(net, source, s_sc_max_mva=1e6, s_sc_min_mva=1e6, r0x0_min=0.1, **grid)
    _line(net, source, board, (ZE_OHM, ZE_OHM, 20))
    for circuit in job.circuits:
        cable, end = circuit.cable, pp.create_bus(net, vn_kv=LOOP_V / 1000)
        line_ohm = r20_ohm(edition, cable.line_mm2, cable.length_m)
        back_ohm = r20_ohm(edition, cable.cpc_mm2, cable.length_m)
        _line(net, board, end, (line_ohm, line_ohm + 3 * back_ohm, 70))
    calc_sc(net, fault="1ph", case="min", lv_tol_percent=6)
    return net.res_bus_sc


def _line(net: Any, one: int, other: int, ohms: tuple[float, float, float]) -> None:  # noqa: ANN401 - a library without types
    import pandapower as pp

    pp.create_line_from_parameters(
        net,
        one,
        other,
        length_km=1,
        r_ohm_per_km=ohms[0],
        x_ohm_per_km=1e-9,
        c_nf_per_km=0,
        max_i_ka=1,
        r0_ohm_per_km=ohms[1],
        x0_ohm_per_km=1e-9,
        c0_nf_per_km=0,
        endtemp_degree=ohms[2],
    )
