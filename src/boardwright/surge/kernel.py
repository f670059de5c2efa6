"""The compiled kernel: steps every subnetwork of a surge network to the end time.

Only modules that run it import this one; importing it costs a third of a second.
``reference.py`` does the same in plain NumPy and checks it.
"""

from __future__ import annotations

import numpy as np

from boardwright.surge.jit import compiled
from boardwright.surge.kernel_ports import port_currents
from boardwright.surge.runs import Run
from boardwright.surge.tables import (
    COLUMNS,
    END,
    LOSSES,
    OUTPUT,
    PORT,
    PORTS,
    PUSH,
    ROWS,
    SOURCE,
    SOURCES,
    STATE,
    STORES,
    TABLE,
    WATCH,
    WATCHED,
    WAVES,
    Tables,
)
from boardwright.surge.waveforms import Array


@compiled
def run(net: Tables, out: Run, drive: Array, steps: int) -> None:
    """Step the network; ``drive`` holds the sources, half a step in and then at each step."""
    h = net.step_s
    for half in range(2):
        # Two half-steps of backward Euler stop the trapezoidal rule from ringing on
        # the start. No wave can have come through a line yet.
        now = drive[half]
        for k in range(net.layout.shape[1]):
            _solve(net, out, k, now)
            _add_energy(net, out, k, now, now, h / 2, 1.0)
            if half == 0:
                _euler(net, out, k)
            else:
                # The slope of the half-steps is what the trapezoidal rule goes on with.
                _reflect(net, out, k)
        _keep(out)
    _launch(net, out, 1)
    _record(net, out, 1)
    for n in range(2, steps + 1):
        for k in range(net.layout.shape[1]):
            _solve(net, out, k, drive[n])
            part, port = _crossing(net, out, k)
            if port >= 0:
                _fire(net, out, k, drive, n, part, port)
            else:
                _add_energy(net, out, k, drive[n], drive[n - 1], h, 0.5)
                _reflect(net, out, k)
        _keep(out)
        _launch(net, out, n)
        _record(net, out, n)


@compiled
def _solve(net: Tables, out: Run, k: int, now: Array) -> None:
    """Find the outputs of subnetwork k from its waves and sources."""
    layout = net.layout
    rows, at = layout[ROWS, k], layout[OUTPUT, k]
    y = out.now[at : at + rows]
    first, count = layout[STATE, k], layout[STORES, k] + layout[WAVES, k]
    table = net.table[layout[TABLE, k] : layout[TABLE, k] + layout[COLUMNS, k] * rows]
    _product(table, out.state[first : first + count], y)
    for s in range(layout[SOURCES, k]):
        value, line = now[layout[SOURCE, k] + s], (count + s) * rows
        for r in range(rows):
            y[r] += value * table[line + r]
    ports = layout[PORTS, k]
    if ports:
        push = layout[PUSH, k]
        port_currents(net, k, y[count : count + ports], push + count, out.amps, out.burning)
        for p in range(ports):
            amps, line = out.amps[layout[PORT, k] + p], push + p * rows
            for r in range(rows):
                y[r] += amps * net.push[line + r]


@compiled
def _product(table: Array, state: Array, y: Array) -> None:
    """Set y to the table's lines weighted by the state, four lines at a time."""
    rows, count = len(y), len(state)
    y[:] = 0.0
    c = 0
    while c + 4 <= count:
        a, b, d, e = state[c], state[c + 1], state[c + 2], state[c + 3]
        ta, tb = table[c * rows : (c + 1) * rows], table[(c + 1) * rows : (c + 2) * rows]
        td, te = table[(c + 2) * rows : (c + 3) * rows], table[(c + 3) * rows : (c + 4) * rows]
        for r in range(rows):
            y[r] += a * ta[r] + b * tb[r] + d * td[r] + e * te[r]
        c += 4
    while c < count:
        a = state[c]
        ta = table[c * rows : (c + 1) * rows]
        for r in range(rows):
            y[r] += a * ta[r]
        c += 1


@compiled
def _reflect(net: Tables, out: Run, k: int) -> None:
    """Turn the waves round after a trapezoidal step."""
    first, at = net.layout[STATE, k], net.layout[OUTPUT, k]
    for s in range(net.layout[STORES, k]):
        out.state[first + s] = 2 * out.now[at + s] - out.state[first + s]


