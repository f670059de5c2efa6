"""Where a network stands before the surge: charged capacitors, and the mains if it has any."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.curves import LINEAR_BELOW_A
from boardwright.surge.elements import Varistor
from boardwright.surge.subnets import Subnet
from boardwright.surge.waveforms import Array, SteadyVoltage


@dataclass(frozen=True, slots=True)
class Standing:
    """The start: what each store holds, the waves out of each line end, what is seen."""

    held: tuple[Array, ...]
    waves_out: Array
    waves_in: Array
    seen: Array


def standing(subnets: tuple[Subnet, ...], watched: list[list[Array]]) -> Standing:
    """Return the start of a run, with steady sources long settled."""
    ends = sum(len(subnet.ends) for subnet in subnets)
    held = [subnet.held.copy() for subnet in subnets]
    out, into = np.zeros(ends), np.zeros(ends)
    if not any(_levels(subnet).any() for subnet in subnets):
        seen = [_first_seen(net, rows) for net, rows in zip(subnets, watched, strict=True)]
        return Standing(tuple(held), out, into, np.concatenate([np.zeros(0), *seen]))
    x, current = _settled(subnets)
    first = at = 0
    seen = []
    for k, subnet in enumerate(subnets):
        own = x[first : first + len(subnet.a)]
        held[k] += subnet.store.T @ own
        q, i = subnet.wave.T @ own, current[at : at + len(subnet.ends)]
        out[at : at + len(subnet.ends)], into[at : at + len(subnet.ends)] = q + i, q - i
        seen.append(np.array([row @ own for row in watched[k]]) + _first_seen(subnet, watched[k]))
        first += len(subnet.a)
        at += len(subnet.ends)
    return Standing(tuple(held), out, into, np.concatenate([np.zeros(0), *seen]))


def _levels(subnet: Subnet) -> Array:
    return np.array(
        [
            source.wave.level_v if isinstance(source.wave, SteadyVoltage) else 0.0
            for source in subnet.sources
        ]
    )


def _first_seen(subnet: Subnet, rows: list[Array]) -> Array:
    """Return what is seen the moment after charged capacitors are let go."""
    if not rows or not subnet.held.any():
        return np.zeros(len(rows))
    # A step so short that nothing but the charge counts.
    scale = 2 / 1e-13
    matrix = (subnet.store * scale) @ subnet.store.T - subnet.a
    x = np.linalg.solve(matrix, (subnet.store * scale) @ subnet.held)
    return np.array([row @ x for row in rows])


def _settled(subnets: tuple[Subnet, ...]) -> tuple[Array, Array]:
    """Return x of all subnetworks and the currents into the line ends, nothing changing."""
    size = sum(len(subnet.a) for subnet in subnets)
    ends = [end for subnet in subnets for end in subnet.ends]
    matrix = np.zeros((size + len(ends), size + len(ends)))
    side = np.zeros(size + len(ends))
    place = {(end.line, end.mode, end.far): at for at, end in enumerate(ends)}
    first = at = 0
    for subnet in subnets:
        rows = slice(first, first + len(subnet.a))
        # A line that has settled joins its ends: it is no resistance to either.
        matrix[rows, rows] = subnet.a + subnet.wave @ subnet.wave.T - _leaks(subnet)
        side[rows] = -subnet.source @ _levels(subnet)
        for own, end in enumerate(subnet.ends):
            matrix[rows, size + at] = -subnet.wave[:, own]
            other = place[end.line, end.mode, not end.far]
            if end.far:
                matrix[size + at, [size + at, size + other]] = 1.0
                matrix[size + other, rows] -= subnet.wave[:, own]
            else:
                matrix[size + at, rows] += subnet.wave[:, own]
            at += 1
        first += len(subnet.a)
    try:
        found = np.linalg.solve(matrix, side)
    except np.linalg.LinAlgError:
        raise FieldError(
            "elements", "a loop without resistance", "a resistance in each loop of the mains"
        ) from None
    _refuse_conduction(subnets, found)
    return found[:size], found[size:]


def _leaks(subnet: Subnet) -> Array:
    """Return the conductances of varistors at rest."""
    total = np.zeros_like(subnet.a)
    for at, port in enumerate(subnet.ports):
        if isinstance(port, Varistor):
            column = subnet.port[:, at]
            total += np.outer(column, column) * (LINEAR_BELOW_A / _knee_v(port))
    return total


def _knee_v(port: Varistor) -> float:
    return port.curve.at_ln(float(np.log(LINEAR_BELOW_A)))[0]


def _refuse_conduction(subnets: tuple[Subnet, ...], found: Array) -> None:
    first = 0
    for subnet in subnets:
        own = found[first : first + len(subnet.a)]
        first += len(subnet.a)
        for at, port in enumerate(subnet.ports):
            volts = abs(float(subnet.port[:, at] @ own))
            limit_v = _knee_v(port) if isinstance(port, Varistor) else port.sparkover_v
            if volts > limit_v:
                raise FieldError(
                    f"{port.name}",
                    f"{volts:.0f} V before the surge",
                    f"at most {limit_v:.0f} V, which it holds without conducting",
                    remedy="Its rated voltage is too low for this supply.",
                )
