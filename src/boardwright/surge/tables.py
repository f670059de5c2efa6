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

# Rows of the layout table, one column for each subnetwork.
STATE, STORES, WAVES, PORTS, LOSSES, SOURCES, WATCHED, ROWS, COLUMNS = range(9)
TABLE, PUSH, OUTPUT, END, PORT, SOURCE, WATCH = range(9, 16)

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
    gap: Ints
    port_v: Array
    curve: Ints
    curve_u: Array
    source_gain: Array
    source_sign: Array


def tables_of(subnets: tuple[Subnet, ...], watched: list[list[Array]], step_s: float) -> Tables:
    """Return the tables of all subnetworks for a step. ``watched`` holds rows for each. [s]"""
    layout = np.zeros((16, len(subnets)), dtype=np.int64)
    blocks, pushes = [], []
    at = dict.fromkeys(("state", "table", "push", "output", "end", "port", "source", "watch"), 0)
    for k, (subnet, rows) in enumerate(zip(subnets, watched, strict=True)):
        block, push = _block(subnet, rows, step_s)
        sizes = (subnet.store.shape[1], len(subnet.ends), len(subnet.ports), len(subnet.loss))
        layout[:, k] = (
            at["state"], *sizes, len(subnet.sources), len(rows), block.shape[1], block.shape[0],
            at["table"], at["push"], at["output"], at["end"], at["port"], at["source"], at["watch"],
        )  # fmt: skip
        blocks.append(block.ravel())
        pushes.append(push.ravel())
        at["state"] += sizes[0] + sizes[1]
        at["table"] += block.size
        at["push"] += push.size
        at["output"] += block.shape[1]
        at["end"] += sizes[1]
        at["port"] += sizes[2]
        at["source"] += len(subnet.sources)
        at["watch"] += len(rows)
    return Tables(
        step_s,
        layout,
        np.concatenate(blocks),
        np.concatenate(pushes),
        *_ends(subnets, step_s),
        *_ports(subnets),
        *_sources(subnets),
    )


def _block(subnet: Subnet, watched: list[Array], step_s: float) -> tuple[Array, Array]:
    """Return the table (a line for each input) and the push (a line for each port)."""
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
    outputs = np.vstack([columns.T, -subnet.port.T, subnet.loss, subnet.source.T, *own])
    table = outputs @ answers
    count = columns.shape[1]
    below = count + len(subnet.ports)
    losses = slice(below, below + len(subnet.loss))
    table[losses, count : count + len(subnet.sources)] += subnet.loss_source
    inside = count + len(subnet.sources)
    return _padded(table[:, :inside].T), _padded(table[:, inside:].T)


def _padded(table: Array) -> Array:
    """Return the table with rows in whole vectors of eight, which machines like."""
    more = -table.shape[1] % 8
    return np.ascontiguousarray(np.pad(table, ((0, 0), (0, more))))


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


def _ports(subnets: tuple[Subnet, ...]) -> tuple[Ints, Array, Ints, Array]:
    ports = [port for subnet in subnets for port in subnet.ports]
    curves: dict[VaristorCurve, int] = {}
    gap, figures, curve = [], [], []
    for port in ports:
        gap.append(isinstance(port, Gap))
        if isinstance(port, Gap):
            figures.append((port.sparkover_v, port.arc_v, port.arc_ohm))
            curve.append(0)
        else:
            figures.append((0.0, 0.0, 0.0))
            curve.append(curves.setdefault(port.curve, len(curves)))
    table = np.array([curve_table(item) for item in curves]).reshape(-1, CURVE_PIECES + 1, 2)
    return (
        np.array(gap, dtype=np.int64),
        np.array(figures).reshape(-1, 3),
        np.array(curve, dtype=np.int64),
        table if len(table) else np.ones((1, 2, 2)),
    )


@lru_cache(maxsize=64)
def curve_table(curve: VaristorCurve) -> Array:
    """Return voltage and slope of a curve on an even grid of ln i, for cubic pieces."""
    volts, slopes = curve.each_at_ln(CURVE_LOW + CURVE_STEP * np.arange(CURVE_PIECES + 1))
    return np.stack([volts, slopes * CURVE_STEP], axis=-1)


def _sources(subnets: tuple[Subnet, ...]) -> tuple[Array, Array]:
    sources = [source for subnet in subnets for source in subnet.sources]
    # What a source gives: its value times (gain times its value + sign times its row).
    current = [isinstance(source, CurrentSource) for source in sources]
    gain = [0.0 if isinstance(s, CurrentSource) else 1 / s.r_ohm for s in sources]
    return np.array(gain), np.where(current, 1.0, -1.0)