@compiled
def _euler(net: Tables, out: Run, k: int) -> None:
    """Take the waves on after a half-step."""
    first, at = net.layout[STATE, k], net.layout[OUTPUT, k]
    for s in range(net.layout[STORES, k]):
        out.state[first + s] = out.now[at + s]


@compiled
def _keep(out: Run) -> None:
    out.before[:] = out.now
    out.amps_before[:] = out.amps


@compiled
def _launch(net: Tables, out: Run, n: int) -> None:
    """Write the waves that leave the line ends at step n; read those that arrive at n + 1."""
    mask = out.ring.shape[0] - 1
    layout = net.layout
    line = out.ring[n & mask]
    for k in range(layout.shape[1]):
        stores, first, at = layout[STORES, k], layout[STATE, k], layout[OUTPUT, k]
        end = layout[END, k]
        for w in range(layout[WAVES, k]):
            s = stores + w
            line[end + w] = 2 * out.now[at + s] - out.state[first + s]
    for k in range(layout.shape[1]):
        first, end = layout[STATE, k] + layout[STORES, k], layout[END, k]
        for w in range(layout[WAVES, k]):
            e = end + w
            newest, partner = n + 2 - net.whole[e], net.partner[e]
            out.state[first + w] = (
                net.taps[e, 0] * out.ring[newest & mask, partner]
                + net.taps[e, 1] * out.ring[(newest - 1) & mask, partner]
                + net.taps[e, 2] * out.ring[(newest - 2) & mask, partner]
                + net.taps[e, 3] * out.ring[(newest - 3) & mask, partner]
            )


@compiled
def _record(net: Tables, out: Run, n: int) -> None:
    layout = net.layout
    for k in range(layout.shape[1]):
        at = layout[OUTPUT, k] + _watch_row(net, k)
        for w in range(layout[WATCHED, k]):
            out.watch[n, layout[WATCH, k] + w] = out.now[at + w]
    out.port_a[n] = out.amps


@compiled
def _watch_row(net: Tables, k: int) -> int:
    """Return the row where what is watched begins."""
    layout = net.layout
    below = layout[STORES, k] + layout[WAVES, k] + layout[PORTS, k]
    return int(below + layout[LOSSES, k] + layout[SOURCES, k])


@compiled
def _add_energy(
    net: Tables, out: Run, k: int, drive: Array, drive_before: Array, span_s: float, share: float
) -> None:
    """Add a span's energy, powers taken at ``share`` of now and the rest of before.

    At half of each the trapezoidal rule conserves energy but for rounding; a half-step
    of backward Euler evaluates at its end alone and loses a little.
    """
    layout = net.layout
    at, rest = layout[OUTPUT, k], 1.0 - share
    row = at + layout[STORES, k] + layout[WAVES, k]
    port = layout[PORT, k]
    for p in range(layout[PORTS, k]):
        volts = share * out.now[row + p] + rest * out.before[row + p]
        amps = share * out.amps[port + p] + rest * out.amps_before[port + p]
        out.sums[2 + port + p] += volts * amps * span_s
    row += layout[PORTS, k]
    losses = layout[LOSSES, k]
    out.sums[1] += span_s * _squares(
        out.now[row : row + losses], out.before[row : row + losses], share
    )
    row += losses
    for s in range(layout[SOURCES, k]):
        at_source = layout[SOURCE, k] + s
        value = share * drive[at_source] + rest * drive_before[at_source]
        seen = share * out.now[row + s] + rest * out.before[row + s]
        gain, sign = net.source_gain[at_source], net.source_sign[at_source]
        out.sums[0] += value * (gain * value + sign * seen) * span_s


@compiled
def _squares(now: Array, before: Array, share: float) -> float:
    total, rest = 0.0, 1.0 - share
    for r in range(len(now)):
        middle = share * now[r] + rest * before[r]
        total += middle * middle
    return total


