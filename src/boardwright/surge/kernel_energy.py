"""The energy balance, accumulated in the compiled kernel.

Powers are taken at the middle of a trapezoidal step, where the rule conserves energy but
for rounding. A half-step of backward Euler evaluates at its end, which then stands for
"before" as well as for "now", and loses a little.
"""

from __future__ import annotations

from boardwright.surge.jit import inlined
from boardwright.surge.kernel_parts import port_row, watch_row
from boardwright.surge.tables import (
    LOSSES,
    PORT,
    PORTS,
    SOURCE,
    SOURCES,
    STORES,
    WATCHED,
    Ints,
    Tables,
)
from boardwright.surge.waveforms import Array

Pair = tuple[Array, Array]


@inlined
def add_ports(  # noqa: PLR0917 - compiled code takes its arrays by place
    layout: Ints, k: int, now: Array, before: Array, sums: Array, span_s: float
) -> None:
    """Add what the ports of k take over a span."""
    row, below = port_row(layout, k), watch_row(layout, k) + layout[k, WATCHED]
    for p in range(layout[k, PORTS]):
        u = now[k, row + p] + before[k, row + p]
        i = now[k, below + p] + before[k, below + p]
        sums[2 + layout[k, PORT] + p] += u * i * span_s / 4


@inlined
def add_sources(  # noqa: PLR0917 - compiled code takes its arrays by place
    net: Tables, k: int, drives: Pair, outputs: Pair, sums: Array, span_s: float
) -> None:
    """Add what the sources of k supply over a span."""
    layout = net.layout
    row = port_row(layout, k) + layout[k, PORTS]
    for s in range(layout[k, SOURCES]):
        at = layout[k, SOURCE] + s
        value = (drives[0][at] + drives[1][at]) / 2
        seen = (outputs[0][k, row + s] + outputs[1][k, row + s]) / 2
        gain, sign = net.source_gain[at], net.source_sign[at]
        sums[0] += value * (gain * value + sign * seen) * span_s


@inlined
def losses_w(layout: Ints, k: int, now: Array, before: Array) -> float:
    """Return what the resistances of k turn into heat. [W]"""
    total = 0.0
    for r in range(layout[k, LOSSES]):
        middle = now[k, r] + before[k, r]
        total += middle * middle
    return total / 4


@inlined
def jump_w(layout: Ints, k: int, state: Array, now: Array) -> float:
    """Return what a half-step of backward Euler loses from the stores of k. [W]"""
    losses, total = layout[k, LOSSES], 0.0
    for s in range(layout[k, STORES]):
        jump = now[k, losses + s] - state[k, s]
        total += jump * jump
    return total / 2
