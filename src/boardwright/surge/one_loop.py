"""When the reduced kernel serves, and how its lanes are filled and read."""

from __future__ import annotations

import numpy as np

from boardwright.surge.curves import LINEAR_BELOW_A
from boardwright.surge.elements import Varistor
from boardwright.surge.prepare import Prepared
from boardwright.surge.tables import LOSSES, STORES, WAVES
from boardwright.surge.waveforms import Array

_LAW_PIECES = 8192


def serves(ready: Prepared) -> bool:
    """Say whether a network's shape lets the reduced kernel step it."""
    return all(
        len(subnet.ports) <= 1 and all(isinstance(port, Varistor) for port in subnet.ports)
        for subnet in ready.subnets
    )


def laws_of(ready: Prepared, most_v: float) -> tuple[Array, Array]:
    """Return each port's current and slope on an even grid of open voltages up to most_v."""
    laws, steps = [], []
    for k, subnet in enumerate(ready.subnets):
        if not subnet.ports:
            continue
        layout = ready.tables.layout[k]
        row = layout[LOSSES] + layout[STORES] + layout[WAVES]
        ohm = -float(ready.tables.push[k, 0, row])
        port = subnet.ports[0]
        assert isinstance(port, Varistor)  # noqa: S101  serves() has seen to it
        grid_v = np.linspace(0.0, most_v, _LAW_PIECES + 1)
        laws.append(_law(port, ohm, grid_v))
        steps.append(grid_v[1])
    table = np.array(laws).reshape(-1, _LAW_PIECES + 1, 2)
    return table, np.array(steps)


def _law(port: Varistor, ohm: float, grid_v: Array) -> Array:
    """Return current and slope behind a resistance, by Newton's rule from above.

    Against ln i the open voltage rises ever more steeply, so from a point beyond the
    answer the rule comes down to it without ever passing it.
    """
    knee_v = port.curve.at_ln(float(np.log(LINEAR_BELOW_A)))[0]
    straight = 1 / (ohm + knee_v / LINEAR_BELOW_A)
    low = np.full_like(grid_v, np.log(LINEAR_BELOW_A))
    high = np.log(np.maximum(grid_v / ohm, 2 * LINEAR_BELOW_A))
    y = high.copy()
    for _ in range(100):
        u_v, slope_v = port.curve.each_at_ln(y)
        drop_v = ohm * np.exp(y)
        excess_v = drop_v + u_v - grid_v
        high, low = np.where(excess_v > 0, y, high), np.where(excess_v > 0, low, y)
        new = y - excess_v / (drop_v + slope_v)
        y = np.where((new > low) & (new < high), new, (low + high) / 2)
    amps = np.exp(y)
    slopes = 1 / (ohm + port.curve.each_at_ln(y)[1] / amps)
    below = grid_v <= knee_v + ohm * LINEAR_BELOW_A
    amps, slopes = np.where(below, grid_v * straight, amps), np.where(below, straight, slopes)
    return np.stack([amps, slopes * grid_v[1]], axis=-1)
