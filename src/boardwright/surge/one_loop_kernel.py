"""The reduced kernel: many surges side by side where each subnetwork has one varistor at most.

It serves a network of that shape only, without gaps, and leaves less behind: peaks of
what is watched, peak current and energy of the varistors. There the current of a
varistor is a function of one open voltage alone, so it is read from a table instead of
being solved for; and with the same step in every lane, eight surges share each
instruction.
"""

from __future__ import annotations

from typing import NamedTuple

from boardwright.surge.jit import compiled, inlined
from boardwright.surge.tables import EIGHT, LOSSES, PORT, PORTS, SOURCE, SOURCES, STORES, WATCH
from boardwright.surge.tables import END, WATCHED, WAVES, Ints, Tables
from boardwright.surge.waveforms import Array


class Lanes(NamedTuple):
    """The state of some surges side by side, and what they leave behind."""

    state: Array
    now: Array
    ring: Array
    factor: Array
    """What each source is multiplied with in each lane."""
    law: Array
    """Current of each port and its slope, against an even grid of open voltages."""
    law_step_v: Array
    port: Array
    """For each port: current and voltage now and before."""
    old: Array
    """What was watched one and two steps ago."""
    peak: Array
    peak_a: Array
    energy: Array


@compiled
def run_lanes(net: Tables, lanes: Lanes, drive: Array, steps: int) -> None:
    """Step all lanes to the end."""
    layout, h = net.layout, net.step_s
    for half in range(2):
        for k in range(layout.shape[0]):
            _solve(net, lanes, k, drive[half])
            _energy(layout, k, lanes.port, lanes.energy, h / 2, half)
            _turn(layout, k, lanes.state, lanes.now, half)
    _carry(net, lanes, 1)
    for n in range(2, steps + 1):
        for k in range(layout.shape[0]):
            _solve(net, lanes, k, drive[n])
            _energy(layout, k, lanes.port, lanes.energy, h, 2)
            _turn(layout, k, lanes.state, lanes.now, 1)
        _carry(net, lanes, n)
        _peaks(layout, lanes.now, lanes.old, lanes.peak)


