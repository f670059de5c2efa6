"""Varistors and gaps in the compiled kernel: the currents of one subnetwork's ports.

One port: Newton's rule on ln i between one microampere and the short-circuit current;
a step that leaves the bracket halves it instead, so no operating point can fail.
Several: Newton's rule on all at once; if that should not settle, each in turn, which on
rising curves behind a passive network always does.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from boardwright.surge.curves import LINEAR_BELOW_A
from boardwright.surge.jit import compiled, inlined
from boardwright.surge.tables import (
    AMPS,
    ARC_OHM,
    ARC_V,
    BURNING,
    CURVE,
    CURVE_LOW,
    CURVE_PIECES,
    CURVE_STEP,
    ENOUGH,
    IS_GAP,
    MATRIX,
    OLD,
    SIDE,
    STEP,
    STRETCH,
)
from boardwright.surge.waveforms import Array

VOLT_ENOUGH = 1e-7
SCALAR_ROUNDS = 200
VECTOR_ROUNDS = 200
SWEEPS = 2000
HALVINGS = 60
PAIR_ROUNDS = 8
PAIR_STEP_MOST = 0.5
SMALL = 1e-3
LN_STEP_MOST = 3.0
KNEE_A = 1.0

Behind = tuple[float, float]
"""An open voltage and the resistance it stands behind. [V, ohm]"""


class Span(NamedTuple):
    """Where one subnetwork's ports and open voltages stand, and how many."""

    k: int
    ports: int
    port: int
    open: int


@inlined
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
    curve_u: Array, curve: int, thevenin: Behind, guess_a: float, enough_ratio: float
) -> float:
    """Return the current of a varistor behind an open voltage and a resistance. [A]

    A last step of ``enough_ratio`` in ln i leaves about its square.
    """
    thevenin_v, thevenin_ohm = thevenin
    size_v, guess = abs(thevenin_v), abs(guess_a)
    knee_v = curve_u[curve, 0, 0]
    if size_v <= knee_v + thevenin_ohm * LINEAR_BELOW_A:
        straight_a: float = thevenin_v / (thevenin_ohm + knee_v / LINEAR_BELOW_A)
        return straight_a
    if guess > LINEAR_BELOW_A:
        # From one step of time to the next one round nearly always does.
        u_v, slope_v = curve_at(curve_u, curve, math.log(guess))
        step = (thevenin_ohm * guess + u_v - size_v) / (thevenin_ohm * guess + slope_v)
        if abs(step) < enough_ratio:
            return math.copysign(guess * (1.0 - step * (1.0 - step / 2)), thevenin_v)
    return _bracketed_a(curve_u, curve, thevenin, guess, enough_ratio)


@compiled
def _bracketed_a(
    curve_u: Array, curve: int, thevenin: Behind, guess: float, enough_ratio: float
) -> float:
    thevenin_v, thevenin_ohm = thevenin
    size_v, low = abs(thevenin_v), CURVE_LOW
    high = max(low, math.log(size_v / thevenin_ohm))
    y = math.log(guess) if guess > LINEAR_BELOW_A else high
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
        if abs(step) < enough_ratio:
            break
        if not low < y < high:
            y = (low + high) / 2
            if high - low < 1e-14 * max(1.0, abs(high)):
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
def port_a(laws: Array, port: int, curve_u: Array, thevenin: Behind, guess_a: float) -> float:
    """Return the current of one port, a burning gap included. [A]"""
    open_v, ohm = thevenin
    if laws[port, IS_GAP] > 0:
        return arc_a(open_v, ohm, laws[port, ARC_V], laws[port, ARC_OHM])
    return varistor_a(curve_u, int(laws[port, CURVE]), (open_v, ohm), guess_a, laws[port, ENOUGH])


@inlined
def port_law(laws: Array, port: int, curve_u: Array, i_a: float) -> tuple[float, float]:
    """Return a port's voltage and its slope against the current. [V, ohm]"""
    size_a = abs(i_a)
    if laws[port, IS_GAP] > 0:
        arc_v, arc_ohm = laws[port, ARC_V], laws[port, ARC_OHM]
        over = size_a + KNEE_A
        return i_a * (arc_v / over + arc_ohm), arc_v * KNEE_A / (over * over) + arc_ohm
    curve = int(laws[port, CURVE])
    if size_a <= LINEAR_BELOW_A:
        ohm = curve_u[curve, 0, 0] / LINEAR_BELOW_A
        return ohm * i_a, ohm
    u_v, slope_v = curve_at(curve_u, curve, math.log(size_a))
    return math.copysign(u_v, i_a), slope_v / size_a


