"""Where a varistor or a gap meets the network that feeds it."""

from __future__ import annotations

import math

from boardwright.surge.curves import LINEAR_BELOW_A, VaristorCurve

_LN_LINEAR = math.log(LINEAR_BELOW_A)
_ROUNDS = 200


def varistor_current_a(
    curve: VaristorCurve, thevenin_v: float, thevenin_ohm: float, guess_a: float = 0.0
) -> float:
    """Return the current of a varistor behind an open voltage and a resistance. [A]

    The current runs over sixteen decades, so Newton's rule works on its logarithm;
    on the current itself it crawls or leaves. The root lies between one
    microampere and the short-circuit current, and a step outside that bracket is
    replaced by halving it, so no operating point can fail.
    """
    size_v = abs(thevenin_v)
    knee_v = curve.at_ln(_LN_LINEAR)[0]
    if size_v <= knee_v + thevenin_ohm * LINEAR_BELOW_A:
        return thevenin_v / (thevenin_ohm + knee_v / LINEAR_BELOW_A)
    low = _LN_LINEAR
    high = max(low, math.log(size_v) - math.log(thevenin_ohm))
    y = math.log(abs(guess_a)) if abs(guess_a) > LINEAR_BELOW_A else high
    y = min(max(y, low), high)
    for _ in range(_ROUNDS):
        u_v, slope_v = curve.at_ln(y)
        drop_v = thevenin_ohm * math.exp(y)
        excess_v = drop_v + u_v - size_v
        # With stiff sources the drop is a small difference of large voltages, so
        # the test is on the step in ln i, which is the relative error of i.
        step = excess_v / (drop_v + slope_v)
        if excess_v > 0:
            high = y
        else:
            low = y
        y -= step
        if abs(step) < 1e-10:  # noqa: PLR2004  relative error of the current
            break
        if not low < y < high:
            y = (low + high) / 2
            if high - low < 1e-13:  # noqa: PLR2004  rounding
                break
    return math.copysign(math.exp(y), thevenin_v)


def arc_current_a(thevenin_v: float, thevenin_ohm: float, *, arc_v: float, arc_ohm: float) -> float:
    """Return the current of a burning gap behind an open voltage and a resistance. [A]

    The arc holds u = arc_v · i / (|i| + 1 A) + arc_ohm · i: nearly constant once
    it burns, and smooth through zero. The meeting point is a quadratic's root.
    """
    size_v, r_ohm, knee_a = abs(thevenin_v), thevenin_ohm + arc_ohm, 1.0
    # r i² + (r k + arc - u) i - u k = 0, in the form that does not cancel.
    half = (r_ohm * knee_a + arc_v - size_v) / 2
    root = math.sqrt(half * half + r_ohm * size_v * knee_a)
    size_a = size_v * knee_a / (half + root) if half > 0 else (root - half) / r_ohm
    return math.copysign(size_a, thevenin_v)
