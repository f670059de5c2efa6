"""The kernel of a radial network: one surge, its legs eight abreast."""

from __future__ import annotations

from typing import NamedTuple

from boardwright.surge.abreast import add_effect, arrive, finish, to_bus_v, within
from boardwright.surge.jit import compiled, inlined
from boardwright.surge.legs import IN, INPUTS, LANES, OUT, STORE, Legs
from boardwright.surge.waveforms import Array

# What a run keeps of a port.
AMPS, VOLTS, MOST_A, TAKEN_J, OHM, VOLTS_NEXT, KEPT = range(7)

CHUNK = 512


class Leap(NamedTuple):
    """What one run of legs reads and leaves behind."""

    rows: Array
    """The groups' rows, a copy: a run writes into them."""
    sent: Array
    """Waves sent, a line for each step: the longest delay, then room for a chunk."""
    law: Array
    """Current of each port as cubic pieces over an even grid of open voltages."""
    law_per_v: Array
    signals: Array
    ports: Array


@compiled
def run_legs(legs: Legs, leap: Leap, drive: Array, steps: int, step_s: float) -> None:
    """Step all legs to the end."""
    rows, sent, signals, back = leap.rows, leap.sent, leap.signals, legs.back
    groups, depth = rows.shape[0], sent.shape[0] - CHUNK
    _start(legs, leap, drive, step_s)
    for g in range(groups):
        finish(rows, g, 0.0, 0.0, sent, depth)
    line = depth + 1
    for n in range(2, steps + 1):
        for g in range(groups):
            arrive(rows, g, sent, line, back)
            within(rows, g)
        _signals(legs, leap, drive[n])
        for g in range(groups):
            for s in range(2, signals.shape[0]):
                add_effect(rows, g, s, signals[s])
            finish(rows, g, signals[0], signals[1], sent, line)
        _take(leap.ports, signals, step_s, 0.5)
        line += 1
        if line == sent.shape[0]:
            sent[:depth] = sent[line - depth :]
            line = depth


@compiled
def _start(legs: Legs, leap: Leap, drive: Array, step_s: float) -> None:
    """Take the first step as two half-steps of backward Euler."""
    rows, signals = leap.rows, leap.signals
    for half in range(2):
        _signals(legs, leap, drive[half])
        for g in range(rows.shape[0]):
            within(rows, g)
            for s in range(signals.shape[0]):
                add_effect(rows, g, s, signals[s])
            if half == 0:
                for i in range(LANES * STORE, LANES * INPUTS):
                    # A half-step ends at its answer: half way to where a step would.
                    rows[g, LANES * IN + i] += rows[g, LANES * OUT + i]
                    rows[g, LANES * IN + i] /= 2
        _take(leap.ports, signals, step_s / 2, 1.0)


@inlined
def _signals(legs: Legs, leap: Leap, drive: Array) -> None:
    """Find the bus voltage and the currents of the ports."""
    rows, signals, ports = leap.rows, leap.signals, leap.ports
    first, bus_v = signals.shape[0] - drive.shape[0], 0.0
    for s in range(first, signals.shape[0]):
        signals[s] = drive[s - first]
        bus_v += legs.signal_bus[s] * signals[s]
    for g in range(legs.bus_groups):
        bus_v += to_bus_v(rows, g)
    more_v = 0.0
    for p in range(ports.shape[0]):
        g, i = legs.port_lane[p] // LANES, legs.port_lane[p] % LANES
        own_v = 0.0
        for s in range(INPUTS):
            own_v += legs.open_of[p, s] * rows[g, LANES * (IN + s) + i]
        for s in range(first, signals.shape[0]):
            own_v += legs.open_of[p, INPUTS + s] * signals[s]
        # The bus last: what else there is need not wait for it.
        open_v = own_v + legs.open_of[p, INPUTS] * bus_v
        amps = _law_a(leap.law, leap.law_per_v[p], p, open_v)
        signals[1 + p] = amps
        ports[p, VOLTS_NEXT] = open_v - ports[p, OHM] * amps
        more_v += legs.signal_bus[1 + p] * amps
    signals[0] = bus_v + more_v


@inlined
def _law_a(law: Array, per_v: float, port: int, open_v: float) -> float:
    """Return the current of a port behind an open voltage, from its table."""
    place = abs(open_v) * per_v
    # The last piece goes on for ever: see one_loop.py.
    piece = min(int(place), law.shape[1] - 1)
    t = place - piece
    c0, c1 = law[port, piece, 0], law[port, piece, 1]
    c2, c3 = law[port, piece, 2], law[port, piece, 3]
    size_a: float = (c0 + t * c1) + (t * t) * (c2 + t * c3)
    return size_a if open_v > 0 else -size_a


@inlined
def _take(ports: Array, signals: Array, span_s: float, now: float) -> None:
    """Add a span's energy of the ports: the end's part, or the middle of end and start."""
    for p in range(ports.shape[0]):
        amps, volts = signals[1 + p], ports[p, VOLTS_NEXT]
        middle_a = now * amps + (1 - now) * ports[p, AMPS]
        middle_v = now * volts + (1 - now) * ports[p, VOLTS]
        ports[p, TAKEN_J] += middle_a * middle_v * span_s
        ports[p, AMPS], ports[p, VOLTS] = amps, volts
        ports[p, MOST_A] = max(ports[p, MOST_A], abs(amps))
