"""The time-domain solver against closed forms, a general integrator and its own order."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.core.errors import FieldError
from boardwright.surge.curves import LogPolynomial, voltage_v
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Element,
    Gap,
    Generator,
    Node,
    Varistor,
)
from boardwright.surge.measure import charge_as, joule_integral_a2s
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.solver import GRADED, Outcome, Solution, Stage, crest, finer, solve
from boardwright.surge.waveforms import (
    GENERATOR_A,
    GENERATOR_B,
    Array,
    GeneratorCircuit,
    Impulse8x20,
)

EARTH, LINE, TAP, FAR = (Node("rig", name) for name in ("PE", "L", "N", "L2"))
BLOCK_40 = LogPolynomial(2.7103342, 0.0229461, -0.0004008, 0.0036353)
FINE = (Stage(1.0, 2e-9),)


def _net(*elements: Element) -> SurgeNetwork:
    return SurgeNetwork(EARTH, elements)


def _surge(
    open_crest_v: float, lead_h: float = 0.5e-6, imax_a: float | None = None
) -> SurgeNetwork:
    charge_v = GENERATOR_A.charge_for_v(1.0) * open_crest_v
    return _net(
        Generator("surge", LINE, EARTH, GENERATOR_A, charge_v),
        Branch("lead", LINE, TAP, 1e-3, lead_h),
        Varistor("SPD", TAP, EARTH, BLOCK_40, imax_a),
        Capacitor("own", TAP, EARTH, 2.7e-9),
    )


def test_discharge_of_a_capacitor() -> None:
    """Closed form (derived): 1 kV, 6 µF, 10 µH, 1 ohm."""
    network = _net(Capacitor("c", LINE, EARTH, 6e-6, 1000.0), Branch("rl", LINE, EARTH, 1.0, 10e-6))

    solution = solve(network, 150e-6, stages=(Stage(1.0, 10e-9),))
    i = solution.current_a("rl")

    assert crest(solution.t_s, i) == pytest.approx(473.2, rel=2e-4)
    assert solution.t_s[i.argmax()] == pytest.approx(9.856e-6, abs=10e-9)
    assert -i.min() / i.max() == pytest.approx(0.2672, abs=2e-4)
    assert joule_integral_a2s(solution.t_s, i) == pytest.approx(3.000, rel=1e-3)
    assert charge_as(solution.t_s, i) == pytest.approx(6.000e-3, rel=1e-3)


@pytest.mark.parametrize(
    ("r_ohm", "peak", "at_s"), [(20.0, 1.2079, 0.7854e-6), (0.0, 2.0, 0.7025e-6)]
)
def test_step_into_a_filter(r_ohm: float, peak: float, at_s: float) -> None:
    """Closed form (derived): 5 µH and 10 nF ring to twice the step without resistance."""
    network = _net(
        # A farad at one volt is a step for as long as this lasts.
        Capacitor("source", LINE, EARTH, 1.0, 1.0),
        Branch("rl", LINE, FAR, r_ohm, 5e-6),
        Capacitor("filter", FAR, EARTH, 10e-9),
    )

    solution = solve(network, 1e-6, stages=FINE)

    assert solution.peak_v(FAR) == pytest.approx(peak, rel=1e-4)
    assert solution.t_s[solution.voltage_v(FAR).argmax()] == pytest.approx(at_s, abs=3e-9)


@pytest.mark.parametrize("generator", [GENERATOR_A, GENERATOR_B], ids=["A", "B"])
def test_an_open_generator_follows_its_closed_form(generator: GeneratorCircuit) -> None:
    solution = solve(_net(Generator("surge", LINE, EARTH, generator, 1000.0)), 60e-6, stages=FINE)
    exact = 1000.0 * generator.open_v(solution.t_s)

    assert np.abs(solution.voltage_v(LINE) - exact).max() < 1e-4 * exact.max()


def test_halving_the_step_quarters_the_error() -> None:
    def error(step_s: float) -> float:
        generator = Generator("surge", LINE, EARTH, GENERATOR_B, 1000.0)
        solution = solve(_net(generator), 10e-6, stages=(Stage(1.0, step_s),))
        exact = 1000.0 * GENERATOR_B.open_v(solution.t_s)
        return float(np.abs(solution.voltage_v(LINE) - exact)[solution.t_s > 2e-6].max())

    assert error(40e-9) / error(20e-9) == pytest.approx(4, rel=0.05)


def test_scipys_radau_agrees_on_a_varistor_behind_its_lead() -> None:
    """Outside check: a general stiff integrator on the same circuit as a state equation."""
    from scipy.integrate import solve_ivp

    network, c, charge_v = _surge(6000.0), GENERATOR_A, GENERATOR_A.charge_for_v(6000.0)
    table = np.array([voltage_v(BLOCK_40, i) for i in np.geomspace(1e-9, 1e5, 20_000)])

    def through(u: float) -> float:
        ln_i = np.interp(abs(u), table, np.linspace(np.log(1e-9), np.log(1e5), 20_000))
        return float(np.sign(u) * np.exp(ln_i)) if abs(u) > table[0] else u * 1e-9 / table[0]

    def slope(_: float, x: Array) -> list[float]:
        store_v, coil_a, lead_a, tap_v = x
        line_v = c.rs2_ohm * (coil_a - lead_a)
        return [
            -(store_v / c.rs1_ohm + coil_a) / c.cc_f,
            (store_v - c.rm_ohm * coil_a - line_v) / c.lr_h,
            (line_v - 1e-3 * lead_a - tap_v) / 0.5e-6,
            (lead_a - through(tap_v)) / 2.7e-9,
        ]

    start = [charge_v, 0.0, 0.0, 0.0]
    exact = solve_ivp(slope, (0, 10e-6), start, "Radau", rtol=1e-7, atol=1e-4, dense_output=True)
    solution = solve(network, 10e-6)
    store_v, coil_a, lead_a, tap_v = exact.sol(solution.t_s)

    later = solution.t_s > 0.5e-6
    assert np.abs(solution.current_a("lead") - lead_a).max() < 1e-3 * lead_a.max()
    assert np.abs(solution.voltage_v(TAP) - tap_v)[later].max() < 1e-3 * tap_v.max()
    line_v = c.rs2_ohm * (coil_a - lead_a)
    assert solution.peak_v(LINE) == pytest.approx(float(line_v.max()), rel=1e-3)
    assert store_v[-1] == pytest.approx(
        float(solution.voltage_v(Node("surge.store", "L"))[-1]), rel=1e-4
    )


@settings(max_examples=25, deadline=None)
@given(open_crest_v=st.floats(500, 20e3), lead_m=st.floats(0.05, 3))
def test_no_surge_of_a_home_breaks_the_solver(open_crest_v: float, lead_m: float) -> None:
    solution = solve(_surge(open_crest_v, lead_m * 1e-6), 60e-6)

    assert solution.outcome is Outcome.SOLVED
    assert abs(solution.energy.gap_ratio) < 5e-5
    assert solution.t_s[-1] == pytest.approx(60e-6, rel=1e-9)


@settings(max_examples=10, deadline=None)
@given(open_crest_v=st.floats(500, 20e3))
def test_a_surge_of_the_other_sign_is_the_mirror_image(open_crest_v: float) -> None:
    up, down = solve(_surge(open_crest_v), 10e-6), solve(_surge(-open_crest_v), 10e-6)

    np.testing.assert_allclose(down.states, -up.states, rtol=1e-6, atol=1e-6)


@settings(max_examples=15, deadline=None)
@given(open_crest_v=st.floats(500, 20e3), lead_m=st.floats(0.05, 2.5), more_m=st.floats(0.05, 1))
def test_more_lead_never_lowers_the_peak_before_it(
    open_crest_v: float, lead_m: float, more_m: float
) -> None:
    short, long = (
        solve(_surge(open_crest_v, length_m * 1e-6), 12e-6).peak_v(LINE)
        for length_m in (lead_m, lead_m + more_m)
    )

    # A volt covers the coarser steps around a broad crest.
    assert long >= short - 1.0


def test_the_graded_steps_are_fine_enough() -> None:
    network = _surge(6000.0)
    usual, fine = solve(network, 60e-6), solve(network, 60e-6, stages=finer(GRADED, 4))

    assert usual.peak_v(LINE) == pytest.approx(fine.peak_v(LINE), rel=1e-3)
    assert usual.energy_j("SPD") == pytest.approx(fine.energy_j("SPD"), rel=2e-4)


def test_energy_is_found_again() -> None:
    """E0 = C·V²/2 ends in resistances, varistor and what is still stored."""
    solution = solve(_surge(6000.0), 60e-6)
    charge_v = GENERATOR_A.charge_for_v(6000.0)

    assert solution.energy.supplied_j == pytest.approx(6.038e-6 * charge_v**2 / 2, rel=1e-9)
    assert abs(solution.energy.gap_ratio) < 5e-5
    u, i = solution.voltage_v(TAP), solution.current_a("SPD")
    assert float(np.trapezoid(u * i, solution.t_s)) == pytest.approx(
        solution.energy_j("SPD"), rel=1e-3
    )


def test_energy_of_a_current_source_is_counted() -> None:
    network = _net(
        CurrentSource("stroke", LINE, EARTH, Impulse8x20(1000.0)),
        Branch("load", LINE, EARTH, 2.0, 0.0),
    )

    solution = solve(network, 100e-6)

    # ∫i² of the cubed form, 12.174 µs for a crest of 0.99957: derived, surge reference.
    assert solution.peak_v(LINE) == pytest.approx(2000.0, rel=1e-4)
    assert solution.energy.resistances_j == pytest.approx(2 * 12.184, rel=1e-3)
    assert solution.energy.gap_ratio == pytest.approx(0, abs=1e-6)


def test_coupled_branches_carrying_the_same_current_add_their_mutual() -> None:
    """Two coils in series aiding have L1 + L2 + 2M: textbook."""
    ring = Node("rig", "L3")
    coupled = _net(
        Capacitor("c", LINE, EARTH, 1e-6, 100.0),
        CoupledBranches(
            "pair", (LINE, ring), (ring, EARTH), (0.5, 0.5), ((2e-6, 1e-6), (1e-6, 3e-6))
        ),
    )
    single = _net(Capacitor("c", LINE, EARTH, 1e-6, 100.0), Branch("one", LINE, EARTH, 1.0, 7e-6))

    i, expected = solve(coupled, 20e-6), solve(single, 20e-6)

    np.testing.assert_allclose(i.current_a("pair.L"), expected.current_a("one"), atol=1e-6)


def _gapped(open_crest_v: float) -> Solution:
    charge_v = GENERATOR_A.charge_for_v(open_crest_v)
    network = _net(
        Generator("surge", LINE, EARTH, GENERATOR_A, charge_v),
        Branch("lead", LINE, TAP, 1e-3, 0.5e-6),
        Gap("gap", TAP, EARTH, sparkover_v=1500.0, arc_v=25.0, arc_ohm=5e-3),
        Capacitor("own", TAP, EARTH, 100e-12),
    )
    return solve(network, 30e-6)


def test_a_gap_holds_below_its_sparkover_and_burns_above() -> None:
    quiet, fired = _gapped(1000.0), _gapped(6000.0)

    assert quiet.peak_v(TAP) == pytest.approx(1000.0, rel=0.01)
    assert np.abs(quiet.current_a("gap")).max() == 0.0
    assert fired.peak_v(TAP) == pytest.approx(1500, rel=0.01)
    assert np.abs(fired.voltage_v(TAP)[fired.t_s > 2e-6]).max() < 25 + 5e-3 * 3000 + 1
    assert np.abs(fired.current_a("gap")).max() == pytest.approx(2800, rel=0.1)
    assert abs(fired.energy.gap_ratio) < 1e-3


def test_a_surge_beyond_imax_is_an_outcome() -> None:
    assert solve(_surge(50e3, imax_a=10e3), 60e-6).outcome is Outcome.OVERLOADED
    assert solve(_surge(6e3, imax_a=10e3), 60e-6).outcome is Outcome.SOLVED


def test_a_node_or_branch_that_is_not_there_is_named() -> None:
    solution = solve(_surge(1000.0), 1e-6)

    with pytest.raises(FieldError, match="attic:L"):
        solution.voltage_v(Node("attic", "L"))
    with pytest.raises(FieldError, match="nothing"):
        solution.current_a("nothing")
    with pytest.raises(FieldError, match="t_end_s"):
        solve(_surge(1000.0), 0.0)


def test_the_same_network_gives_the_same_digits() -> None:
    first, second = solve(_surge(6000.0), 20e-6), solve(_surge(6000.0), 20e-6)

    np.testing.assert_array_equal(first.states, second.states)
