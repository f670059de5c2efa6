"""The kernel's function in plain NumPy, one subnetwork and one step after another.

Slow, and short enough to be read beside the equations in ``tables.py``; tests hold the
compiled kernel against it. Ports are solved in turn by ``operating_point.py`` on the
curves themselves, not on their tables, and a delay is interpolated by a polynomial
through its four samples. It takes no gap: the spark has a test of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.elements import Varistor
from boardwright.surge.operating_point import varistor_current_a
from boardwright.surge.prepare import Prepared
from boardwright.surge.runs import drive_of, steps_to
from boardwright.surge.subnets import Subnet
from boardwright.surge.waveforms import Array


@dataclass(frozen=True, slots=True)
class ReferenceRun:
    """Time, and x of each subnetwork and the currents of its ports at each step."""

    t_s: Array
    x: tuple[Array, ...]
    port_a: tuple[Array, ...]


def reference_run(ready: Prepared, t_end_s: float) -> ReferenceRun:
    """Return the run of a prepared network without gaps."""
    if any(not isinstance(port, Varistor) for net in ready.subnets for port in net.ports):
        raise FieldError("network", "a gap", "varistors alone: this reference fires no gap")
    step_s = ready.tables.step_s
    steps = steps_to(step_s, t_end_s)
    drive = drive_of(ready, steps)
    parts = [_Part(subnet, step_s) for subnet in ready.subnets]
    ends = [end for subnet in ready.subnets for end in subnet.ends]
    place = {(end.line, end.mode, end.far): at for at, end in enumerate(ends)}
    sent = np.zeros((steps + 1, len(ends)))
    sent[0] = ready.start.waves_out
    wave_in = ready.start.waves_in.copy()
    for part, held in zip(parts, ready.start.held, strict=True):
        part.begin(held)
    for n in range(1, steps + 1):
        halves = (0, 1) if n == 1 else (n,)
        for at_drive in halves:
            first = source = 0
            for part, subnet in zip(parts, ready.subnets, strict=True):
                own = wave_in[first : first + len(subnet.ends)]
                given = drive[at_drive, source : source + len(subnet.sources)]
                sent[n, first : first + len(own)] = part.step(own, given, euler=at_drive == 0)
                first += len(own)
                source += len(given)
        for part in parts:
            part.write_down()
        for at, end in enumerate(ends):
            other = place[end.line, end.mode, not end.far]
            wave_in[at] = _delayed(sent[: n + 1, other], n + 1 - end.delay_s / step_s)
    return ReferenceRun(
        np.asarray(np.arange(1, steps + 1) * step_s, dtype=np.float64),
        tuple(np.array(part.seen) for part in parts),
        tuple(np.array(part.seen_a) for part in parts),
    )


def _delayed(sent: Array, when: float) -> float:
    """Return a wave between its samples, a cubic through the four around."""
    newer = int(np.ceil(when - 1e-9))
    places = np.arange(newer + 1, newer - 3, -1)
    values = sent[np.clip(places, 0, None)]
    total = 0.0
    for a in range(4):
        others = np.delete(places, a)
        weight = float(np.prod((when - others) / (places[a] - others)))
        total += weight * float(values[a])
    return total


class _Part:
    """One subnetwork between two steps."""

    def __init__(self, subnet: Subnet, step_s: float) -> None:
        self._subnet = subnet
        self._store = subnet.store * (2 / step_s) ** 0.5
        self._inverse = np.linalg.inv(self._store @ self._store.T - subnet.a)
        self._ohm = subnet.port.T @ self._inverse @ subnet.port
        self._scale = (2 / step_s) ** 0.5
        self._amps = np.zeros(len(subnet.ports))
        self._x = np.zeros(len(subnet.a))
        self.seen: list[Array] = []
        self.seen_a: list[Array] = []

    def begin(self, held: Array) -> None:
        self._state = held * self._scale

    def step(self, wave_in: Array, given: Array, *, euler: bool) -> Array:
        """Take a step; return the waves that leave."""
        net = self._subnet
        side = self._store @ self._state + net.wave @ wave_in + net.source @ given
        open_v = -net.port.T @ self._inverse @ side
        self._solve_ports(open_v)
        self._x = self._inverse @ (side + net.port @ self._amps)
        answer = self._store.T @ self._x
        self._state = answer if euler else 2 * answer - self._state
        return np.asarray(2 * net.wave.T @ self._x - wave_in)

    def _solve_ports(self, open_v: Array) -> None:
        for _ in range(500):
            before = self._amps.copy()
            for at, port in enumerate(self._subnet.ports):
                assert isinstance(port, Varistor)  # noqa: S101  reference_run() has seen to it
                own = float(self._ohm[at, at])
                shared = float(self._ohm[at] @ self._amps) - own * float(self._amps[at])
                behind = float(open_v[at]) - shared
                self._amps[at] = varistor_current_a(port.curve, behind, own, float(self._amps[at]))
            if np.abs(self._amps - before).max(initial=0.0) < 1e-9:  # noqa: PLR2004
                break

    def write_down(self) -> None:
        self.seen.append(self._x)
        self.seen_a.append(self._amps.copy())
