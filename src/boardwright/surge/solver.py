"""Solve a surge network in the time domain.

The trapezoidal rule with a constant step makes the linear part one matrix,
inverted once for each step size; each varistor then sees an open voltage behind
a resistance and is solved on the logarithm of its current. That costs some ten
microseconds a step in plain NumPy. A general stiff integrator needs the Jacobian
of the whole network anew at every varistor knee; SciPy's Radau serves as the
check instead (tests/surge/test_solver.py).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.assemble import Equations, assemble
from boardwright.surge.elements import CurrentSource, Line, Node, Varistor
from boardwright.surge.lumped import lumped
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.ports import PortSolver, System
from boardwright.surge.waveforms import Array


class Outcome(Enum):
    """How a run ended."""

    SOLVED = "The study reached its end time."
    LINES_LUMPED = (
        "The study reached its end time; each cable stood as lumped sections, not as a line."
    )
    SHORT_LINES_LUMPED = (
        "The study reached its end time; cables too short to be followed as lines stood as"
        " lumped sections."
    )
    OVERLOADED = "The surge drives more current through a varistor than it is rated for."
    NOT_SETTLED = (
        "The study reached its end time, but at the shortest step it may take a peak still moved"
        " by more than the accuracy asked for."
    )
    NOT_FINITE = "The calculation left the range of numbers: check the sizes of the elements."


@dataclass(frozen=True, slots=True)
class Stage:
    """Steps of one size, up to a time."""

    until_s: float
    step_s: float


# Fine over the front, where every peak lies; coarse over the tail, which only
# carries the energy. experiments/surge_steps.py shows what this costs in accuracy.
GRADED = (Stage(3e-6, 10e-9), Stage(10e-6, 25e-9), Stage(20e-6, 100e-9), Stage(1.0, 250e-9))


def finer(stages: tuple[Stage, ...], factor: int) -> tuple[Stage, ...]:
    """Return the stages with each step divided by a whole number."""
    return tuple(Stage(stage.until_s, stage.step_s / factor) for stage in stages)


@dataclass(frozen=True, slots=True)
class Energy:
    """Where the energy of a run went. [J]"""

    supplied_j: float
    resistances_j: float
    ports_j: tuple[float, ...]
    stored_at_end_j: float

    @property
    def gap_ratio(self) -> float:
        """The part of the supplied energy that the sum does not find again."""
        found = self.resistances_j + sum(self.ports_j) + self.stored_at_end_j
        return (self.supplied_j - found) / self.supplied_j if self.supplied_j else 0.0


@dataclass(frozen=True, slots=True)
class Solution:
    """Voltages and currents against time, the energy, and how the run ended."""

    outcome: Outcome
    reference: Node
    nodes: tuple[Node, ...]
    branches: tuple[str, ...]
    ports: tuple[str, ...]
    t_s: Array
    states: Array
    port_currents: Array
    energy: Energy
    step_s: float | None = None
    """The longest step taken, where one was; samples may lie further apart."""
    peak_error_ratio: float | None = None
    """How far the worst node's peak may be off, where halved steps have shown it."""
    wave_error_ratio: float | None = None
    """The same of its wave, 95 in 100 of the time, as a part of its peak."""

    def voltage_v(self, a: Node, b: Node | None = None) -> Array:
        """Return the voltage of node a against b, or against the reference. [V]"""
        return self._node_v(a) - (self._node_v(b) if b is not None else 0.0)

    def peak_v(self, a: Node, b: Node | None = None) -> float:
        """Return the largest voltage of either sign between two nodes. [V]"""
        return crest(self.t_s, np.abs(self.voltage_v(a, b)))

    def current_a(self, name: str) -> Array:
        """Return the current of a branch, varistor or gap, from a to b. [A]"""
        if name in self.ports:
            return self.port_currents[:, self.ports.index(name)]
        if name not in self.branches:
            raise FieldError("name", name, "a branch, varistor or gap of the network")
        return self.states[:, len(self.nodes) + self.branches.index(name)]

    def energy_j(self, port: str) -> float:
        """Return the energy a varistor or gap took. [J]"""
        return self.energy.ports_j[self.ports.index(port)]

    def _node_v(self, node: Node) -> Array:
        if node == self.reference:
            return np.zeros_like(self.t_s)
        if node not in self.nodes:
            raise FieldError("node", str(node), "a node of the network")
        return self.states[:, self.nodes.index(node)]