@compiled
def _solve(net: Tables, lanes: Lanes, k: int, drive: Array) -> None:
    layout = net.layout
    count, losses = layout[k, STORES] + layout[k, WAVES], layout[k, LOSSES]
    _product(layout, k, net.table, lanes.state, lanes.now)
    for s in range(layout[k, SOURCES]):
        at = layout[k, SOURCE] + s
        for r in range(losses, losses + count + layout[k, PORTS]):
            value = drive[at] * net.table[k, r // EIGHT, count + s, r % EIGHT]
            _add(lanes.now, k, r, value, lanes.factor, at)
        first = _watch(layout, k)
        for r in range(first, first + layout[k, WATCHED]):
            value = drive[at] * net.table[k, r // EIGHT, count + s, r % EIGHT]
            _add(lanes.now, k, r, value, lanes.factor, at)
    if layout[k, PORTS]:
        _push(net, lanes, k)


@inlined
def _add(now: Array, k: int, r: int, value: float, factor: Array, at: int) -> None:
    for lane in range(now.shape[2]):
        now[k, r, lane] += value * factor[at, lane]


@inlined
def _watch(layout: Ints, k: int) -> int:
    below = layout[k, LOSSES] + layout[k, STORES] + layout[k, WAVES]
    return below + layout[k, PORTS] + layout[k, SOURCES]


@compiled
def _product(layout: Ints, k: int, table: Array, state: Array, now: Array) -> None:
    count, first = layout[k, STORES] + layout[k, WAVES], layout[k, LOSSES]
    for r in range(first, first + count + layout[k, PORTS]):
        _row(k, r, count, table, state, now)
    first = _watch(layout, k)
    for r in range(first, first + layout[k, WATCHED]):
        _row(k, r, count, table, state, now)


@inlined
def _row(k: int, r: int, count: int, table: Array, state: Array, now: Array) -> None:
    """Set one output of all lanes."""
    g, e = r // EIGHT, r % EIGHT
    a = table[k, g, 0, e]
    for lane in range(now.shape[2]):
        now[k, r, lane] = a * state[k, 0, lane]
    threes = (count - 1) // 3
    for three in range(threes):
        c = 1 + 3 * three
        a, b, d = table[k, g, c, e], table[k, g, c + 1, e], table[k, g, c + 2, e]
        for lane in range(now.shape[2]):
            now[k, r, lane] += (
                a * state[k, c, lane] + b * state[k, c + 1, lane] + d * state[k, c + 2, lane]
            )
    for c in range(1 + 3 * threes, count):
        a = table[k, g, c, e]
        for lane in range(now.shape[2]):
            now[k, r, lane] += a * state[k, c, lane]


@compiled
def _push(net: Tables, lanes: Lanes, k: int) -> None:
    """Read the varistor's current from its table and add what it does."""
    layout, port = net.layout, net.layout[k, PORT]
    count = layout[k, STORES] + layout[k, WAVES]
    first = layout[k, LOSSES]
    row = first + count
    step_v, law, now, ports = lanes.law_step_v[port], lanes.law, lanes.now, lanes.port
    most = law.shape[1] - 2
    for lane in range(now.shape[2]):
        open_v = now[k, row, lane]
        place = abs(open_v) / step_v
        # Beyond the table the last piece goes on in a straight line: see one_loop.py.
        piece = min(int(place), most)
        t = place - piece
        i0, d0 = law[port, piece, 0], law[port, piece, 1]
        i1, d1 = law[port, piece + 1, 0], law[port, piece + 1, 1]
        c2, c3 = 3 * (i1 - i0) - 2 * d0 - d1, 2 * (i0 - i1) + d0 + d1
        size_a = i0 + t * (d0 + t * (c2 + t * c3))
        ports[port, 0, lane] = size_a if open_v > 0 else -size_a
    for r in range(first, row + 1):
        _add(now, k, r, net.push[k, 0, r], ports[port], 0)
    seen = _watch(layout, k)
    for r in range(seen, seen + layout[k, WATCHED]):
        _add(now, k, r, net.push[k, 0, r], ports[port], 0)
    for lane in range(now.shape[2]):
        ports[port, 1, lane] = now[k, row, lane]
        lanes.peak_a[port, lane] = max(lanes.peak_a[port, lane], abs(ports[port, 0, lane]))


@compiled
def _energy(
    layout: Ints, k: int, ports: Array, energy: Array, span_s: float, how: int
) -> None:
    """Add a span's energy of the varistors; a half-step counts its end alone."""
    for p in range(layout[k, PORTS]):
        port = layout[k, PORT] + p
        for lane in range(energy.shape[1]):
            amps, volts = ports[port, 0, lane], ports[port, 1, lane]
            middle_a = amps if how < 2 else (amps + ports[port, 2, lane]) / 2  # noqa: PLR2004
            middle_v = volts if how < 2 else (volts + ports[port, 3, lane]) / 2  # noqa: PLR2004
            energy[port, lane] += middle_a * middle_v * span_s
            ports[port, 2, lane], ports[port, 3, lane] = amps, volts


@compiled
def _turn(layout: Ints, k: int, state: Array, now: Array, how: int) -> None:
    """Turn the waves round, or take them on after the first half-step."""
    losses = layout[k, LOSSES]
    for s in range(layout[k, STORES]):
        for lane in range(state.shape[2]):
            twice = 2 * now[k, losses + s, lane] - state[k, s, lane]
            state[k, s, lane] = now[k, losses + s, lane] if how == 0 else twice


@compiled
def _carry(net: Tables, lanes: Lanes, n: int) -> None:
    """Send the waves of step n off and take those in that arrive at step n + 1."""
    layout, ring, state, now = net.layout, lanes.ring, lanes.state, lanes.now
    mask = ring.shape[0] - 1
    line = n & mask
    for k in range(layout.shape[0]):
        stores, end, losses = layout[k, STORES], layout[k, END], layout[k, LOSSES]
        for w in range(layout[k, WAVES]):
            s, e = stores + w, end + w
            for lane in range(state.shape[2]):
                ring[line, e, lane] = 2 * now[k, losses + s, lane] - state[k, s, lane]
    for k in range(layout.shape[0]):
        stores, end = layout[k, STORES], layout[k, END]
        for w in range(layout[k, WAVES]):
            e, s = end + w, stores + w
            newest, other = n + 2 - net.whole[e], net.partner[e]
            a, b, c, d = net.taps[e, 0], net.taps[e, 1], net.taps[e, 2], net.taps[e, 3]
            r0, r1 = ring[newest & mask, other], ring[(newest - 1) & mask, other]
            r2, r3 = ring[(newest - 2) & mask, other], ring[(newest - 3) & mask, other]
            for lane in range(state.shape[2]):
                state[k, s, lane] = a * r0[lane] + b * r1[lane] + c * r2[lane] + d * r3[lane]


@compiled
def _peaks(layout: Ints, now: Array, old: Array, peak: Array) -> None:
    """Raise the peaks, by a parabola where one lies between samples."""
    for k in range(layout.shape[0]):
        first = _watch(layout, k)
        for w in range(layout[k, WATCHED]):
            at = layout[k, WATCH] + w
            for lane in range(peak.shape[1]):
                y0, y1 = old[at, 0, lane], old[at, 1, lane]
                y2 = abs(now[k, first + w, lane])
                bend = max(2 * y1 - y0 - y2, 1e-300)
                rise = (y2 - y0) * (y2 - y0) / (8 * bend)
                top = y1 + rise if y1 >= y0 and y1 > y2 else y2
                peak[at, lane] = max(peak[at, lane], top)
                old[at, 0, lane], old[at, 1, lane] = y1, y2