@inlined
def port_currents(laws: Array, curve_u: Array, ohms: Array, opens: Array, at: Span) -> None:
    """Find the currents of one subnetwork's ports.

    Parameters
    ----------
    laws, curve_u
        What each port is, its current so far and whether it burns; the curves' tables.
        A gap that does not burn carries nothing.
    ohms, opens
        Resistances between the ports, negative, and their open voltages.
    at
        Where this subnetwork's figures stand.
    """
    only, other, active = -1, -1, 0
    for a in range(at.ports):
        if silent(laws, at.port + a):
            laws[at.port + a, AMPS] = 0.0
        else:
            only, other, active = a, only, active + 1
    if active == 2 and two_ports(laws, curve_u, ohms, opens, at, (other, only)):  # noqa: PLR2004
        return
    if active == 1:
        port = at.port + only
        thevenin = (opens[at.k, at.open + only], -ohms[at.k, only, at.open + only])
        laws[port, AMPS] = port_a(laws, port, curve_u, thevenin, laws[port, AMPS])
    elif active > 1 and not _together(laws, curve_u, ohms, opens, at):
        _in_turn(laws, curve_u, ohms, opens, at)


@inlined
def two_ports(  # noqa: PLR0917 - compiled code takes its arrays by place
    laws: Array, curve_u: Array, ohms: Array, opens: Array, at: Span, which: tuple[int, int]
) -> bool:
    """Newton's rule on two currents, from close by; say if it settled.

    From one step of time to the next it nearly always does in one round; what does not is
    left as it was, for the rule that cannot fail.
    """
    a, b = which
    p, q = at.port + a, at.port + b
    open_a, open_b = opens[at.k, at.open + a], opens[at.k, at.open + b]
    own_a, own_b = -ohms[at.k, a, at.open + a], -ohms[at.k, b, at.open + b]
    a_by_b, b_by_a = -ohms[at.k, b, at.open + a], -ohms[at.k, a, at.open + b]
    i_a, i_b, floor_a, floor_b = laws[p, AMPS], laws[q, AMPS], _floor_a(laws, p), _floor_a(laws, q)
    for _ in range(PAIR_ROUNDS):
        u_a, slope_a = port_law(laws, p, curve_u, i_a)
        u_b, slope_b = port_law(laws, q, curve_u, i_b)
        left_a = open_a - own_a * i_a - a_by_b * i_b - u_a
        left_b = open_b - own_b * i_b - b_by_a * i_a - u_b
        d_a, d_b = own_a + slope_a, own_b + slope_b
        inverse = 1 / (d_a * d_b - a_by_b * b_by_a)
        wide_a = math.sqrt(i_a * i_a + floor_a * floor_a)
        wide_b = math.sqrt(i_b * i_b + floor_b * floor_b)
        step_a = (left_a * d_b - left_b * a_by_b) * inverse / wide_a
        step_b = (left_b * d_a - left_a * b_by_a) * inverse / wide_b
        most = max(abs(step_a), abs(step_b))
        if not most < PAIR_STEP_MOST:
            return False
        # On asinh of each current, to third order.
        i_a = i_a * (1 + step_a * step_a / 2) + wide_a * step_a * (1 + step_a * step_a / 6)
        i_b = i_b * (1 + step_b * step_b / 2) + wide_b * step_b * (1 + step_b * step_b / 6)
        if most < laws[p, ENOUGH]:
            laws[p, AMPS], laws[q, AMPS] = i_a, i_b
            return True
    return False


@inlined
def silent(laws: Array, port: int) -> bool:
    """Say whether a port is a gap that has not sparked over."""
    still: bool = laws[port, IS_GAP] > 0 and laws[port, BURNING] == 0
    return still


@compiled
def _together(laws: Array, curve_u: Array, ohms: Array, opens: Array, at: Span) -> bool:
    """Newton's rule on all ports at once, on asinh of each current; say if it settled.

    A step that does not bring the voltages nearer is halved until it does: its
    direction always leads down.
    """
    left = _left(laws, curve_u, ohms, opens, at)
    for _ in range(VECTOR_ROUNDS):
        _eliminate(laws, at.port, at.ports)
        most = _note_steps(laws, at.port, at.ports)
        if not math.isfinite(most):
            return False
        # Cut as a whole: cut one by one, the steps would lead elsewhere.
        part = 1.0 if most <= LN_STEP_MOST else LN_STEP_MOST / most
        for _halving in range(HALVINGS):
            _move(laws, at.port, at.ports, part)
            if most < laws[at.port, ENOUGH]:
                return True
            before, left = left, _left(laws, curve_u, ohms, opens, at)
            if left < before:
                break
            left, part = before, part / 2
    return False


