"""The parts of a step, compiled: what one subnetwork does, and what travels in the lines.

Each takes only the few arrays it needs: with all of them in hand a call would cost more
than its work.
"""

from __future__ import annotations

from typing import NamedTuple

from boardwright.surge.jit import compiled, inlined
from boardwright.surge.kernel_ports import Span, port_currents, varistor_a
from boardwright.surge.runs import Run
from boardwright.surge.tables import (
    AMPS,
    CURVE,
    EARLIER,
    EIGHT,
    END,
    ENOUGH,
    GAPS,
    LAST,
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


@inlined
def product(layout: Ints, k: int, table: Array, state: Array, now: Array) -> None:
    """Set the outputs of k to its table's lines weighted by its state, eight at a time."""
    count = layout[k, STORES] + layout[k, WAVES]
    for g in range((layout[k, ROWS] + EIGHT - 1) // EIGHT):
        # Spelt out, the eight sums become one register of eight.
        y0 = y1 = y2 = y3 = y4 = y5 = y6 = y7 = 0.0
        for c in range(count):
            s = state[k, c]
            y0 += s * table[k, g, c, 0]
            y1 += s * table[k, g, c, 1]
            y2 += s * table[k, g, c, 2]
            y3 += s * table[k, g, c, 3]
            y4 += s * table[k, g, c, 4]
            y5 += s * table[k, g, c, 5]
            y6 += s * table[k, g, c, 6]
            y7 += s * table[k, g, c, 7]
        r = EIGHT * g
        now[k, r], now[k, r + 1], now[k, r + 2], now[k, r + 3] = y0, y1, y2, y3
        now[k, r + 4], now[k, r + 5], now[k, r + 6], now[k, r + 7] = y4, y5, y6, y7


@inlined
def sourced(layout: Ints, k: int, table: Array, drive: Array, now: Array) -> None:
    """Add what the sources do to the outputs of k."""
    inside = layout[k, STORES] + layout[k, WAVES]
    for s in range(layout[k, SOURCES]):
        value = drive[layout[k, SOURCE] + s]
        for g in range((layout[k, ROWS] + EIGHT - 1) // EIGHT):
            for e in range(EIGHT):
                now[k, EIGHT * g + e] += value * table[k, g, inside + s, e]


@inlined
def pushed(  # noqa: PLR0917 - compiled code takes its arrays by place
    layout: Ints, k: int, laws: Array, curve_u: Array, push: Array, now: Array
) -> None:
    """Solve the ports of k and add what their currents do to its outputs."""
    ports, first = layout[k, PORTS], layout[k, PORT]
    opens, below = port_row(layout, k), watch_row(layout, k) + layout[k, WATCHED]
    for port in range(first, first + ports):
        # A guess from the last three steps; never across zero.
        last = laws[port, AMPS]
        guess = 3 * (last - laws[port, LAST]) + laws[port, EARLIER]
        laws[port, AMPS] = guess if guess * last > 0 else last
        laws[port, EARLIER], laws[port, LAST] = laws[port, LAST], last
    if ports == 1 and layout[k, GAPS] == 0:
        curve, thevenin = int(laws[first, CURVE]), (now[k, opens], -push[k, 0, opens])
        laws[first, AMPS] = varistor_a(
            curve_u, curve, thevenin, laws[first, AMPS], laws[first, ENOUGH]
        )
    else:
        port_currents(laws, curve_u, push, now, Span(k, ports, first, opens))
    for p in range(ports):
        value = laws[first + p, AMPS]
        for r in range(layout[k, ROWS]):
            now[k, r] += value * push[k, p, r]
        now[k, below + p] = value


class Ways(NamedTuple):
    """From where, and how long ago, the waves that arrive at the line ends come."""

    whole: Ints
    partner: Ints
    taps: Array


@compiled
def solve_one(net: Tables, out: Run, k: int, drive: Array, now: Array) -> None:
    """Find the outputs of subnetwork k from its waves and sources."""
    product(net.layout, k, net.table, out.state, now)
    sourced(net.layout, k, net.table, drive, now)
    if net.layout[k, PORTS]:
        pushed(net.layout, k, out.laws, net.curve_u, net.push, now)


@inlined
def reflect(layout: Ints, k: int, state: Array, now: Array) -> None:
    """Turn the waves round after a trapezoidal step."""
    losses = layout[k, LOSSES]
    for s in range(layout[k, STORES]):
        state[k, s] = 2 * now[k, losses + s] - state[k, s]


@inlined
def settle(layout: Ints, k: int, state: Array, now: Array) -> None:
    """Take the waves on after a half-step."""
    losses = layout[k, LOSSES]
    for s in range(layout[k, STORES]):
        state[k, s] = now[k, losses + s]


@inlined
def launch(layout: Ints, state: Array, now: Array, ring: Array, n: int) -> None:
    """Write the waves that leave the line ends at step n."""
    line = n & (ring.shape[0] - 1)
    for k in range(layout.shape[0]):
        stores, end, losses = layout[k, STORES], layout[k, END], layout[k, LOSSES]
        for w in range(layout[k, WAVES]):
            ring[line, end + w] = 2 * now[k, losses + stores + w] - state[k, stores + w]


@inlined
def arrive(layout: Ints, state: Array, ring: Array, ways: Ways, n: int) -> None:
    """Read the waves that arrive at the line ends at step n + 1."""
    mask, whole, partner, taps = ring.shape[0] - 1, ways.whole, ways.partner, ways.taps
    for k in range(layout.shape[0]):
        stores, end = layout[k, STORES], layout[k, END]
        for w in range(layout[k, WAVES]):
            e = end + w
            newest, other = n + 2 - whole[e], partner[e]
            state[k, stores + w] = (
                taps[e, 0] * ring[newest & mask, other]
                + taps[e, 1] * ring[(newest - 1) & mask, other]
                + taps[e, 2] * ring[(newest - 2) & mask, other]
                + taps[e, 3] * ring[(newest - 3) & mask, other]
            )


@inlined
def hold(layout: Ints, state: Array, ring: Array, ways: Ways, n: int) -> None:
    """Keep the waves that arrive at step n + 1 from swinging beyond a jump or a bend.

    Where the curvature changes from one sample to the next by as much as there is of it,
    the four samples hold a corner, and a cubic through them swings beyond it: it is held
    between the two samples around.
    """
    mask, whole, partner = ring.shape[0] - 1, ways.whole, ways.partner
    for k in range(layout.shape[0]):
        stores, end = layout[k, STORES], layout[k, END]
        for w in range(layout[k, WAVES]):
            e = end + w
            newest, other = n + 2 - whole[e], partner[e]
            new, old = ring[(newest - 1) & mask, other], ring[(newest - 2) & mask, other]
            bend_new = ring[newest & mask, other] - 2 * new + old
            bend_old = new - 2 * old + ring[(newest - 3) & mask, other]
            if 2 * abs(bend_new - bend_old) > abs(bend_new) + abs(bend_old):
                low, high = min(new, old), max(new, old)
                state[k, stores + w] = min(max(state[k, stores + w], low), high)


@inlined
def centre(ring: Array) -> None:
    """Put half a jump into the waves sent at its moment.

    Between the sample before and the one after a jump it looks like a ramp; it would be half
    a step late. Lines 2 and 1 hold what was sent after half a step and after a whole one.
    """
    for e in range(ring.shape[1]):
        after = 2 * ring[2, e] - ring[1, e]
        ring[0, e] = (ring[0, e] + after) / 2


@inlined
def record(layout: Ints, now: Array, watch: Array, port_a: Array, n: int) -> None:
    """Write down what is watched, and the currents of the ports."""
    for k in range(layout.shape[0]):
        row, column = watch_row(layout, k), layout[k, WATCH]
        for w in range(layout[k, WATCHED]):
            watch[n, column + w] = now[k, row + w]
        row += layout[k, WATCHED]
        for p in range(layout[k, PORTS]):
            port_a[n, layout[k, PORT] + p] = now[k, row + p]


@inlined
def port_row(layout: Ints, k: int) -> int:
    """Return where among the outputs of k its ports' voltages begin."""
    row: int = layout[k, LOSSES] + layout[k, STORES] + layout[k, WAVES]
    return row


@inlined
def watch_row(layout: Ints, k: int) -> int:
    """Return where among the outputs of k what is watched begins."""
    row: int = port_row(layout, k) + layout[k, PORTS] + layout[k, SOURCES]
    return row
