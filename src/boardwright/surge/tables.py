"""The numbers the kernels step: each subnetwork as one table, flat and aligned.

With the wave of each store g and of each line end g as state, a step is

    q = M·g + sources + U·i,  then  g' = 2q - g

for stores (trapezoidal rule; g' = q in a half-step of backward Euler) and for line
ends, whose g' travels to the other end first. M = Cᵀ·S⁻¹·C with S = (2/h)·E - A is
inverted once; the ports' open voltages, the resistances' losses and whatever is
watched are further rows of the same table.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from boardwright.core.errors import FieldError
from boardwright.surge.curves import CURVE_TOP_A, LINEAR_BELOW_A, VaristorCurve
from boardwright.surge.elements import CurrentSource, Gap
from boardwright.surge.subnets import Subnet
from boardwright.surge.waveforms import Array

Ints = NDArray[np.int64]

# Columns of the layout table, which has a line for each subnetwork.
STORES, WAVES, PORTS, LOSSES, SOURCES, WATCHED, ROWS, GAPS = range(8)
# Where its line ends, ports, sources and what is watched begin among those of all.
END, PORT, SOURCE, WATCH = range(8, 12)

# Columns of the ports' table: what each is, then what a run keeps of it, and room to solve.
IS_GAP, SPARKOVER_V, ARC_V, ARC_OHM, CURVE, BURNING, AMPS = range(7)
LAST, EARLIER, OLD, STEP, SIDE, STRETCH, ENOUGH, MATRIX = range(7, 15)

EIGHT = 8

# Newton's rule squares what it leaves: the current's relative error is under 1e-7.
LN_STEP_ENOUGH = 3e-4

CURVE_PIECES = 4096
CURVE_LOW = float(np.log(LINEAR_BELOW_A))
CURVE_STEP = (float(np.log(CURVE_TOP_A)) - CURVE_LOW) / CURVE_PIECES


class Tables(NamedTuple):
    """Everything a kernel reads; nothing in it changes during a run."""

    step_s: float
    layout: Ints
    table: Array
    push: Array
    partner: Ints
    whole: Ints
    taps: Array
    delay_steps: Array
    laws: Array
    curve_u: Array
    source_gain: Array
    source_sign: Array
    sharp: int = 0
    """Whether a wave between its samples is kept from swinging beyond them at a jump."""


def tables_of(subnets: tuple[Subnet, ...], watched: list[list[Array]], step_s: float) -> Tables:
    """Return the tables of all subnetworks for a step. ``watched`` holds rows for each. [s]"""
    layout = np.zeros((len(subnets), 12), dtype=np.int64)
    blocks = [_block(net, rows, step_s) for net, rows in zip(subnets, watched, strict=True)]
    # Eight outputs at a time, which is what a machine takes in one go.
    groups = -(-max(block.shape[1] for block, _ in blocks) // EIGHT)
    table = np.zeros((len(subnets), groups, max(len(block) for block, _ in blocks), EIGHT))
    push = np.zeros((len(subnets), max(len(line) for _, line in blocks), groups * EIGHT))
    first = np.zeros(4, dtype=np.int64)
    for k, (subnet, (block, line)) in enumerate(zip(subnets, blocks, strict=True)):
        counts = (len(subnet.ends), len(subnet.ports), len(subnet.sources), len(watched[k]))
        layout[k] = (
            subnet.store.shape[1], counts[0], counts[1], len(subnet.loss), counts[2], counts[3],
            block.shape[1], sum(isinstance(port, Gap) for port in subnet.ports), *first,
        )  # fmt: skip
        first += counts
        for at in range(0, block.shape[1], EIGHT):
            part = block[:, at : at + EIGHT]
            table[k, at // EIGHT, : len(part), : part.shape[1]] = part
        push[k, : len(line), : block.shape[1]] = line
    return Tables(
        step_s,
        layout,
        table,
        push,
        *_ends(subnets, step_s),
        *_ports(subnets),
        *_sources(subnets),
    )


def _block(subnet: Subnet, watched: list[Array], step_s: float) -> tuple[Array, Array]:
    """Return the table (a line for each input) and the push (a line for each port).

    The outputs are losses, states, open voltages, the sources' own rows, what is watched;
    then room for the ports' currents.
    """
    scale = (2 / step_s) ** 0.5
    columns = np.hstack([subnet.store * scale, subnet.wave])
    matrix = (subnet.store * scale**2) @ subnet.store.T - subnet.a
    inputs = np.hstack([columns, subnet.source, subnet.port])
    try:
        answers = np.linalg.solve(matrix, inputs)
    except np.linalg.LinAlgError:
        raise FieldError(
            "elements",
            f"a singular part around {subnet.nodes[0]}",
            "a path with resistance or capacitance to each node",
        ) from None
    own = [np.zeros((0, len(matrix)))] if not watched else [np.array(watched)]
    outputs = np.vstack([subnet.loss, columns.T, -subnet.port.T, subnet.source.T, *own])
    table = outputs @ answers
    count = columns.shape[1]
    inside = count + len(subnet.sources)
    table[: len(subnet.loss), count:inside] += subnet.loss_source
    table = np.vstack([table, np.zeros((len(subnet.ports), table.shape[1]))])
    return table[:, :inside].T, table[:, inside:].T


def lagrange(fraction: Array) -> Array:
    """Return the weights of four samples one apart, ``fraction`` past the second."""
    f = fraction
    return np.stack(
        [
            -f * (f - 1) * (f - 2) / 6,
            (f + 1) * (f - 1) * (f - 2) / 2,
            -(f + 1) * f * (f - 2) / 2,
            (f + 1) * f * (f - 1) / 6,
        ],
        axis=-1,
    )


def _ends(subnets: tuple[Subnet, ...], step_s: float) -> tuple[Ints, Ints, Array, Array]:
    ends = [end for subnet in subnets for end in subnet.ends]
    place = {(end.line, end.mode, end.far): at for at, end in enumerate(ends)}
    partner = np.array([place[end.line, end.mode, not end.far] for end in ends], dtype=np.int64)
    steps = np.array([end.delay_s / step_s for end in ends], dtype=np.float64)
    whole = np.floor(steps * (1 + 1e-12)).astype(np.int64)
    return partner, whole, lagrange(np.maximum(steps - whole, 0.0)).reshape(-1, 4), steps


def _ports(subnets: tuple[Subnet, ...]) -> tuple[Array, Array]:
    ports = [port for subnet in subnets for port in subnet.ports]
    curves: dict[VaristorCurve, int] = {}
    laws = np.zeros((len(ports), MATRIX + len(ports)))
    laws[:, ENOUGH] = LN_STEP_ENOUGH
    for at, port in enumerate(ports):
        if isinstance(port, Gap):
            laws[at, :CURVE] = (1.0, port.sparkover_v, port.arc_v, port.arc_ohm)
        else:
            laws[at, CURVE] = curves.setdefault(port.curve, len(curves))
    table = np.array([curve_table(item) for item in curves]).reshape(-1, CURVE_PIECES + 1, 2)
    return laws, table if curves else np.ones((1, 2, 2))


@lru_cache(maxsize=64)
def curve_table(curve: VaristorCurve) -> Array:
    """Return voltage and slope of a curve on an even grid of ln i, for cubic pieces."""
    grid = CURVE_LOW + CURVE_STEP * np.arange(CURVE_PIECES + 1, dtype=np.float64)
    volts, slopes = curve.each_at_ln(np.asarray(grid, dtype=np.float64))
    return np.stack([volts, slopes * CURVE_STEP], axis=-1)


def _sources(subnets: tuple[Subnet, ...]) -> tuple[Array, Array]:
    sources = [source for subnet in subnets for source in subnet.sources]
    # What a source gives: its value times (gain times its value + sign times its row).
    current = [isinstance(source, CurrentSource) for source in sources]
    gain = [0.0 if isinstance(s, CurrentSource) else 1 / s.r_ohm for s in sources]
    return np.array(gain), np.where(current, 1.0, -1.0)