@compiled
def _left(laws: Array, curve_u: Array, ohms: Array, opens: Array, at: Span) -> float:
    """Set up the rule's linear system; return the squares of the voltages left over."""
    count, first, total = at.ports, at.port, 0.0
    for port in range(first, first + count):
        # How fast a current moves with its asinh.
        amps, floor_a = laws[port, AMPS], _floor_a(laws, port)
        laws[port, STRETCH] = math.sqrt(amps * amps + floor_a * floor_a)
    for a in range(count):
        port = first + a
        if silent(laws, port):
            laws[port, SIDE] = 0.0
            for b in range(count):
                laws[port, MATRIX + b] = 1.0 if a == b else 0.0
            continue
        u_v, slope_ohm = port_law(laws, port, curve_u, laws[port, AMPS])
        left_v = opens[at.k, at.open + a] - u_v
        for b in range(count):
            ohm = -ohms[at.k, b, at.open + a]
            left_v -= ohm * laws[first + b, AMPS]
            more = slope_ohm if a == b else 0.0
            laws[port, MATRIX + b] = (ohm + more) * laws[first + b, STRETCH]
        laws[port, SIDE] = left_v
        total += left_v * left_v
    return total


@inlined
def _floor_a(laws: Array, port: int) -> float:
    """Return the current below which a port's law is nearly straight. [A]"""
    return KNEE_A if laws[port, IS_GAP] > 0 else LINEAR_BELOW_A


@compiled
def _note_steps(laws: Array, first: int, count: int) -> float:
    """Keep the currents and the steps from them; return the largest step."""
    most = 0.0
    for port in range(first, first + count):
        laws[port, OLD], laws[port, STEP] = laws[port, AMPS], laws[port, SIDE]
        if not math.isfinite(laws[port, SIDE]):
            return math.inf
        most = max(most, abs(laws[port, SIDE]))
    return most


@compiled
def _move(laws: Array, first: int, count: int, part: float) -> None:
    """Move each current by a part of its step."""
    # Not ``STRETCH``: a step that is halved has set that anew.
    for port in range(first, first + count):
        step = part * laws[port, STEP]
        if abs(step) < SMALL:
            # Sum of angles, to third order: exact enough, and without three functions.
            floor_a = _floor_a(laws, port)
            stretch = math.sqrt(laws[port, OLD] ** 2 + floor_a * floor_a)
            laws[port, AMPS] = laws[port, OLD] * (1 + step * step / 2) + stretch * step
        else:
            floor_a = _floor_a(laws, port)
            laws[port, AMPS] = floor_a * math.sinh(math.asinh(laws[port, OLD] / floor_a) + step)


@compiled
def _eliminate(laws: Array, first: int, count: int) -> None:
    """Solve a small linear system in place; its diagonal is the largest by its nature."""
    last = first + count
    for a in range(first, last):
        for b in range(a + 1, last):
            ratio = laws[b, MATRIX + a - first] / laws[a, MATRIX + a - first]
            for c in range(a - first + 1, count):
                laws[b, MATRIX + c] -= ratio * laws[a, MATRIX + c]
            laws[b, SIDE] -= ratio * laws[a, SIDE]
    for back in range(count):
        a = count - 1 - back
        for c in range(a + 1, count):
            laws[first + a, SIDE] -= laws[first + a, MATRIX + c] * laws[first + c, SIDE]
        laws[first + a, SIDE] /= laws[first + a, MATRIX + a]


@compiled
def _in_turn(laws: Array, curve_u: Array, ohms: Array, opens: Array, at: Span) -> None:
    """Solve each port with the others as they stand, until none moves."""
    for _ in range(SWEEPS):
        moved_v = 0.0
        for a in range(at.ports):
            port = at.port + a
            if silent(laws, port):
                continue
            open_v = opens[at.k, at.open + a]
            for b in range(at.ports):
                if b != a:
                    open_v += ohms[at.k, b, at.open + a] * laws[at.port + b, AMPS]
            own = -ohms[at.k, a, at.open + a]
            new = port_a(laws, port, curve_u, (open_v, own), laws[port, AMPS])
            moved_v = max(moved_v, abs(new - laws[port, AMPS]) * own)
            laws[port, AMPS] = new
        if moved_v < VOLT_ENOUGH:
            return
