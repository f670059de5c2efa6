"""Earth faults: loop impedance, disconnection, fault currents, the adiabatic equation."""

from __future__ import annotations

from math import sqrt

from boardwright.circuits.conductor import hot_ohm
from boardwright.circuits.lookup import figure
from boardwright.standards.edition import Edition

BREAKERS = ("MCB", "RCBO")


def max_zs_ohm(in_a: float, trip_multiple: float, u0_v: float, cmin: float) -> float:
    """Return the largest loop impedance that still trips a breaker at once.

    Parameters
    ----------
    in_a
        Rated current of the device, In. [A]
    trip_multiple
        Upper limit of the instantaneous band: 5, 10, 20 for B, C, D.
    u0_v
        Nominal voltage to earth, U0. [V]
    cmin
        Minimum voltage factor, Cmin.

    Returns
    -------
    float
        Zs at which the fault current just reaches the band. [Ω]

    References
    ----------
    BS 7671, 411.4.4 and Table 41.3.

    Examples
    --------
    >>> round(max_zs_ohm(in_a=32, trip_multiple=5, u0_v=230, cmin=0.95), 2)
    1.37
    """
    return u0_v * cmin / (in_a * trip_multiple)


def rcd_zs_max_ohm(touch_v: float, idn_a: float) -> float:
    """Return the largest Zs or RA at which an RCD limits the touch voltage (Table 41.5). [Ω]

    Examples
    --------
    >>> round(rcd_zs_max_ohm(touch_v=50, idn_a=0.03))
    1667
    """
    return touch_v / idn_a


def cold_zs_max_ohm(measured_factor: float, zs_max_ohm: float) -> float:
    """Return the largest loop that may be read with the cable cold. [Ω]"""
    return measured_factor * zs_max_ohm


def adiabatic_mm2(current_a: float, time_s: float, k_factor: float) -> float:
    """Return the least conductor that survives a fault, S = √(I²t)/k (543.1.3). [mm²]

    Examples
    --------
    >>> round(adiabatic_mm2(current_a=200, time_s=0.4, k_factor=115), 2)
    1.1
    """
    return sqrt(current_a**2 * time_s) / k_factor


def longest_time_s(csa_mm2: float, current_a: float, k_factor: float) -> float:
    """Return how long a conductor bears a fault current, (kS/I)² (434.5.2). [s]

    Examples
    --------
    >>> round(longest_time_s(csa_mm2=1, current_a=500, k_factor=115), 4)
    0.0529
    """
    return (k_factor * csa_mm2 / current_a) ** 2


def class_3_cpc_mm2(edition: Edition, curve: str, in_a: float, fault_a: float) -> float | None:
    """Return the least cpc behind a breaker of energy-limiting class 3. [mm²]

    A breaker that trips at once lets through far less than 0.1 s of its fault current; the maker's
    own figure is better still. None where the table ends.
    """
    rows = edition.table("class_3_cpc_mm2").rows
    ratings = sorted(float(row.split()[1]) for row in rows if row.startswith(f"{curve} "))
    rating = next((r for r in ratings if r >= in_a), None)
    if rating is None:
        return None
    cells = rows[f"{curve} {rating:g}"]
    column = next((c for c in sorted(cells, key=float) if float(c) >= fault_a), None)
    return cells[column] if column else None


def touch_voltage_v(u0_v: float, zs_ohm: float, r2_ohm: float) -> float:
    """Return the voltage between exposed metal and the main earthing terminal in a fault. [V]

    Examples
    --------
    >>> round(touch_voltage_v(u0_v=230, zs_ohm=0.35 + 0.0741 + 0.1210, r2_ohm=0.1210), 2)
    51.05
    """
    return u0_v / zs_ohm * r2_ohm


def hot_loop_ohm(before_ohm: float, cold_ohm: float, hot_factor: float) -> float:
    """Return the loop behind a length of cable that runs at its limit. [Ω]

    Examples
    --------
    >>> round(hot_loop_ohm(before_ohm=0.35, cold_ohm=0.3, hot_factor=1.2), 2)
    0.71
    """
    return before_ohm + hot_ohm(cold_ohm, hot_factor)


def fault_a(u0_v: float, zs_ohm: float) -> float:
    """Return the current of an earth fault at nominal voltage. [A]"""
    return u0_v / zs_ohm


def least_fault_a(cmin: float, u0_v: float, zs_ohm: float) -> float:
    """Return the current of an earth fault at the lowest voltage (411.4.4). [A]"""
    return cmin * u0_v / zs_ohm


def fault_behind_a(u0_v: float, ipf_a: float, one_way_ohm: float, ways: int = 1) -> float:
    """Return the fault current behind a length of cable passed so many times. [A]

    Taking the supply as resistance errs upwards least near the origin; the result is a design
    figure, and the reading at the board replaces it.

    Examples
    --------
    >>> round(fault_behind_a(u0_v=230, ipf_a=16000, one_way_ohm=3 * 0.727e-3, ways=2))
    12275
    """
    return u0_v / (u0_v / ipf_a + ways * one_way_ohm)


def disconnection_s(
    edition: Edition, *, system: str, in_a: float, sockets: bool, distribution: bool
) -> float:
    """Return the time in which an earth fault must be gone. [s]

    References
    ----------
    BS 7671, 411.3.2.2 to 411.3.2.4 and Table 41.1.
    """
    limit = "final_sockets_max_a" if sockets else "final_fixed_max_a"
    final = not distribution and in_a <= edition.number(f"disconnection.{limit}")
    row = "TT" if system == "TT" else "TN"
    return figure(edition.table("disconnection_s"), row, "final" if final else "distribution")


def device_zs_max_ohm(
    edition: Edition, *, standard: str, curve: str, in_a: float, time_s: float, u0_v: float
) -> float:
    """Return the largest Zs at which an overcurrent device disconnects in time. [Ω]

    A fuse rating that the table lacks takes the next larger one; 0 where the table ends,
    which no loop can meet.
    """
    # 0.2 s and 0.4 s share the short column, 1 s and 5 s the long one: only TN uses these.
    short = time_s < 1
    if standard in BREAKERS:
        multiple = figure(edition.table("trip_multiple"), curve, "0.4" if short else "5")
        return max_zs_ohm(in_a, multiple, u0_v, edition.number("cmin"))
    cells = edition.table("fuse_zs_ohm.0.4" if short else "fuse_zs_ohm.5").rows[standard]
    rating = next((r for r in sorted(cells, key=float) if float(r) >= in_a), None)
    return cells[rating] if rating else 0.0
