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
from boardwright.surge.kernel_parts import Ways
from boardwright.surge.tables import (
    EIGHT,
    END,
    LOSSES,
    PORT,
    PORTS,
    SOURCE,
    SOURCES,
    STORES,
    WATCH,
    WATCHED,
    WAVES,
    Ints,
    Tables,
)
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
    layout, h, state, now = net.layout, net.step_s, lanes.state, lanes.now
    for half in range(2):
        for k in range(layout.shape[0]):
            _solve(net, lanes, k, drive[half])
            _energy(layout, k, lanes.port, lanes.energy, h / 2, half)
            _turn(layout, k, state, now, half)
    ways = Ways(net.whole, net.partner, net.taps)
    _launch(layout, state, now, lanes.ring, 1)
    _arrive(layout, state, lanes.ring, ways, 1)
    for n in range(2, steps + 1):
        for k in range(layout.shape[0]):
            _product(layout, k, net.table, state, now)
            # Whole records reach only the helpers that few subnetworks call.
            if layout[k, SOURCES]:
                _sourced(net, k, drive[n], lanes.factor, now)
            if layout[k, PORTS]:
                _push(net, lanes, k)
                _energy(layout, k, lanes.port, lanes.energy, h, 2)
            _turn(layout, k, state, now, 1)
        _launch(layout, state, now, lanes.ring, n)
        _arrive(layout, state, lanes.ring, ways, n)
        _peaks(layout, now, lanes.old, lanes.peak)


@compiled
def _solve(net: Tables, lanes: Lanes, k: int, drive: Array) -> None:
    _product(net.layout, k, net.table, lanes.state, lanes.now)
    _sourced(net, k, drive, lanes.factor, lanes.now)
    if net.layout[k, PORTS]:
        _push(net, lanes, k)


