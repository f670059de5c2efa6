"""Networks never shown before: the default run against a far finer one, and against ngspice."""

import dataclasses
import shutil

import numpy as np
import pytest

from bench.ngspice import run_ngspice
from boardwright.surge.calm import calm
from boardwright.surge.elements import Branch, Capacitor, Gap, Line, Node, Varistor, VoltageSource
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.pieces import between
from boardwright.surge.prepare import STEP_RULES, Accuracy, StepRule, everything, prepare
from boardwright.surge.report import as_json, as_text
from boardwright.surge.settle import BALANCE_RATIO, FLOOR_RATIO, affordable, first_step_s, settled
from boardwright.surge.solver import Outcome, Solution, crest
from boardwright.surge.spice import SpiceRun, node_number
from boardwright.surge.waveforms import Array, StepVoltage
from boardwright.surge.waves import solve_waves, walk_through
from tests.surge.drawn import drawn
from tests.surge.rig import BUS, EARTH, FAR, TAP, generator, net, single, spd

# Drawn like all others; these are done in a second or less.
SEEDS = (
    207, 232, 234, 235, 239, 240, 241, 246, 249, 272, 273, 281, 291, 316, 317, 318, 319,
    320, 322, 325, 326, 327, 328, 329, 330, 332, 333, 340, 343,
)  # fmt: skip
WITH_NGSPICE = (37, 51, 56, 60, 70, 72, 79)
END_S = 5e-6
needs_ngspice = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not here")


def _finer(network: SurgeNetwork, found: Solution, parts: float) -> Solution:
    assert found.step_s is not None
    step_s = found.step_s / parts
    rule = StepRule(step_s, step_s, step_s)
    return walk_through(prepare(network, everything(network), rule), END_S)


def _peaks(solution: Solution) -> Array:
    return np.array([solution.peak_v(node) for node in solution.nodes])


