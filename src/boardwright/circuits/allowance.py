"""Household allowances: one rule for every purpose, its figures in the edition."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from boardwright.job.circuit import Circuit
from boardwright.standards.edition import Edition

_PURPOSES: Mapping[str, str] = {
    "sockets": "standard socket circuits",
    "lighting": "lighting",
    "cooker": "cooking",
    "shower": "instantaneous water heating",
    "immersion heater": "thermostatic water heating",
    "storage heater": "storage heating",
    "room heating": "heating and power",
    "smoke alarms": "stationary equipment",
    "boiler": "stationary equipment",
    "outdoor": "stationary equipment",
    "EV point": "vehicle charging",
    "heat pump": "heat pump",
    "fixed appliance": "stationary equipment",
    "sub-board": "sub-board",
    "PV": "",
    "battery": "",
}


def purpose_of(circuit: Circuit) -> str:
    """Return the purpose that a circuit's demand falls under; empty for a source."""
    if circuit.serves == "immersion heater" and not circuit.load.thermostatic:
        return "instantaneous water heating"
    # A battery that is charged to a stated power is a load like storage heating.
    if circuit.serves == "battery" and (circuit.load.power_w or circuit.load.ib_a):
        return "storage heating"
    return _PURPOSES[circuit.serves]


def counts_by_device(edition: Edition, purpose: str) -> bool:
    """Tell whether circuits of a purpose count with their device's rating."""
    return bool(edition.table("allowance").rows[purpose]["device"])


def allowed_a(
    edition: Edition, purpose: str, loads_a: Sequence[float], *, sockets: int = 0
) -> float:
    """Return the demand of the loads of one purpose after its allowance. [A]

    Parameters
    ----------
    edition
        Holds the table of allowances.
    purpose
        Row of that table.
    loads_a
        Current of each load. [A]
    sockets
        How many control units hold a socket-outlet.

    References
    ----------
    The Electrician's Guide, 5th edition, Table 6.2; guidance to BS 7671, 311.1.
    """
    row = edition.table("allowance").rows[purpose]
    shares = (row["rank_1"], row["rank_2"], row["rest"])
    total_a = sockets * row["socket_a"]
    for rank, load_a in enumerate(sorted(loads_a, reverse=True)):
        total_a += one_allowed_a(load_a, row["full_up_to_a"], shares[min(rank, 2)])
    return total_a


def one_allowed_a(
    connected_a: float, full_a: float, share_factor: float, socket_a: float = 0.0
) -> float:
    """Return what one load counts for: some in full, a share of the rest, and its socket. [A]

    Examples
    --------
    >>> one_allowed_a(connected_a=30, full_a=10, share_factor=0.3)
    16.0
    """
    full_a = min(connected_a, full_a)
    return full_a + share_factor * (connected_a - full_a) + socket_a


def in_words(edition: Edition, purpose: str) -> str:
    """Return what a purpose is allowed, in words."""
    row = edition.table("allowance").rows[purpose]
    shares = [row["rank_1"], row["rank_2"], row["rest"]]
    if len(set(shares)) == 1:
        words = f"{shares[0]:.0%} of each"
    elif shares[0] == shares[1]:
        words = f"{shares[0]:.0%} of the two largest, {shares[2]:.0%} of each other"
    else:
        words = f"{shares[0]:.0%} of the largest, {shares[2]:.0%} of each other"
    if row["full_up_to_a"]:
        words = f"{row['full_up_to_a']:g} A and {shares[0]:.0%} of the rest of each"
    if row["socket_a"]:
        words += f", {row['socket_a']:g} A for a socket in its control unit"
    return words
