"""Varistors and gaps in the compiled kernel: the currents of one subnetwork's ports.

One port: Newton's rule on ln i between one microampere and the short-circuit current;
a step that leaves the bracket halves it instead, so no operating point can fail.
Several: Newton's rule on all at once; if that should not settle, each in turn, which on
rising curves behind a passive network always does.
"""

from __future__ import annotations

import math

import numpy as np

from boardwright.surge.curves import LINEAR_BELOW_A
from boardwright.surge.jit import compiled
from boardwright.surge.tables import CURVE_LOW, CURVE_PIECES, CURVE_STEP, PORT, PORTS, ROWS, Tables
from boardwright.surge.waveforms import Array

LN_STEP_ENOUGH = 1e-7
VOLT_ENOUGH = 1e-7
SCALAR_ROUNDS = 200
VECTOR_ROUNDS = 40
SWEEPS = 2000
KNEE_A = 1.0


@compiled
def curve_at(curve_u: Array, curve: int, ln_a: float) -> tuple[float, float]:
    """Return voltage and slope against ln i of a curve's table."""
    place = (ln_a - CURVE_LOW) / CURVE_STEP
    piece = int(place)
    if piece >= CURVE_PIECES:
        u, slope = curve_u[curve, CURVE_PIECES, 0], curve_u[curve, CURVE_PIECES, 1]
        return u + slope * (place - CURVE_PIECES), slope / CURVE_STEP
    t = place - piece
    u0, d0 = curve_u[curve, piece, 0], curve_u[curve, piece, 1]
    u1, d1 = curve_u[curve, piece + 1, 0], curve_u[curve, piece + 1, 1]
    c2, c3 = 3 * (u1 - u0) - 2 * d0 - d1, 2 * (u0 - u1) + d0 + d1
    return u0 + t * (d0 + t * (c2 + t * c3)), (d0 + t * (2 * c2 + 3 * t * c3)) / CURVE_STEP


@compiled
def varistor_a(
    curve_u: Array, curve: int, thevenin_v: float, thevenin_ohm: float, guess_a: float
) -> float:
    """Return the current of a varistor behind an open voltage and a resistance. [A]"""
    size_v = abs(thevenin_v)
    knee_v = curve_u[curve, 0, 0]
    if size_v <= knee_v + thevenin_ohm * LINEAR_BELOW_A:
        return thevenin_v / (thevenin_ohm + knee_v / LINEAR_BELOW_A)
    low = CURVE_LOW
    high = max(low, math.log(size_v / thevenin_ohm))
    y = math.log(abs(guess_a)) if abs(guess_a) > LINEAR_BELOW_A else high
    y = min(max(y, low), high)
    for _ in range(SCALAR_ROUNDS):
        u_v, slope_v = curve_at(curve_u, curve, y)
        drop_v = thevenin_ohm * math.exp(y)
        excess_v = drop_v + u_v - size_v
        step = excess_v / (drop_v + slope_v)
        if excess_v > 0:
            high = y
        else:
            low = y
        y -= step
        if abs(step) < LN_STEP_ENOUGH:
            break
        if not low < y < high:
            y = (low + high) / 2
            if high - low < 1e-14 * max(1.0, abs(high)):  # noqa: PLR2004  rounding
                break
    return math.copysign(math.exp(y), thevenin_v)


@compiled
def arc_a(thevenin_v: float, thevenin_ohm: float, arc_v: float, arc_ohm: float) -> float:
    """Return the current of a burning gap; the arc law of operating_point.py. [A]"""
    size_v, r_ohm = abs(thevenin_v), thevenin_ohm + arc_ohm
    half = (r_ohm * KNEE_A + arc_v - size_v) / 2
    root = math.sqrt(half * half + r_ohm * size_v * KNEE_A)
    size_a = size_v * KNEE_A / (half + root) if half > 0 else (root - half) / r_ohm
    return math.copysign(size_a, thevenin_v)


@compiled
def port_a(net: Tables, port: int, open_v: float, ohm: float, guess_a: float) -> float:
    """Return the current of one port, a burning gap included. [A]"""
    if net.gap[port]:
        return arc_a(open_v, ohm, net.port_v[port, 1], net.port_v[port, 2])
    return varistor_a(net.curve_u, net.curve[port], open_v, ohm, guess_a)


@compiled
def port_law(net: Tables, port: int, i_a: float) -> tuple[float, float]:
    """Return a port's voltage and its slope against the current. [V, ohm]"""
    size_a = abs(i_a)
    if net.gap[port]:
        arc_v, arc_ohm = net.port_v[port, 1], net.port_v[port, 2]
        over = size_a + KNEE_A
        return i_a * (arc_v / over + arc_ohm), arc_v * KNEE_A / (over * over) + arc_ohm
    if size_a <= LINEAR_BELOW_A:
        ohm = net.curve_u[net.curve[port], 0, 0] / LINEAR_BELOW_A
        return ohm * i_a, ohm
    u_v, slope_v = curve_at(net.curve_u, net.curve[port], math.log(size_a))
    return math.copysign(u_v, i_a), slope_v / size_a


