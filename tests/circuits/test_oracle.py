"""Loops and volt drops of 200 random circuits against a power-flow library, pandapower.

The recipe for a loop: line resistance as r1, r0 = r_line + 3 r_return, so that a one-phase fault
sees line and return; √3 x 230 V; the least case at 6 % tolerance takes cmin 0.95.
"""

import random
from math import sqrt
from typing import Any

import pytest

from boardwright.circuits.conductor import r20_ohm
from boardwright.circuits.results import CircuitResult
from tests.circuits.build import EDITION, only, raw_circuit

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore")]

SIZES = ((1.0, 1.0), (1.5, 1.0), (2.5, 1.5), (4.0, 1.5), (6.0, 2.5), (10.0, 4.0), (16.0, 6.0))
LOOP_V = sqrt(3) * 230
HOT_C = 70
Drawn = tuple[float, float, float, float, float]


def _drawn() -> list[Drawn]:
    """Draw Ze, line and cpc, length, load."""
    draw = random.Random(20261125)
    return [
        (
            draw.uniform(0.05, 0.8),
            *draw.choice(SIZES),
            draw.uniform(3, 80),
            draw.uniform(0.5, 30),
        )
        for _ in range(200)
    ]


def _ours(drawn: Drawn) -> CircuitResult:
    ze_ohm, line_mm2, cpc_mm2, length_m, ib_a = drawn
    cable = {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2, "length_m": length_m, "method": "C"}
    circuit = raw_circuit("fixed appliance", cable=cable, load={"ib_a": ib_a})
    return only(circuit, supply={"ze_ohm": ze_ohm})


def _branch(net: Any, ends: tuple[int, int], r1_ohm: float, r0_ohm: float, end_c: float) -> None:  # noqa: ANN401 - a library without types
    import pandapower as pp

    pp.create_line_from_parameters(
        net,
        *ends,
        length_km=1,
        r_ohm_per_km=r1_ohm,
        x_ohm_per_km=1e-9,
        c_nf_per_km=0,
        max_i_ka=1,
        r0_ohm_per_km=r0_ohm,
        x0_ohm_per_km=1e-9,
        c0_nf_per_km=0,
        endtemp_degree=end_c,
    )


def _stiff(voltage_v: float) -> tuple[Any, int]:
    import pandapower as pp

    net = pp.create_empty_network()
    bus = int(pp.create_bus(net, vn_kv=voltage_v / 1000))
    pp.create_ext_grid(
        net,
        bus,
        s_sc_max_mva=1e6,
        s_sc_min_mva=1e6,
        rx_max=0.1,
        rx_min=0.1,
        x0x_max=1,
        r0x0_max=0.1,
        x0x_min=1,
        r0x0_min=0.1,
    )
    return net, bus


def test_least_fault_currents_agree() -> None:
    import pandapower as pp
    from pandapower.shortcircuit import calc_sc

    net, source = _stiff(LOOP_V)
    far = []
    for ze_ohm, line_mm2, cpc_mm2, length_m, _ in _drawn():
        board, end = (int(pp.create_bus(net, vn_kv=LOOP_V / 1000)) for _ in range(2))
        _branch(net, (source, board), ze_ohm, ze_ohm, 20)
        line_ohm, cpc_ohm = (r20_ohm(EDITION, csa, length_m) for csa in (line_mm2, cpc_mm2))
        _branch(net, (board, end), line_ohm, line_ohm + 3 * cpc_ohm, HOT_C)
        far.append(end)
    calc_sc(net, fault="1ph", case="min", lv_tol_percent=6)
    library_a = net.res_bus_sc.ikss_ka.loc[far] * 1000

    for drawn, ik_a in zip(_drawn(), library_a, strict=True):
        assert _ours(drawn).ipf_min_a == pytest.approx(float(ik_a), rel=1e-3)


def test_volt_drops_agree_within_the_tables_rounding() -> None:
    import pandapower as pp

    net, source = _stiff(230)
    far = []
    for _, line_mm2, _, length_m, ib_a in _drawn():
        end = int(pp.create_bus(net, vn_kv=0.23))
        loop_ohm = 2 * r20_ohm(EDITION, line_mm2, length_m) * 1.2
        _branch(net, (source, end), loop_ohm, loop_ohm, HOT_C)
        # Line to line, three-phase power P drops P·R/U: the same as a one-phase loop of R.
        pp.create_load(net, end, p_mw=ib_a * 230 / 1e6, const_i_p_percent=100)
        far.append(end)
    pp.runpp(net)
    library_v = (1 - net.res_bus.vm_pu.loc[far]) * 230

    for drawn, drop_v in zip(_drawn(), library_v, strict=True):
        assert _ours(drawn).volt_drop_v == pytest.approx(float(drop_v), rel=0.015)
