"""The moment a gap sparks over, in the compiled kernel.

The stores are taken to the moment in a straight line; two half-steps of backward Euler
with the gap burning reach one step past it; and a straight line leads back to the time
of the step. The same matrix serves throughout.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from boardwright.surge.jit import compiled
from boardwright.surge.kernel_energy import Pair, add_ports, losses_w
from boardwright.surge.kernel_parts import port_row, solve_one, watch_row
from boardwright.surge.kernel_ports import silent
from boardwright.surge.runs import Run
from boardwright.surge.tables import (
    BURNING,
    END,
    GAPS,
    LOSSES,
    PORT,
    PORTS,
    ROWS,
    SPARKOVER_V,
    STORES,
    WATCH,
    WATCHED,
    WAVES,
    Ints,
    Tables,
)
from boardwright.surge.waveforms import Array


class Moment(NamedTuple):
    """A gap and the part of a step at which it sparks over."""

    step: int
    fraction: float
    port: int


@compiled
def silent_gaps(laws: Array) -> int:
    """Return how many gaps have not sparked over."""
    count = 0
    for port in range(laws.shape[0]):
        count += silent(laws, port)
    return count


@compiled
def crossing(layout: Ints, k: int, laws: Array, now: Array, before: Array) -> tuple[float, int]:
    """Return the part of the step at which a gap of k sparks over, and which; else -1."""
    row, first = port_row(layout, k), layout[k, PORT]
    part, found = 2.0, -1
    for p in range(layout[k, PORTS]):
        port = first + p
        if not silent(laws, port):
            continue
        sparkover_v = laws[port, SPARKOVER_V]
        u, old = now[k, row + p], before[k, row + p]
        if abs(u) < sparkover_v:
            continue
        aim = sparkover_v if u > 0 else -sparkover_v
        here = min(max((aim - old) / (u - old) if u != old else 0.0, 0.0), 1.0)
        if here < part:
            part, found = here, port
    return part, found


@compiled
def first_crossing(layout: Ints, laws: Array, moment: Array, now: Array, before: Array) -> bool:
    """Note which gap of all sparks over first in a step, and when; say if one does."""
    moment[0], moment[1] = 2.0, -1.0
    for k in range(layout.shape[0]):
        if layout[k, GAPS]:
            part, port = crossing(layout, k, laws, now, before)
            if part < moment[0]:
                moment[0], moment[1] = part, port
    found: bool = moment[1] >= 0
    return found


@compiled
def sparked(  # noqa: PLR0917 - compiled code takes its arrays by place
    net: Tables, out: Run, k: int, n: int, drive: Array, outputs: Pair
) -> bool:
    """Let the first gap of k that meets its sparkover in step n fire; say whether one did."""
    part, port = crossing(net.layout, k, out.laws, outputs[0], outputs[1])
    if port >= 0:
        fire(net, out, k, Moment(n, part, port), drive, outputs)
    return port >= 0


@compiled
def fire(  # noqa: PLR0917 - compiled code takes its arrays by place
    net: Tables, out: Run, k: int, moment: Moment, drive: Array, outputs: Pair
) -> None:
    """Let a gap of subnetwork k spark over inside a step and end on the step's own time."""
    layout, part, n = net.layout, moment.fraction, moment.step
    rows, (now, before) = layout[k, ROWS], outputs
    stores, waves, losses = layout[k, STORES], layout[k, WAVES], layout[k, LOSSES]
    work, arrived = out.scratch, out.state[k, stores : stores + waves].copy()
    for r in range(rows):
        now[k, r] = before[k, r] + part * (now[k, r] - before[k, r])
        work[0, r] = now[k, r]
    _note(net, k, out, moment, now)
    span_s = part * net.step_s
    add_ports(layout, k, now, before, out.sums, span_s)
    out.sums[1] += span_s * losses_w(layout, k, now, before)
    out.laws[moment.port, BURNING] = 1.0
    later = min(n + 1, drive.shape[0] - 1)
    for half in range(1, 3):
        # What arrives after the step's own time has long left the other ends.
        ahead = part + half / 2 - 1.0
        for s in range(stores):
            out.state[k, s] = work[half - 1, losses + s]
        for w in range(waves):
            change = _arriving_later(net, out, layout[k, END] + w, n) - arrived[w]
            out.state[k, stores + w] = arrived[w] + ahead * change
        solve_one(net, out, k, drive[n] + ahead * (drive[later] - drive[n]), now)
        for r in range(rows):
            work[half, r] = now[k, r]
    _lead_back(net, out, k, 1.0 - part, now)
    for w in range(waves):
        out.state[k, stores + w] = arrived[w]


@compiled
def _note(net: Tables, k: int, out: Run, moment: Moment, now: Array) -> None:
    """Write down the moment, and what is watched at it."""
    layout = net.layout
    row, column = watch_row(layout, k), layout[k, WATCH]
    out.fired_s[moment.port] = (moment.step - 1 + moment.fraction) * net.step_s
    for w in range(layout[k, WATCHED]):
        out.fired_watch[moment.port, column + w] = now[k, row + w]


@compiled
def _arriving_later(net: Tables, out: Run, end: int, n: int) -> float:
    """Return the wave that arrives at an end at step n + 1, in a straight line."""
    mask = out.ring.shape[0] - 1
    place = n + 1 - net.delay_steps[end]
    low = int(np.floor(place))
    low = min(low, n - 2)
    share = place - low
    partner = net.partner[end]
    return float(
        (1 - share) * out.ring[low & mask, partner] + share * out.ring[(low + 1) & mask, partner]
    )


@compiled
def _lead_back(net: Tables, out: Run, k: int, rest: float, now: Array) -> None:
    """Set subnetwork k to where it stands ``rest`` of a step after a gap fired."""
    layout, work = net.layout, out.scratch
    losses, along = layout[k, LOSSES], (rest - 0.5) * 2
    for r in range(layout[k, ROWS]):
        # Voltages jump as the gap fires, so these are led back from after it.
        now[k, r] = work[1, r] + along * (work[2, r] - work[1, r])
    for s in range(layout[k, STORES]):
        at = losses + s
        low, high, share = work[1, at], work[2, at], along
        if along <= 0:
            low, high, share = work[0, at], work[1, at], rest * 2
        now[k, at] = low + share * (high - low)
        out.state[k, s] = now[k, at] + high - low
    span_s = rest * net.step_s
    add_ports(layout, k, now, now, out.sums, span_s)
    out.sums[1] += span_s * losses_w(layout, k, now, now)