def _apart(found: Array, exact: Array) -> float:
    return float((np.abs(found - exact) / np.maximum(exact, FLOOR_RATIO * exact.max())).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_any_network_is_within_two_thousandths_of_a_converged_run(seed: int) -> None:
    network = drawn(seed)
    found = solve_waves(network, END_S)
    # A third of the step: its samples lie elsewhere.
    exact = _finer(network, found, 3.0)

    assert found.outcome in {Outcome.SOLVED, Outcome.OVERLOADED}
    assert found.peak_error_ratio is not None
    assert found.peak_error_ratio <= 1e-3
    assert _apart(_peaks(found), _peaks(exact)) < 2e-3
    assert abs(found.energy.gap_ratio) < BALANCE_RATIO
    allowed = max(0.005, found.wave_error_ratio or 0.0)
    for node, peak_v in zip(network.nodes, _peaks(exact), strict=True):
        # Beside a jump a sample is on either side of it, so most of the wave is asked; what
        # rings on undamped is late by a little more each time, which the estimate knows.
        there = np.interp(found.t_s, exact.t_s, exact.voltage_v(node))
        apart_v = np.quantile(np.abs(there - found.voltage_v(node)), 0.95)
        assert apart_v < allowed * max(peak_v, FLOOR_RATIO * _peaks(exact).max()), node


@pytest.mark.parametrize("seed", SEEDS[:4])
def test_the_fine_setting_is_within_two_in_ten_thousand(seed: int) -> None:
    network = drawn(seed)
    found = solve_waves(network, END_S, rule=STEP_RULES[Accuracy.FINE])

    assert _apart(_peaks(found), _peaks(_finer(network, found, 3.0))) < 2e-4


@needs_ngspice
@pytest.mark.parametrize("seed", WITH_NGSPICE)
def test_ngspice_finds_the_same_peaks_in_networks_it_can_run(seed: int) -> None:
    network = drawn(seed)
    theirs = run_ngspice(network, SpiceRun(END_S, 0.25e-9, 1e-4), network.nodes).result
    waves = [theirs.nodes[node_number(network, node)] for node in network.nodes]
    exact = np.array([crest(theirs.t_s, np.abs(wave)) for wave in waves])

    assert _apart(_peaks(solve_waves(network, END_S)), exact) < 2e-3


def test_the_drawn_networks_hold_every_element_and_every_wave() -> None:
    elements = [element for seed in range(80) for element in drawn(seed).elements]
    waves = {getattr(getattr(item, "wave", None), "kind", None) for item in elements}

    assert {item.kind for item in elements} == {
        "branch", "coupled branches", "capacitor", "varistor", "gap", "line", "generator",
        "current source", "voltage source",
    }  # fmt: skip
    assert waves - {None} == {"8/20 t3", "8/20 sine", "stroke", "1.2/50", "ring", "step"}
    assert {len(item.near) for item in elements if isinstance(item, Line)} == {1, 2, 3}
    assert any(isinstance(item, Gap) for seed in SEEDS for item in drawn(seed).elements)


def _trial(moves: list[float]) -> tuple[Solution, list[Solution]]:
    """Return a first solution and those that follow, each peak moved by so much of itself."""
    first = dataclasses.replace(solve_waves(net(generator()), 1e-6), peak_error_ratio=None)
    found = [first]
    for move in moves:
        states = found[-1].states * (1 + move)
        found.append(dataclasses.replace(found[-1], states=states))
    return first, found[1:]


def test_a_run_that_never_settles_says_so_with_its_error() -> None:
    first, later = _trial([0.1, 0.05])

    def trial(_step_s: float) -> Solution | None:
        return later.pop(0) if later else None

    found = settled(trial, first, 1e-9, 1e-3)

    assert found.outcome is Outcome.NOT_SETTLED
    assert found.peak_error_ratio == pytest.approx(0.05 / 1.05, rel=1e-6)
    assert "still moved" in as_text(found)
    assert "error at the worst node: peak 4.762%, wave" in as_text(found)
    assert '"peak_error_ratio": 0.047' in as_json(found)


def test_one_small_move_after_a_large_one_is_not_believed() -> None:
    first, later = _trial([0.1, 1e-6, 1e-6, 1e-6])
    taken: list[float] = []

    def trial(step_s: float) -> Solution:
        taken.append(step_s)
        return later[len(taken) - 1]

    assert settled(trial, first, 8e-9, 1e-3).outcome is Outcome.SOLVED
    assert taken == [4e-9, 2e-9, 1e-9]


def test_halvings_in_vain_end() -> None:
    first, later = _trial([0.1 + at / 100 for at in range(9)])

    found = settled(lambda _step_s: later.pop(0), first, 1e-9, 1e-3)

    assert found.outcome is Outcome.NOT_SETTLED
    assert len(later) == 9 - 4


def test_the_first_step_follows_the_shortest_cable_but_not_a_centimetre() -> None:
    long, short, tiny = (
        net(generator(), single("cable", BUS, FAR, length_m)) for length_m in (10.0, 0.1, 0.005)
    )

    assert first_step_s(long, 4e-9, END_S) == 4e-9
    assert first_step_s(short, 4e-9, END_S) == pytest.approx(0.1 / 180e6 / 2)
    assert first_step_s(tiny, 4e-9, END_S) == 4e-9
    rule = StepRule(1e-12, 1e-12, 1e-12)
    assert not affordable(prepare(long, everything(long), rule), 100e-6)


def test_where_a_step_leads_is_seen_at_once() -> None:
    """A step behind 50 ohm into a coil: its whole voltage stands there at first (textbook)."""
    network = net(
        VoltageSource("step", BUS, EARTH, StepVoltage(100.0), 50.0),
        Branch("coil", BUS, EARTH, 0.0, 1e-6),
    )

    assert solve_waves(network, 1e-6).peak_v(BUS) == pytest.approx(100.0, rel=1e-4)


def test_a_step_comes_out_of_a_line_without_overshoot_and_on_time() -> None:
    network = net(
        VoltageSource("step", BUS, EARTH, StepVoltage(100.0), 100.0),
        single("cable", BUS, FAR, 11.1),
        Branch("end", FAR, EARTH, 100.0, 0.0),
    )
    found = solve_waves(network, 0.2e-6)
    wave = found.voltage_v(FAR)

    assert found.peak_v(FAR) == pytest.approx(50.0, rel=1e-6)
    halfway_s = float(np.interp(25.0, wave, found.t_s))
    assert halfway_s == pytest.approx(11.1 / 180e6, abs=1e-11)


def test_a_spark_takes_what_a_capacitor_across_it_held() -> None:
    """C·U²/2 of the capacitor is heat at once, and the energy is found again (textbook)."""
    network = net(
        generator(),
        Branch("lead", BUS, TAP, 0.5, 0.5e-6),
        Gap("gap", TAP, EARTH, 1500.0, 25.0, 5e-3),
        Capacitor("own", TAP, EARTH, 100e-9),
    )
    found = solve_waves(network, 2e-6)
    fired_s = found.t_s[np.flatnonzero(found.current_a("gap"))[0]]
    quick = solve_waves(network, float(fired_s) + 1e-9)

    assert found.peak_v(TAP) == pytest.approx(1500.0, rel=5e-4)
    assert abs(found.energy.gap_ratio) < BALANCE_RATIO
    assert quick.energy_j("gap") == pytest.approx(100e-9 * (1500.0**2 - 25.0**2) / 2, rel=0.03)


def test_what_alternates_is_taken_out_and_what_rings_is_kept() -> None:
    time = np.arange(400.0)
    ringing = np.sin(time / 3)
    alternating = 0.2 + 0.5 * (-1.0) ** time
    jump = np.where(time < 200, 0.0, 1.0)

    seen = calm(np.stack([ringing, alternating, jump], axis=1))

    np.testing.assert_array_equal(seen[:, 0], ringing)
    np.testing.assert_allclose(seen[:, 1], 0.2, atol=1e-12)
    np.testing.assert_array_equal(seen[:, 2], jump)


def test_a_coil_before_a_closed_varistor_does_not_alternate() -> None:
    """The joint of a lead and a varistor that conducts nothing sees what the varistor sees."""
    joint = Node("joint", "L")
    curve = spd()[1]
    assert isinstance(curve, Varistor)
    network = net(
        generator(300.0),
        Branch("lead", BUS, joint, 1e-3, 0.2e-6),
        dataclasses.replace(curve, a=joint),
    )
    found = solve_waves(network, 5e-6)

    assert found.peak_v(joint) == pytest.approx(found.peak_v(BUS), rel=1e-4)


def test_between_samples_a_cubic_is_exact_and_a_corner_is_held() -> None:
    place = np.arange(16.0)
    ring = np.stack([(place / 4) ** 3, np.where(place < 8, 0.0, 1.0)], axis=1)

    seen = between(ring, np.array([5.3, 7.5, 12.7, 14.6]), 15)

    assert seen[:, 0] == pytest.approx((np.array([5.3, 7.5, 12.7, 14.6]) / 4) ** 3)
    assert (seen[:, 1] >= 0).all()
    assert (seen[:, 1] <= 1).all()
