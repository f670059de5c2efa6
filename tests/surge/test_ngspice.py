"""The same networks in ngspice, element by element, both converged."""

import shutil

import numpy as np
import pytest

from bench.ngspice import run_ngspice
from boardwright.core.errors import BoardwrightError, FieldError
from boardwright.surge.elements import Branch, Line, VoltageSource
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.prepare import StepRule
from boardwright.surge.solver import crest
from boardwright.surge.spice import SpiceRun, netlist, node_number
from boardwright.surge.spice_raw import read_raw
from boardwright.surge.waveforms import SteadyVoltage
from boardwright.surge.waves import solve_waves
from tests.surge.rig import BUS, EARTH, generator, net, netlists, single

NETLISTS = netlists()
END_S = 20e-6
needs_ngspice = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not here")


@needs_ngspice
@pytest.mark.slow
@pytest.mark.parametrize("name", NETLISTS)
def test_ngspice_finds_the_same_peaks_and_waves(name: str) -> None:
    network = NETLISTS[name]
    watched = network.nodes
    theirs = run_ngspice(network, SpiceRun(END_S, 1e-9, 1e-4), watched).result
    ours = solve_waves(network, END_S, rule=StepRule(1e-9, 0.5e-9, 0.5e-9))
    # A step has no length in ours and a picosecond's in theirs: near it only the
    # plateaus can be compared.
    steep = any(isinstance(item, VoltageSource) for item in network.elements)
    largest_v = max(ours.peak_v(node) for node in watched)

    for node in watched:
        volts = theirs.nodes[node_number(network, node)]
        peak_v = crest(theirs.t_s, np.abs(volts))
        # A cubic through a step of no length overshoots for one sample; no surge has one.
        exact = 0.04 if name == "lattice" else 1e-3
        assert ours.peak_v(node) == pytest.approx(peak_v, abs=exact * largest_v), node
        own = np.interp(ours.t_s, theirs.t_s, volts)
        apart = np.abs(own - ours.voltage_v(node))[ours.t_s > 20e-9]
        allowed = 0.02 if steep or name == "gap" else 0.005
        assert np.quantile(apart, 0.99) < allowed * largest_v, node


def test_a_steady_source_is_not_written() -> None:
    network = net(
        VoltageSource("mains", BUS, EARTH, SteadyVoltage(325.0), 0.1),
        Branch("r", BUS, EARTH, 50.0, 0.0),
    )

    with pytest.raises(FieldError, match=r"wave\.kind: found 'steady'"):
        netlist(network, SpiceRun(END_S, 1e-8))


def test_the_netlist_names_its_nodes_and_bounds_its_step() -> None:
    text = netlist(NETLISTS["line and filter"], SpiceRun(END_S, 1e-8), (BUS,))

    assert f"* node {node_number(NETLISTS['line and filter'], BUS)} is bus:L" in text
    assert ".tran 1e-08 2e-05 0 1e-08 uic" in text
    assert text.count("\nT") == 1
    assert text.endswith(".end\n")


def _raw(times: list[float], flags: str = "real") -> bytes:
    head = (
        f"Title: t\nFlags: {flags}\nNo. Variables: 2\nNo. Points: {len(times)}\n"
        "Variables:\n\t0\ttime\ttime\n\t1\tv(3)\tvoltage\nBinary:\n"
    )
    return head.encode() + np.array([[t, 2 * t] for t in times]).tobytes()


def test_a_raw_file_is_read_to_its_end() -> None:
    result = read_raw(_raw([0.0, 1e-6, 2e-6]), 2e-6)

    np.testing.assert_allclose(result.nodes[3], [0.0, 2e-6, 4e-6])


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (_raw([0.0, 1e-6]), "its run stopped at 1e-06 s, before 2e-06 s"),
        (_raw([0.0, 2e-6])[:-4], "cut short"),
        (_raw([]), "cut short"),
        (b"nonsense", "not a binary raw file"),
        (_raw([0.0, 2e-6], flags="complex"), "not a binary raw file"),
    ],
)
def test_a_run_that_ended_early_is_not_believed(raw: bytes, sentence: str) -> None:
    """Ngspice leaves a short file and exit code 0 behind an aborted run."""
    with pytest.raises(BoardwrightError, match=sentence):
        read_raw(raw, 2e-6)


def test_each_element_kind_is_asked_about() -> None:
    kinds = {element.kind for network in NETLISTS.values() for element in network.elements}

    assert len(NETLISTS) >= 10
    assert kinds == {
        "branch",
        "coupled branches",
        "capacitor",
        "varistor",
        "gap",
        "line",
        "generator",
        "current source",
        "voltage source",
    }
    assert isinstance(NETLISTS["lattice"], SurgeNetwork)
    assert any(
        isinstance(element, Line)
        for element in net(generator(), single("c", BUS, EARTH, 3.0)).elements
    )
