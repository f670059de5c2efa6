"""Resistance of copper conductors, cold and at working temperature."""

from __future__ import annotations

from boardwright.circuits.lookup import figure, row_up_to
from boardwright.standards.edition import Edition


def r20_ohm(edition: Edition, csa_mm2: float, length_m: float) -> float:
    """Return a copper conductor's resistance at 20 °C. [Ω]

    References
    ----------
    BS EN 60228, class 1 and 2. A size that is not listed takes the listed size below it.
    """
    return r20_ohm_per_m(edition, csa_mm2) * length_m


def r20_ohm_per_m(edition: Edition, csa_mm2: float) -> float:
    """Return what a metre of a copper conductor has at 20 °C. [Ω/m]"""
    table = edition.table("resistance_ohm_per_km")
    return figure(table, row_up_to(table, csa_mm2), "copper") / 1000


def temperature_factor(at_c: float, per_kelvin_fraction: float = 0.004) -> float:
    """Return what a resistance at 20 °C grows by at another temperature.

    References
    ----------
    BS 7671 Appendix 4; the same 0.004 per kelvin stands in IEC 60909.

    Examples
    --------
    >>> round(temperature_factor(70), 2)
    1.2
    >>> round(1 / temperature_factor(5), 3)
    1.064
    """
    return 1 + per_kelvin_fraction * (at_c - 20)


def hot_factor(edition: Edition) -> float:
    """Return what resistance grows by from 20 °C to the conductor's working limit."""
    return temperature_factor(
        edition.number("temperature.hot_c"), edition.number("temperature.coefficient_per_k")
    )


def loop_20c_ohm(edition: Edition, line_mm2: float, return_mm2: float, length_m: float) -> float:
    """Return the resistance of a line and its return conductor at 20 °C, as R1+R2. [Ω]"""
    return loop_ohm(r20_ohm_per_m(edition, line_mm2), r20_ohm_per_m(edition, return_mm2), length_m)


def loop_ohm(line_ohm_per_m: float, cpc_ohm_per_m: float, length_m: float, paths: int = 1) -> float:
    """Return R1+R2 of a cable; ``paths`` is 4 for the far point of a ring. [Ω]"""
    return (line_ohm_per_m + cpc_ohm_per_m) * length_m / paths


def hot_ohm(cold_ohm: float, hot_factor: float) -> float:
    """Return a resistance at 20 °C as it is at the conductor's working limit. [Ω]"""
    return cold_ohm * hot_factor


def ring_r1r2_ohm(r1_ohm: float, r2_ohm: float) -> float:
    """Return R1+R2 of a ring from its end-to-end readings: a quarter of their sum. [Ω]

    Examples
    --------
    >>> round(ring_r1r2_ohm(r1_ohm=0.5928, r2_ohm=0.9680), 4)
    0.3902
    """
    return (r1_ohm + r2_ohm) / 4