@compiled
def port_currents(
    net: Tables, k: int, y: Array, at_push: int, currents: Array, burning: Array
) -> None:
    """Find the currents of subnetwork k's ports, whose open voltages stand in y.

    Parameters
    ----------
    net, k
        The tables, and which subnetwork.
    y
        Its outputs; the ports' open voltages follow its states.
    at_push
        Where the ports' own resistances stand in the table of pushes.
    currents
        Of all ports; those of this subnetwork are the guess and become the answer.
    burning
        Which gaps burn; a gap that does not carries nothing.
    """
    count, first, rows = net.layout[PORTS, k], net.layout[PORT, k], net.layout[ROWS, k]
    only = -1
    active = 0
    for at in range(count):
        if net.gap[first + at] and not burning[first + at]:
            currents[first + at] = 0.0
        else:
            only = at
            active += 1
    if active == 1:
        ohm = -net.push[at_push + only * rows + only]
        port = first + only
        currents[port] = port_a(net, port, y[only], ohm, currents[port])
    elif active > 1 and not _together(net, k, y, at_push, currents, burning):
        _in_turn(net, k, y, at_push, currents, burning)


@compiled
def _together(
    net: Tables, k: int, y: Array, at_push: int, currents: Array, burning: Array
) -> bool:
    """Newton's rule on all ports at once, on asinh of each current; say if it settled."""
    count, first, rows = net.layout[PORTS, k], net.layout[PORT, k], net.layout[ROWS, k]
    matrix, side = np.zeros((count, count)), np.zeros(count)
    for _ in range(VECTOR_ROUNDS):
        for a in range(count):
            port = first + a
            if net.gap[port] and not burning[port]:
                side[a] = 0.0
                for b in range(count):
                    matrix[a, b] = 1.0 if a == b else 0.0
                continue
            u_v, slope_ohm = port_law(net, port, currents[port])
            left_v = y[a] - u_v
            for b in range(count):
                ohm = -net.push[at_push + b * rows + a]
                left_v -= ohm * currents[first + b]
                more = slope_ohm if a == b else 0.0
                matrix[a, b] = (ohm + more) * _stretch(net, first + b, currents)
            side[a] = left_v
        _eliminate(matrix, side)
        if _moved(net, first, side, currents) < LN_STEP_ENOUGH:
            return True
    return False


@compiled
def _stretch(net: Tables, port: int, currents: Array) -> float:
    floor_a = KNEE_A if net.gap[port] else LINEAR_BELOW_A
    return math.sqrt(currents[port] * currents[port] + floor_a * floor_a)


@compiled
def _moved(net: Tables, first: int, steps: Array, currents: Array) -> float:
    """Move each current by a step of its asinh, three at most; return the largest."""
    most = 0.0
    for a in range(len(steps)):
        floor_a = KNEE_A if net.gap[first + a] else LINEAR_BELOW_A
        step = steps[a]
        if not math.isfinite(step):
            return math.inf
        most = max(most, abs(step))
        if step != 0.0:
            y = math.asinh(currents[first + a] / floor_a) + min(max(step, -3.0), 3.0)
            currents[first + a] = floor_a * math.sinh(y)
    return most


@compiled
def _eliminate(matrix: Array, side: Array) -> None:
    """Solve a small linear system in place; its diagonal is the largest by its nature."""
    count = len(side)
    for a in range(count):
        for b in range(a + 1, count):
            ratio = matrix[b, a] / matrix[a, a]
            for c in range(a + 1, count):
                matrix[b, c] -= ratio * matrix[a, c]
            side[b] -= ratio * side[a]
    for back in range(count):
        a = count - 1 - back
        for c in range(a + 1, count):
            side[a] -= matrix[a, c] * side[c]
        side[a] /= matrix[a, a]


@compiled
def _in_turn(
    net: Tables, k: int, y: Array, at_push: int, currents: Array, burning: Array
) -> None:
    count, first, rows = net.layout[PORTS, k], net.layout[PORT, k], net.layout[ROWS, k]
    for _ in range(SWEEPS):
        moved_v = 0.0
        for a in range(count):
            port = first + a
            if net.gap[port] and not burning[port]:
                continue
            open_v = y[a]
            for b in range(count):
                if b != a:
                    open_v += net.push[at_push + b * rows + a] * currents[first + b]
            own = -net.push[at_push + a * rows + a]
            new = port_a(net, port, open_v, own, currents[port])
            moved_v = max(moved_v, abs(new - currents[port]) * own)
            currents[port] = new
        if moved_v < VOLT_ENOUGH:
            return