@compiled
def _crossing(net: Tables, out: Run, k: int) -> tuple[float, int]:
    """Return the part of the step at which a gap of k sparks over, and which; else -1."""
    layout = net.layout
    row = layout[OUTPUT, k] + layout[STORES, k] + layout[WAVES, k]
    first, part, found = layout[PORT, k], 2.0, -1
    for p in range(layout[PORTS, k]):
        port = first + p
        if not net.gap[port] or out.burning[port]:
            continue
        sparkover_v = net.port_v[port, 0]
        now, before = out.now[row + p], out.before[row + p]
        if abs(now) < sparkover_v:
            continue
        aim = sparkover_v if now > 0 else -sparkover_v
        here = (aim - before) / (now - before) if now != before else 0.0
        here = min(max(here, 0.0), 1.0)
        if here < part:
            part, found = here, port
    return part, found


@compiled
def _fire(
    net: Tables, out: Run, k: int, drive: Array, n: int, part: float, port: int
) -> None:
    """Let a gap spark over inside step n and end on the step's own time again.

    The stores are taken to the moment in a straight line; two half-steps of backward
    Euler with the gap burning reach one step past it; and a straight line leads back
    to the time of step n. The same matrix serves throughout.
    """
    layout, h = net.layout, net.step_s
    at, rows = layout[OUTPUT, k], layout[ROWS, k]
    stores, waves = layout[STORES, k], layout[WAVES, k]
    first, count = layout[STATE, k], stores + waves
    y, old = out.now[at : at + rows], out.before[at : at + rows]
    work = out.scratch
    arrived = out.state[first + stores : first + count].copy()
    for r in range(rows):
        y[r] = old[r] + part * (y[r] - old[r])
        work[0, r] = y[r]
    row, watch = _watch_row(net, k), layout[WATCH, k]
    out.fired_s[port] = (n - 1 + part) * h
    out.fired_watch[port, watch : watch + layout[WATCHED, k]] = y[row : row + layout[WATCHED, k]]
    _add_energy(net, out, k, drive[n], drive[n - 1], part * h, 0.5)
    out.burning[port] = 1
    later = min(n + 1, drive.shape[0] - 1)
    # The line waves of one step on: all of it has long left the other ends.
    for half in range(1, 3):
        ahead = part + half / 2 - 1.0
        for s in range(stores):
            out.state[first + s] = work[half - 1, s]
        for w in range(waves):
            change = _arriving_later(net, out, layout[END, k] + w, n) - arrived[w]
            out.state[first + stores + w] = arrived[w] + ahead * change
        _solve(net, out, k, drive[n] + ahead * (drive[later] - drive[n]))
        work[half, :rows] = y
        work[half + 2, : layout[PORTS, k]] = out.amps[layout[PORT, k] :][: layout[PORTS, k]]
    _return(net, out, k, 1.0 - part)
    out.state[first + stores : first + count] = arrived


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
def _return(net: Tables, out: Run, k: int, rest: float) -> None:
    """Set subnetwork k to where it stands ``rest`` of a step after a gap fired."""
    layout, work = net.layout, out.scratch
    at, rows, stores = layout[OUTPUT, k], layout[ROWS, k], layout[STORES, k]
    port = layout[PORT, k]
    early = rest <= 0.5  # noqa: PLR2004  within the first half-step
    along = (rest - 0.5) * 2
    for r in range(rows):
        # Voltages jump as the gap fires, so these are led back from after it.
        out.now[at + r] = work[1, r] + along * (work[2, r] - work[1, r])
    for p in range(layout[PORTS, k]):
        out.amps[port + p] = work[3, p] + along * (work[4, p] - work[3, p])
    for s in range(stores):
        low, high = (work[0, s], work[1, s]) if early else (work[1, s], work[2, s])
        here = low + (rest * 2 if early else along) * (high - low)
        out.now[at + s] = here
        out.state[layout[STATE, k] + s] = here + high - low
    span_s = rest * net.step_s
    row = at + stores + layout[WAVES, k]
    for p in range(layout[PORTS, k]):
        out.sums[2 + port + p] += out.now[row + p] * out.amps[port + p] * span_s
    row += layout[PORTS, k]
    losses = out.now[row : row + layout[LOSSES, k]]
    out.sums[1] += span_s * _squares(losses, losses, 1.0)