def crest(t_s: Array, wave: Array) -> float:
    """Return the highest value of a wave, between its samples if it lies there."""
    at = int(wave.argmax())
    if not 1 < at < len(wave) - 2:
        return float(wave[at])
    # A parabola through the three highest samples, where the wave bends no more
    # there than beside: a sharp peak, as at a gap's sparkover, keeps its sample.
    bends = np.abs(np.diff(wave[at - 2 : at + 3], 2))
    if bends[1] > 3 * min(bends[0], bends[2]):
        return float(wave[at])
    t0, t1, t2 = (float(value) for value in t_s[at - 1 : at + 2] - t_s[at])
    y0, y1, y2 = (float(value) for value in wave[at - 1 : at + 2])
    slope = (y1 - y0) / (t1 - t0)
    bend = ((y2 - y1) / (t2 - t1) - slope) / (t2 - t0)
    if bend >= 0:
        return y1
    top = (t0 + t1) / 2 - slope / (2 * bend)
    return max(y0 + slope * (top - t0) + bend * (top - t0) * (top - t1), y1)


def solve(network: SurgeNetwork, t_end_s: float, *, stages: tuple[Stage, ...] = GRADED) -> Solution:
    """Return what the network does from its start to t_end_s.

    Parameters
    ----------
    network
        The network; its lines are replaced by lumped sections.
    t_end_s
        The time to stop at. [s]
    stages
        Step sizes; the last one serves to the end.
    """
    if not 0 < t_end_s < np.inf:
        raise FieldError("t_end_s", t_end_s, "a time over 0")
    equations = assemble(lumped(network))
    run = _Run(equations)
    for stage in stages:
        run.advance(min(stage.until_s, t_end_s), stage.step_s)
    run.advance(t_end_s, stages[-1].step_s)
    return run.solution(network)


