"""Many surges at once: the same answers as one by one, and from either kernel."""

import numpy as np
import pytest

from boardwright.core.errors import FieldError
from boardwright.surge.batch import Draws, run_many
from boardwright.surge.elements import Branch, Capacitor, Gap, Generator, Node, VoltageSource
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.one_loop import serves
from boardwright.surge.prepare import STEP_RULES, Accuracy, Watch, prepare
from boardwright.surge.waveforms import GENERATOR_A, SteadyVoltage
from boardwright.surge.waves import solve_waves
from tests.surge.rig import BUS, EARTH, FAR, TAP, generator, net, single, spd, three_core_home

QUICK = STEP_RULES[Accuracy.QUICK]
WATCH = Watch(((BUS, EARTH), (FAR, EARTH)))
END_S = 20e-6


def _one_loop(charge_ratio: float = 1.0) -> SurgeNetwork:
    return net(
        generator(6000.0 * charge_ratio), *spd(), single("cable", BUS, FAR, 14.3),
        Capacitor("filter", FAR, EARTH, 10e-9), Branch("load", FAR, EARTH, 1000.0, 0.0),
    )  # fmt: skip


def _on_the_mains(level_v: float, crest_v: float) -> SurgeNetwork:
    """Let the surge ride on the mains: a steady source in series with the generator."""
    mains = Node("mains", "L")
    charge_v = GENERATOR_A.charge_for_v(1.0) * crest_v
    return net(
        VoltageSource("mains", mains, EARTH, SteadyVoltage(level_v), 1e-3),
        Generator("surge", BUS, mains, GENERATOR_A, charge_v),
        *spd(), single("cable", BUS, FAR, 14.3),
        Capacitor("filter", FAR, EARTH, 10e-9), Branch("load", FAR, EARTH, 1000.0, 0.0),
    )  # fmt: skip


def test_the_shape_chooses_the_kernel() -> None:
    gap = net(generator(), Gap("gap", BUS, EARTH, 1500.0, 25.0, 5e-3))
    cases = {
        True: [_one_loop(), _on_the_mains(325.0, 6000.0)],
        False: [three_core_home(to_earth=True, second=True), gap],
    }

    for reduced, networks in cases.items():
        for network in networks:
            assert serves(prepare(network, Watch(()), QUICK)) is reduced


def test_the_reduced_kernel_finds_what_single_runs_find() -> None:
    ratios = np.array([-1.5, 0.1, 0.5, 1.0, 3.0])
    many = run_many(_one_loop(), WATCH, Draws(ratios, np.zeros(5)), END_S)

    assert many.kernel == "radial, one varistor a part"
    for at, ratio in enumerate(ratios):
        one = solve_waves(_one_loop(float(ratio)), END_S, rule=QUICK)
        expected = [one.peak_v(node) for node, _ in WATCH.voltages]
        assert many.volts[at] == pytest.approx(expected, rel=5e-4)
        assert many.port_a[at, 0] == pytest.approx(
            float(np.abs(one.current_a("SPD")).max()), rel=1e-5
        )
        assert many.port_j[at, 0] == pytest.approx(one.energy_j("SPD"), rel=1e-5, abs=1e-9)


@pytest.mark.parametrize("sine", [-1.0, 0.3, 1.0])
def test_the_mains_is_where_its_angle_puts_it(sine: float) -> None:
    many = run_many(_on_the_mains(325.0, 6000.0), WATCH, Draws(np.ones(1), np.array([sine])), END_S)
    one = solve_waves(_on_the_mains(325.0 * sine, 6000.0), END_S, rule=QUICK)

    assert many.volts[0] == pytest.approx([one.peak_v(n) for n, _ in WATCH.voltages], rel=2e-4)
    assert many.port_j[0, 0] == pytest.approx(one.energy_j("SPD"), rel=1e-3)


def test_the_general_kernel_serves_the_rest() -> None:
    network = three_core_home(to_earth=True, second=True)
    watch = Watch(((BUS, Node("bus", "PE")), (Node("far", "L"), Node("far", "N"))))
    told: list[int] = []
    many = run_many(
        network, watch, Draws(np.full(20, 1.0), np.zeros(20)), 5e-6, progress=told.append
    )
    one = solve_waves(network, 5e-6, rule=QUICK)

    assert many.kernel == "general"
    assert told[-1] == 20
    assert np.ptp(many.volts, axis=0).max() == 0.0
    assert many.volts[0] == pytest.approx([one.peak_v(a, b) for a, b in watch.voltages], rel=1e-9)


def test_a_firing_gap_is_served_too() -> None:
    network = net(
        generator(), Branch("lead", BUS, TAP, 0.5, 0.5e-6),
        Gap("gap", TAP, EARTH, 1500.0, 25.0, 5e-3), Capacitor("own", TAP, EARTH, 1e-9),
    )  # fmt: skip
    many = run_many(
        network, Watch(((TAP, EARTH),)), Draws(np.array([1.0, 0.2]), np.zeros(2)), END_S
    )

    assert many.volts[0, 0] == pytest.approx(1500.0, rel=1e-6)
    assert many.volts[1, 0] == pytest.approx(1200.0, rel=0.01)
    assert many.port_a[1, 0] == 0.0


def test_unequal_draws_are_refused() -> None:
    with pytest.raises(FieldError, match="as many numbers"):
        Draws(np.ones(3), np.ones(2))
    with pytest.raises(FieldError, match="not finite"):
        Draws(np.array([np.nan]), np.ones(1))