@compiled
def _sourced(net: Tables, k: int, drive: Array, factor: Array, now: Array) -> None:
    layout = net.layout
    count, losses = layout[k, STORES] + layout[k, WAVES], layout[k, LOSSES]
    first = _watch(layout, k)
    for s in range(layout[k, SOURCES]):
        at = layout[k, SOURCE] + s
        for r in range(losses, losses + count + layout[k, PORTS]):
            value = drive[at] * net.table[k, r // EIGHT, count + s, r % EIGHT]
            _add(now, k, r, value, factor, at)
        for r in range(first, first + layout[k, WATCHED]):
            value = drive[at] * net.table[k, r // EIGHT, count + s, r % EIGHT]
            _add(now, k, r, value, factor, at)


@inlined
def _add(  # noqa: PLR0917 - compiled code takes its arrays by place
    now: Array, k: int, r: int, value: float, factor: Array, at: int
) -> None:
    for lane in range(now.shape[2]):
        now[k, r, lane] += value * factor[at, lane]


@inlined
def _watch(layout: Ints, k: int) -> int:
    below = layout[k, LOSSES] + layout[k, STORES] + layout[k, WAVES]
    row: int = below + layout[k, PORTS] + layout[k, SOURCES]
    return row


@inlined
def _product(layout: Ints, k: int, table: Array, state: Array, now: Array) -> None:
    """Set the outputs of k that are used here, two at a time."""
    count, first = layout[k, STORES] + layout[k, WAVES], layout[k, LOSSES]
    needed = count + layout[k, PORTS]
    wanted = needed + layout[k, WATCHED]
    gap = layout[k, SOURCES]
    for pair in range((wanted + 1) // 2):
        p, q = 2 * pair, min(2 * pair + 1, wanted - 1)
        # What the sources see of themselves lies between and is not used.
        _rows(k, first + p + (gap if p >= needed else 0), first + q + (gap if q >= needed else 0),
              count, (table, state, now))  # fmt: skip


@inlined
def _rows(k: int, r: int, q: int, count: int, arrays: tuple[Array, Array, Array]) -> None:
    """Set two outputs of all lanes, four inputs at a time."""
    table, state, now = arrays
    g, e, f, o = r // EIGHT, r % EIGHT, q // EIGHT, q % EIGHT
    for lane in range(now.shape[2]):
        now[k, r, lane] = 0.0
        now[k, q, lane] = 0.0
    for four in range(count // 4):
        c = 4 * four
        a0, a1, a2, a3 = _four(table, k, g, c, e)
        b0, b1, b2, b3 = _four(table, k, f, c, o)
        for lane in range(now.shape[2]):
            s0, s1 = state[k, c, lane], state[k, c + 1, lane]
            s2, s3 = state[k, c + 2, lane], state[k, c + 3, lane]
            one = now[k, r, lane] + a0 * s0 + a1 * s1 + a2 * s2 + a3 * s3
            two = now[k, q, lane] + b0 * s0 + b1 * s1 + b2 * s2 + b3 * s3
            now[k, r, lane] = one
            now[k, q, lane] = two
    for c in range(4 * (count // 4), count):
        a, b = table[k, g, c, e], table[k, f, c, o]
        for lane in range(now.shape[2]):
            s0 = state[k, c, lane]
            one, two = now[k, r, lane] + a * s0, now[k, q, lane] + b * s0
            now[k, r, lane] = one
            now[k, q, lane] = two


@inlined
def _four(table: Array, k: int, g: int, c: int, e: int) -> tuple[float, float, float, float]:
    return table[k, g, c, e], table[k, g, c + 1, e], table[k, g, c + 2, e], table[k, g, c + 3, e]


@compiled
def _push(net: Tables, lanes: Lanes, k: int) -> None:
    """Read the varistor's current from its table and add what it does."""
    layout, port = net.layout, net.layout[k, PORT]
    count = layout[k, STORES] + layout[k, WAVES]
    first, now, ports = layout[k, LOSSES], lanes.now, lanes.port
    row = first + count
    _read(lanes.law, lanes.law_step_v[port], port, now[k, row], ports[port, 0])
    for r in range(first, row + 1):
        _add(now, k, r, net.push[k, 0, r], ports[port], 0)
    seen = _watch(layout, k)
    for r in range(seen, seen + layout[k, WATCHED]):
        _add(now, k, r, net.push[k, 0, r], ports[port], 0)
    for lane in range(now.shape[2]):
        ports[port, 1, lane] = now[k, row, lane]
        lanes.peak_a[port, lane] = max(lanes.peak_a[port, lane], abs(ports[port, 0, lane]))


@inlined
def _read(law: Array, step_v: float, port: int, opens: Array, amps: Array) -> None:
    most = law.shape[1] - 2
    for lane in range(len(opens)):
        place = abs(opens[lane]) / step_v
        # The table reaches beyond what the surges can: see one_loop.py.
        piece = min(int(place), most)
        t = place - piece
        i0, d0 = law[port, piece, 0], law[port, piece, 1]
        i1, d1 = law[port, piece + 1, 0], law[port, piece + 1, 1]
        c2, c3 = 3 * (i1 - i0) - 2 * d0 - d1, 2 * (i0 - i1) + d0 + d1
        size_a = i0 + t * (d0 + t * (c2 + t * c3))
        amps[lane] = size_a if opens[lane] > 0 else -size_a


@compiled
def _energy(  # noqa: PLR0917 - compiled code takes its arrays by place
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


@inlined
def _turn(layout: Ints, k: int, state: Array, now: Array, how: int) -> None:
    """Turn the waves round, or take them on after the first half-step."""
    losses = layout[k, LOSSES]
    for s in range(layout[k, STORES]):
        for lane in range(state.shape[2]):
            twice = 2 * now[k, losses + s, lane] - state[k, s, lane]
            state[k, s, lane] = now[k, losses + s, lane] if how == 0 else twice


@inlined
def _launch(layout: Ints, state: Array, now: Array, ring: Array, n: int) -> None:
    """Write the waves that leave the line ends at step n."""
    line = n & (ring.shape[0] - 1)
    for k in range(layout.shape[0]):
        stores, end, losses = layout[k, STORES], layout[k, END], layout[k, LOSSES]
        for w in range(layout[k, WAVES]):
            s, e = stores + w, end + w
            for lane in range(state.shape[2]):
                ring[line, e, lane] = 2 * now[k, losses + s, lane] - state[k, s, lane]


@inlined
def _arrive(layout: Ints, state: Array, ring: Array, ways: Ways, n: int) -> None:
    """Read the waves that arrive at the line ends at step n + 1."""
    mask, whole, partner, taps = ring.shape[0] - 1, ways.whole, ways.partner, ways.taps
    for k in range(layout.shape[0]):
        stores, end = layout[k, STORES], layout[k, END]
        for w in range(layout[k, WAVES]):
            e, s = end + w, stores + w
            n0, o = n + 2 - whole[e], partner[e]
            n1, n2, n3 = (n0 - 1) & mask, (n0 - 2) & mask, (n0 - 3) & mask
            n0 = n0 & mask
            a, b, c, d = taps[e, 0], taps[e, 1], taps[e, 2], taps[e, 3]
            for lane in range(state.shape[2]):
                state[k, s, lane] = (
                    a * ring[n0, o, lane]
                    + b * ring[n1, o, lane]
                    + c * ring[n2, o, lane]
                    + d * ring[n3, o, lane]
                )


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
