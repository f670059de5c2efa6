"""When the reduced kernel serves, and how its lanes are filled and read."""

from __future__ import annotations

import numpy as np

from boardwright.surge.curves import LINEAR_BELOW_A
from boardwright.surge.elements import Varistor
from boardwright.surge.prepare import Prepared
from boardwright.surge.tables import LOSSES, PORT, STORES, WAVES
from boardwright.surge.waveforms import Array

_LAW_PIECES = 8192
_SHARPENINGS = 4


def serves(ready: Prepared) -> bool:
    """Say whether a network's shape lets the reduced kernel step it."""
    return all(
        len(subnet.ports) <= 1 and all(isinstance(port, Varistor) for port in subnet.ports)
        for subnet in ready.subnets
    )


def most_v(ready: Prepared, drive: Array, most_ratio: float) -> float:
    """Return a voltage that few surges up to most_ratio times the network's own go beyond. [V]"""
    sources_v = float(np.abs(drive).sum(axis=1).max(initial=0.0))
    volts = [abs(item.charge_v) for item in ready.network.generators]
    return 4 * max(sum(volts) + sources_v, 1000.0) * most_ratio


def laws_of(ready: Prepared, top_v: float) -> tuple[Array, Array]:
    """Return each port's current as cubic pieces over open voltages up to top_v, and their width.

    A piece's four factors are those of 1, t, t² and t³, t its part passed. The last piece
    goes on for ever.
    """
    laws = np.zeros((len(ready.tables.laws), _LAW_PIECES + 1, 4))
    grid_v = np.linspace(0.0, top_v, _LAW_PIECES + 1)
    for k, subnet in enumerate(ready.subnets):
        for port in subnet.ports[:1]:
            assert isinstance(port, Varistor)  # noqa: S101  serves() has seen to it
            amps, slopes = _law(port, port_ohm(ready, k), grid_v)
            i0, i1, d0, d1 = amps[:-1], amps[1:], slopes[:-1], slopes[1:]
            pieces = [i0, d0, 3 * (i1 - i0) - 2 * d0 - d1, 2 * (i0 - i1) + d0 + d1]
            port_laws = laws[ready.tables.layout[k, PORT]]
            port_laws[:-1] = np.stack(pieces, axis=-1)
            # Beyond the top the resistance before the varistor decides: a straight line.
            port_laws[-1, :2] = i1[-1], d1[-1]
    return laws, np.full(len(laws), grid_v[1])


def port_ohm(ready: Prepared, k: int) -> float:
    """Return the resistance behind which the one port of subnetwork k stands. [ohm]"""
    layout = ready.tables.layout[k]
    return -float(ready.tables.push[k, 0, layout[LOSSES] + layout[STORES] + layout[WAVES]])


def _law(port: Varistor, ohm: float, grid_v: Array) -> tuple[Array, Array]:
    """Return current and its slope, a grid step its unit, behind a resistance.

    Open voltage against ln i is explicit, so the answer is looked up on a grid of that and
    then sharpened by Newton's rule.
    """
    knee_v = port.curve.at_ln(float(np.log(LINEAR_BELOW_A)))[0]
    straight = 1 / (ohm + knee_v / LINEAR_BELOW_A)
    top = np.log(max(grid_v[-1] / ohm, 2 * LINEAR_BELOW_A))
    ln_a = np.linspace(np.log(LINEAR_BELOW_A), top, len(grid_v))
    y = np.interp(grid_v, ohm * np.exp(ln_a) + port.curve.each_at_ln(ln_a)[0], ln_a)
    for _ in range(_SHARPENINGS):
        u_v, slope_v = port.curve.each_at_ln(y)
        drop_v = ohm * np.exp(y)
        y -= (drop_v + u_v - grid_v) / (drop_v + slope_v)
        y = np.clip(y, ln_a[0], top)
    amps = np.exp(y)
    slopes = 1 / (ohm + port.curve.each_at_ln(y)[1] / amps)
    below = grid_v <= knee_v + ohm * LINEAR_BELOW_A
    amps, slopes = np.where(below, grid_v * straight, amps), np.where(below, straight, slopes)
    return amps, slopes * grid_v[1]
