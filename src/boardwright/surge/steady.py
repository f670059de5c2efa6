"""Where a network stands before the surge: charged capacitors, and the mains if it has any."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.assemble import Port
from boardwright.surge.elements import Varistor
from boardwright.surge.operating_point import varistor_current_a
from boardwright.surge.subnets import Subnet
from boardwright.surge.waveforms import Array, SteadyVoltage

_LEAST_S = 1e-12
_STIFF_OHM = 1e-3
_ROUNDS = 3

# A varistor that takes more than this at the mains heats up until it fails.
_MOST_A = 20e-3


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
    """Return x of all subnetworks and the currents into the line ends, nothing changing.

    What a healthy varistor lets through at the mains moves no voltage by more than
    microvolts, so two rounds of taking it as a resistance are more than enough.
    """
    size = sum(len(subnet.a) for subnet in subnets)
    leaks = [np.full(len(subnet.ports), _LEAST_S) for subnet in subnets]
    for _ in range(_ROUNDS):
        found = _joined(subnets, leaks, size)
        leaks = _leaks(subnets, found)
    return found[:size], found[size:]


def _joined(subnets: tuple[Subnet, ...], leaks: list[Array], size: int) -> Array:
    ends = [end for subnet in subnets for end in subnet.ends]
    matrix = np.zeros((size + len(ends), size + len(ends)))
    side = np.zeros(size + len(ends))
    place = {(end.line, end.mode, end.far): at for at, end in enumerate(ends)}
    first = at = 0
    for subnet, leak in zip(subnets, leaks, strict=True):
        rows = slice(first, first + len(subnet.a))
        # A line that has settled joins its ends: it is no resistance to either.
        matrix[rows, rows] = (
            subnet.a + subnet.wave @ subnet.wave.T - (subnet.port * leak) @ subnet.port.T
        )
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
        return np.asarray(np.linalg.solve(matrix, side))
    except np.linalg.LinAlgError:
        raise FieldError(
            "elements", "a loop without resistance", "a resistance in each loop of the mains"
        ) from None


def _leaks(subnets: tuple[Subnet, ...], found: Array) -> list[Array]:
    """Return the conductance of each port at the voltage that was found. [S]"""
    first, leaks = 0, []
    for subnet in subnets:
        volts = np.abs(subnet.port.T @ found[first : first + len(subnet.a)])
        first += len(subnet.a)
        leaks.append(
            np.array([_leak_s(port, float(v)) for port, v in zip(subnet.ports, volts, strict=True)])
        )
    return leaks


def _leak_s(port: Port, volts: float) -> float:
    if isinstance(port, Varistor):
        amps = abs(varistor_current_a(port.curve, volts, _STIFF_OHM))
        most_a, least_s = _MOST_A, amps / volts if volts else _LEAST_S
    else:
        amps, most_a, least_s = volts, port.sparkover_v, 0.0
    if amps > most_a:
        raise FieldError(
            port.name,
            f"{volts:.0f} V before the surge",
            "a voltage that it holds without conducting",
            remedy="Its rated voltage is too low for this supply.",
        )
    return least_s
