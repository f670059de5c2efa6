"""The parts of a step, compiled: what one subnetwork does, and what travels in the lines.

Each takes only the few arrays it needs: with all of them in hand a call would cost more
than its work.
"""

from __future__ import annotations

from typing import NamedTuple

from boardwright.surge.jit import compiled
from boardwright.surge.kernel_ports import Span, port_currents, varistor_a
from boardwright.surge.runs import Run
from boardwright.surge.tables import (
    AMPS,
    CURVE,
    GAPS,
    END,
    LOSSES,
    PORT,
    PORTS,
    ROWS,
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


@compiled
def product(layout: Ints, k: int, table: Array, state: Array, now: Array) -> None:
    """Set the outputs of k to its table's lines weighted by its state, four at a time."""
    rows, count = layout[ROWS, k], layout[STORES, k] + layout[WAVES, k]
    for r in range(rows):
        now[k, r] = 0.0
    whole = count // 4
    for c in range(whole):
        a, b, d, e = (
            state[k, 4 * c],
            state[k, 4 * c + 1],
            state[k, 4 * c + 2],
            state[k, 4 * c + 3],
        )
        for r in range(rows):
            now[k, r] += (
                a * table[k, 4 * c, r]
                + b * table[k, 4 * c + 1, r]
                + d * table[k, 4 * c + 2, r]
                + e * table[k, 4 * c + 3, r]
            )
    for c in range(4 * whole, count):
        a = state[k, c]
        for r in range(rows):
            now[k, r] += a * table[k, c, r]


@compiled
def sourced(layout: Ints, k: int, table: Array, drive: Array, now: Array) -> None:
    """Add what the sources do to the outputs of k."""
    inside = layout[STORES, k] + layout[WAVES, k]
    for s in range(layout[SOURCES, k]):
        value = drive[layout[SOURCE, k] + s]
        for r in range(layout[ROWS, k]):
            now[k, r] += value * table[k, inside + s, r]


@compiled
def pushed(layout: Ints, k: int, laws: Array, curve_u: Array, push: Array, now: Array) -> None:
    """Solve the ports of k and add what their currents do to its outputs."""
    ports, first = layout[PORTS, k], layout[PORT, k]
    if ports == 0:
        return
    opens, below = port_row(layout, k), watch_row(layout, k) + layout[WATCHED, k]
    if ports == 1 and layout[GAPS, k] == 0:
        curve, ohm = int(laws[first, CURVE]), -push[k, 0, opens]
        laws[first, AMPS] = varistor_a(curve_u, curve, now[k, opens], ohm, laws[first, AMPS])
    else:
        port_currents(laws, curve_u, push, now, Span(k, ports, first, opens))
    for p in range(ports):
        value = laws[first + p, AMPS]
        for r in range(layout[ROWS, k]):
            now[k, r] += value * push[k, p, r]
        now[k, below + p] = value


class Ways(NamedTuple):
    """From where, and how long ago, the waves that arrive at the line ends come."""

    whole: Ints
    partner: Ints
    taps: Array


@compiled
def copy_line(layout: Ints, k: int, source: Array, target: Array) -> None:
    """Copy the outputs of k."""
    for at in range(layout[ROWS, k]):
        target[k, at] = source[k, at]


@compiled
def solve_one(net: Tables, out: Run, k: int, now: Array) -> None:
    """Find the outputs of subnetwork k from its waves and sources."""
    product(net.layout, k, net.table, out.state, out.now)
    sourced(net.layout, k, net.table, now, out.now)
    pushed(net.layout, k, out.laws, net.curve_u, net.push, out.now)


@compiled
def reflect(layout: Ints, k: int, state: Array, now: Array) -> None:
    """Turn the waves round after a trapezoidal step."""
    losses = layout[LOSSES, k]
    for s in range(layout[STORES, k]):
        state[k, s] = 2 * now[k, losses + s] - state[k, s]


@compiled
def settle(layout: Ints, k: int, state: Array, now: Array) -> None:
    """Take the waves on after a half-step."""
    losses = layout[LOSSES, k]
    for s in range(layout[STORES, k]):
        state[k, s] = now[k, losses + s]


@compiled
def launch(layout: Ints, state: Array, now: Array, ring: Array, n: int) -> None:
    """Write the waves that leave the line ends at step n."""
    line = n & (ring.shape[0] - 1)
    for k in range(layout.shape[1]):
        stores, end, losses = layout[STORES, k], layout[END, k], layout[LOSSES, k]
        for w in range(layout[WAVES, k]):
            ring[line, end + w] = 2 * now[k, losses + stores + w] - state[k, stores + w]


@compiled
def arrive(layout: Ints, state: Array, ring: Array, ways: Ways, n: int) -> None:
    """Read the waves that arrive at the line ends at step n + 1."""
    mask, whole, partner, taps = ring.shape[0] - 1, ways.whole, ways.partner, ways.taps
    for k in range(layout.shape[1]):
        stores, end = layout[STORES, k], layout[END, k]
        for w in range(layout[WAVES, k]):
            e = end + w
            newest, other = n + 2 - whole[e], partner[e]
            state[k, stores + w] = (
                taps[e, 0] * ring[newest & mask, other]
                + taps[e, 1] * ring[(newest - 1) & mask, other]
                + taps[e, 2] * ring[(newest - 2) & mask, other]
                + taps[e, 3] * ring[(newest - 3) & mask, other]
            )


@compiled
def record(layout: Ints, now: Array, watch: Array, port_a: Array, n: int) -> None:
    """Write down what is watched, and the currents of the ports."""
    for k in range(layout.shape[1]):
        row, column = watch_row(layout, k), layout[WATCH, k]
        for w in range(layout[WATCHED, k]):
            watch[n, column + w] = now[k, row + w]
        row += layout[WATCHED, k]
        for p in range(layout[PORTS, k]):
            port_a[n, layout[PORT, k] + p] = now[k, row + p]


@compiled
def port_row(layout: Ints, k: int) -> int:
    """Return where among the outputs of k its ports' voltages begin."""
    return layout[LOSSES, k] + layout[STORES, k] + layout[WAVES, k]


@compiled
def watch_row(layout: Ints, k: int) -> int:
    """Return where among the outputs of k what is watched begins."""
    return port_row(layout, k) + layout[PORTS, k] + layout[SOURCES, k]
