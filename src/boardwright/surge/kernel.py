"""The compiled kernel: steps every subnetwork of a surge network to the end time.

Only modules that run it import this one; importing it costs a third of a second.
``reference.py`` does the same in plain NumPy and checks it.
"""

from __future__ import annotations

from boardwright.surge.jit import compiled
from boardwright.surge.kernel_energy import add_ports, add_sources, jump_w, losses_w
from boardwright.surge.kernel_fire import first_crossing, silent_gaps, sparked
from boardwright.surge.kernel_parts import (
    Ways,
    arrive,
    centre,
    hold,
    launch,
    product,
    pushed,
    record,
    reflect,
    settle,
    solve_one,
    sourced,
)
from boardwright.surge.runs import Run
from boardwright.surge.tables import GAPS, PORTS, SOURCES, Tables
from boardwright.surge.waveforms import Array


@compiled
def run(  # noqa: PLR0917 - compiled code takes its arrays by place
    net: Tables, out: Run, drive: Array, first: int, last: int, stop: int
) -> int:
    """Take the steps from first to last; return the last one taken.

    ``drive`` holds the sources, half a step in and then at each step. With ``stop`` not 0 the
    run ends before the step in which a gap would spark over.
    """
    layout, table, push, curve_u, h = net.layout, net.table, net.push, net.curve_u, net.step_s
    state, now, before, laws, sums = out.state, out.now, out.before, out.laws, out.sums
    ring, watch, port_a = out.ring, out.watch, out.port_a
    ways = Ways(net.whole, net.partner, net.taps)
    now[:] = out.last
    waiting = silent_gaps(laws)
    for n in range(first, last + 1):
        now, before = before, now
        for k in range(layout.shape[0]):
            product(layout, k, table, state, now)
            if layout[k, SOURCES]:
                sourced(layout, k, table, drive[n], now)
            if layout[k, PORTS]:
                pushed(layout, k, laws, curve_u, push, now)
        if waiting and stop and first_crossing(layout, laws, out.moment, now, before):
            # Nothing but ``now`` has changed yet.
            out.last[:] = before
            return n - 1
        for k in range(layout.shape[0]):
            if waiting and layout[k, GAPS] and sparked(net, out, k, n, drive, (now, before)):
                waiting = silent_gaps(laws)
                continue
            add_ports(layout, k, now, before, sums, h)
            if layout[k, SOURCES]:
                add_sources(net, k, (drive[n], drive[n - 1]), (now, before), sums, h)
            sums[1] += h * losses_w(layout, k, now, before)
            reflect(layout, k, state, now)
        launch(layout, state, now, ring, n)
        arrive(layout, state, ring, ways, n)
        if net.sharp:
            hold(layout, state, ring, ways, n)
        record(layout, now, watch, port_a, n)
    out.last[:] = now
    return last


@compiled
def start(net: Tables, out: Run, drive: Array, heats: int) -> None:
    """Take the first step, from the start or from a spark, as two half-steps of backward Euler.

    They stop the trapezoidal rule from ringing on the jump. What they lose is the energy of
    a process quicker than the step, such as a capacitor that a spark shorts: it becomes heat
    and is counted in place ``heats`` of the sums.
    """
    layout, half_s, ways = net.layout, net.step_s / 2, Ways(net.whole, net.partner, net.taps)
    for half in range(2):
        for k in range(layout.shape[0]):
            solve_one(net, out, k, drive[half], out.now)
            add_ports(layout, k, out.now, out.now, out.sums, half_s)
            drives = (drive[half], drive[half])
            add_sources(net, k, drives, (out.now, out.now), out.sums, half_s)
            out.sums[1] += half_s * losses_w(layout, k, out.now, out.now)
            out.sums[heats] += half_s * jump_w(layout, k, out.state, out.now)
            if half == 0:
                settle(layout, k, out.state, out.now)
            else:
                # The slope of the half-steps is what the trapezoidal rule goes on with.
                reflect(layout, k, out.state, out.now)
        launch(layout, out.state, out.now, out.ring, 2 - half)
        if half == 0:
            # Waves on their way arrive at the end of the step.
            arrive(layout, out.state, out.ring, ways, 0)
            # For whoever wants to know where a jump led; the second step writes over it.
            record(layout, out.now, out.watch, out.port_a, 2)
    if net.sharp:
        centre(out.ring)
    arrive(layout, out.state, out.ring, ways, 1)
    if net.sharp:
        hold(layout, out.state, out.ring, ways, 1)
    record(layout, out.now, out.watch, out.port_a, 1)
    out.last[:] = out.now
