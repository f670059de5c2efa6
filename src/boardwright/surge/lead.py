"""What the connecting leads of an SPD add to its protection level.

The figures of the simple rule (1 µH and about 1 kV for each metre, 0.5 m, 1 m)
belong to an edition or to guidance and come in as arguments.
"""

from __future__ import annotations

import math

from boardwright.core.errors import FieldError

MU0_H_PER_M = 4e-7 * math.pi


def effective_up_v(up_v: float, leads_m: float, drop_v_per_m: float) -> float:
    """Return Up,eff of a voltage-limiting SPD: Up and the drop along its leads. [V]

    References
    ----------
    IEC 62305-4 (from memory).

    Examples
    --------
    >>> effective_up_v(1500, leads_m=1.3, drop_v_per_m=1000)
    2800.0
    """
    return up_v + leads_m * drop_v_per_m


def level_with_leads_v(
    up_earth_v: float,
    up_neutral_v: float,
    *,
    line_m: float,
    neutral_m: float,
    pe_m: float,
    drop_v_per_m: float,
) -> float:
    """Return the worse of the levels to earth and between line and neutral, leads included. [V]

    To earth counts the longer of line and neutral lead and the earth lead; between line and
    neutral both of theirs (BS 7671, 534.4.8; from memory).
    """
    to_earth_v = effective_up_v(up_earth_v, max(line_m, neutral_m) + pe_m, drop_v_per_m)
    to_neutral_v = effective_up_v(up_neutral_v, line_m + neutral_m, drop_v_per_m)
    return max(to_earth_v, to_neutral_v)


def effective_up_switching_v(up_v: float, leads_m: float, drop_v_per_m: float) -> float:
    """Return Up,eff of a voltage-switching SPD: the larger of Up and the drop. [V]

    A gap has fired before the current rises, so the two do not fall together
    (IEC 62305-4, from memory).
    """
    return max(up_v, leads_m * drop_v_per_m)


def inductive_drop_v(l_h: float, slope_a_per_s: float) -> float:
    """Return the voltage along an inductance while its current rises. [V]"""
    return l_h * slope_a_per_s


def steepest_8x20_a_per_s(peak_a: float) -> float:
    """Return the steepest rise of an 8/20 current of the t³ form. [A/s]

    The slope of (x/3)³·exp(3-x) is largest at x = 3 - √3, well before the crest,
    where it is half as steep again as crest over front.
    """
    x = 3 - math.sqrt(3)
    return peak_a / 3.911e-6 * (x / 3) ** 2 * (1 - x / 3) * math.exp(3 - x)


def radius_m(csa_mm2: float) -> float:
    """Return the radius of a round conductor of an area. [m]"""
    return math.sqrt(csa_mm2 / math.pi) * 1e-3


def straight_wire_h(length_m: float, csa_mm2: float) -> float:
    """Return the self-inductance of a straight wire, current on its surface. [H]

    µ0·l/2π·(ln(2l/r) - 1). A surge runs on the skin; spread over the section, as
    direct current is, the wire would have 5 % more.

    References
    ----------
    Bulletin of the Bureau of Standards, vol. 4 (1908), eq. 11.

    Examples
    --------
    >>> round(straight_wire_h(0.5, csa_mm2=6) * 1e6, 4)
    0.5584
    """
    r_m = radius_m(csa_mm2)
    if not length_m > 5 * r_m:
        raise FieldError(
            "length_m", length_m, f"more than {5 * r_m:.3f} m, five radii of {csa_mm2:g} mm²"
        )
    return MU0_H_PER_M * length_m / (2 * math.pi) * (math.log(2 * length_m / r_m) - 1)


def mutual_h(length_m: float, spacing_m: float) -> float:
    """Return the mutual inductance of two parallel wires of equal length. [H]

    Neumann's formula in full: the short form in ln(2l/D) fails for a lead not
    much longer than its distance.
    """
    ratio = length_m / spacing_m
    return (
        MU0_H_PER_M
        * length_m
        / (2 * math.pi)
        * (math.asinh(ratio) - math.sqrt(1 + 1 / ratio**2) + 1 / ratio)
    )


def pair_h_per_m(csa_mm2: float, spacing_m: float) -> float:
    """Return the loop inductance of go and return, for each metre of route. [H/m]

    µ0/π·acosh(D/2r), exact for round wires; the short form in ln(D/r) is 2 % high
    for the cores of a cable.

    Examples
    --------
    >>> round(pair_h_per_m(6, spacing_m=0.1) * 1e6, 3)
    1.713
    """
    r_m = radius_m(csa_mm2)
    if not spacing_m > 2 * r_m:
        raise FieldError(
            "spacing_m", spacing_m, f"more than {2 * r_m:.4f} m, where {csa_mm2:g} mm² wires touch"
        )
    return MU0_H_PER_M / math.pi * math.acosh(spacing_m / (2 * r_m))
