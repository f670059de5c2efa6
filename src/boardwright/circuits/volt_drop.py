"""Volt drop along a circuit."""

from __future__ import annotations

from math import sqrt

from boardwright.circuits.conductor import hot_factor, r20_ohm
from boardwright.circuits.lookup import figure, row_up_to
from boardwright.standards.edition import Edition


def volt_drop_v(
    drop_v_per_a_m: float, load_a: float, length_m: float, *, paths: int = 1, before_v: float = 0.0
) -> float:
    """Return the volt drop along a cable, (mV/A/m)·Ib·L/1000, and what was lost before it. [V]

    Parameters
    ----------
    paths
        By how much the length is divided: 4 for the far point of a ring.
    before_v
        Volt drop ahead of the cable. [V]

    Examples
    --------
    >>> round(volt_drop_v(drop_v_per_a_m=4.4e-3, load_a=41.304, length_m=15), 3)
    2.726
    """
    return before_v + drop_v_per_a_m * load_a * (length_m / paths)


def warm_drop_v(volt_drop_v: float, ct_factor: float, before_v: float = 0.0) -> float:
    """Return a volt drop with the conductor at the temperature its load brings. [V]

    What is lost before the cable is none of its temperature.
    """
    return before_v + (volt_drop_v - before_v) * ct_factor


def drop_per_a_m(edition: Edition, csa_mm2: float, phases: int) -> float:
    """Return the tabulated drop of a cable in V for each ampere and metre, line to line on three.

    Above the table's sizes it is worked from resistance, at the working limit.

    References
    ----------
    BS 7671 Tables 4D1B, 4D2B and 4D5.
    """
    table = edition.table(f"volt_drop_mv_per_a_m.{phases}")
    if csa_mm2 > max(map(float, table.rows)):
        conductors = 2 if phases == 1 else sqrt(3)
        return conductors * r20_ohm(edition, csa_mm2, 1) * hot_factor(edition)
    return figure(table, row_up_to(table, csa_mm2), "mv") / 1000


def ct_factor(
    ib_a: float, it_a: float, *, ca_factor: float, cg_factor: float, limit_c: float = 70
) -> float:
    """Return what volt drop shrinks by when the conductor runs below its limit.

    Parameters
    ----------
    ib_a
        Design current, Ib. [A]
    it_a
        Tabulated capacity, It. [A]
    ca_factor, cg_factor
        Factors for ambient temperature and grouping, Ca and Cg.
    limit_c
        Highest working temperature of the insulation, tp. [°C]

    Returns
    -------
    float
        Ct, at most 1.

    References
    ----------
    BS 7671 Appendix 4, section 6.1.

    Examples
    --------
    >>> round(ct_factor(ib_a=20, it_a=27, ca_factor=1, cg_factor=1), 4)
    0.9398
    """
    rise = (ca_factor * cg_factor) ** 2 - (ib_a / it_a) ** 2
    return (230 + limit_c - rise * (limit_c - 30)) / (230 + limit_c)


def conductor_c(ib_a: float, it_a: float, *, limit_c: float = 70, ambient_c: float = 30) -> float:
    """Return how warm a conductor gets: its rise goes with the square of current. [°C]

    ``it_a`` is the current that brings it to its limit.

    References
    ----------
    BS 7671 Appendix 4, section 6.

    Examples
    --------
    >>> round(conductor_c(ib_a=32, it_a=47), 2)
    48.54
    """
    return ambient_c + (limit_c - ambient_c) * (ib_a / it_a) ** 2


def volt_drop_limit_v(edition: Edition, *, u0_v: float, phases: int, lighting: bool) -> float:
    """Return the drop allowed from the origin, 3 % for lighting and 5 % for the rest. [V]"""
    fraction = edition.number(volt_drop_key(lighting=lighting))
    return allowed_drop_v(fraction, nominal_v(u0_v, phases))


def volt_drop_key(*, lighting: bool) -> str:
    """Return the edition's key of the share of the voltage that may be lost."""
    return "volt_drop.lighting_fraction" if lighting else "volt_drop.other_fraction"


def allowed_drop_v(drop_fraction: float, nominal_v: float) -> float:
    """Return the volt drop allowed. [V]"""
    return drop_fraction * nominal_v


def nominal_v(u0_v: float, phases: int) -> float:
    """Return the voltage that a drop is a share of: on three phases it is line to line. [V]"""
    return round(u0_v * sqrt(3), -1) if phases > 1 else u0_v