class _Run:
    """One integration: the history of the reactive elements, stepped forward.

    The history Z of a reactive row is what the next step adds to the linear
    system. With S = (2/h)·E - A, w = (2/h)·E·x and x = inv(S)·(Z + B·u):

    - a trapezoidal step of h needs Z = 2·w - Z_before;
    - a backward Euler step of h/2 has the same S and needs Z = w.

    So two half-steps after a discontinuity, which stop the trapezoidal rule from
    ringing, cost no second matrix; and a change of step needs only w rescaled.
    """

    def __init__(self, equations: Equations) -> None:
        self._eq = equations
        self._rows = np.flatnonzero(np.any(equations.e != 0, axis=1))
        self._ports = PortSolver(equations.ports)
        self._now_s = 0.0
        self._charge = (equations.e @ equations.start)[self._rows]
        self._slope = np.zeros(len(self._rows))
        self._damp = 2
        self._t: list[float] = [0.0]
        self._x: list[Array] = [equations.start[None, :]]
        self._u: list[Array] = [np.zeros((1, equations.b.shape[1]))]
        self._euler: list[bool] = []

    def advance(self, until_s: float, step_s: float) -> None:
        """Step forward to a time, with steps of at most a size."""
        while (span_s := until_s - self._now_s) > step_s * 1e-6:
            # Rounding aside, 3 µs is 300 steps of 10 ns and not 301.
            count = math.ceil(span_s / step_s - 1e-6)
            crossing = self._steps(span_s / count, count, landing=False)
            if crossing is None:
                self._now_s = until_s
                continue
            # A gap fires between samples, and a step of delay would show in its
            # peak: the run lands on the moment with one step of its own.
            port, rest_s = crossing
            if rest_s > step_s * 1e-3:
                self._steps(rest_s, 1, landing=True)
            self._ports.fire(port)
            self._damp = 2

    def _steps(self, step_s: float, count: int, *, landing: bool) -> tuple[int, float] | None:
        """Take steps of one size; stop before the one in which a gap fires."""
        system = System.of(self._eq, self._rows, step_s)
        per_step, size = 2 / step_s, len(self._rows)
        w = self._charge * per_step
        z = w if self._damp else w + self._slope
        zs: list[Array] = []
        us: list[Array] = []
        halves, start_s, cut = 0, self._now_s, None
        while halves < 2 * count:
            more = 1 if self._damp else 2
            now_s = start_s + (halves + more) / per_step
            driven = [_now_a(source, now_s) for source in self._eq.sources]
            y = system.stacked @ z
            u = self._ports.currents(system, y[size:], driven)
            crossing = self._ports.crossing
            if crossing is not None and not landing:
                cut = (crossing.port, crossing.fraction * more / per_step)
                break
            self._ports.accept()
            zs.append(z)
            us.append(u)
            w = y[:size] + system.next_currents @ u
            halves += more
            self._now_s = now_s
            self._t.append(now_s)
            self._euler.append(more == 1)
            self._damp = max(0, self._damp - 1)
            z, self._slope = (w, w - w) if self._damp else (2 * w - z, w - z)
        self._charge = w / per_step
        if zs:
            all_u = np.array(us)
            self._x.append(np.array(zs) @ system.from_history.T + all_u @ system.from_currents.T)
            self._u.append(all_u)
        return cut

    def solution(self, network: SurgeNetwork) -> Solution:
        """Return everything the run has seen."""
        x, u = np.concatenate(self._x), np.concatenate(self._u)
        t_s = np.array(self._t)
        count = len(self._eq.ports)
        return Solution(
            _outcome(network, self._eq, x, u),
            network.reference,
            self._eq.nodes,
            self._eq.branches,
            tuple(port.name for port in self._eq.ports),
            t_s,
            x,
            u[:, :count],
            _energy(self._eq, t_s, x, u, np.array(self._euler)),
        )


def _now_a(source: CurrentSource, now_s: float) -> float:
    return float(source.wave.current_a(np.array([now_s]))[0])


def _outcome(network: SurgeNetwork, equations: Equations, x: Array, u: Array) -> Outcome:
    if not (np.isfinite(x).all() and np.isfinite(u).all()):
        return Outcome.NOT_FINITE
    for column, port in enumerate(equations.ports):
        most_a = port.imax_8x20_a if isinstance(port, Varistor) else None
        if most_a is not None and np.abs(u[:, column]).max() > most_a:
            return Outcome.OVERLOADED
    if any(isinstance(element, Line) for element in network.elements):
        return Outcome.LINES_LUMPED
    return Outcome.SOLVED


def _energy(equations: Equations, t_s: Array, x: Array, u: Array, euler: Array) -> Energy:
    """Sum the energy of each step where the rule itself evaluates the powers.

    At the middle of a trapezoidal step the sum is exact but for rounding; a
    backward Euler half-step loses a little, which is all that the gap shows.
    """
    h = np.diff(t_s)
    at_x = np.where(euler[:, None], x[1:], (x[1:] + x[:-1]) / 2)
    at_u = np.where(euler[:, None], u[1:], (u[1:] + u[:-1]) / 2)
    powers = (at_x @ equations.b) * at_u
    taken = -(powers * h[:, None]).sum(axis=0)
    lost = -float(((at_x @ equations.a) * at_x).sum(axis=1) @ h)
    count = len(equations.ports)
    first, last = equations.start, x[-1]
    return Energy(
        supplied_j=float(first @ equations.e @ first) / 2 - float(taken[count:].sum()),
        resistances_j=lost,
        ports_j=tuple(float(value) for value in taken[:count]),
        stored_at_end_j=float(last @ equations.e @ last) / 2,
    )
