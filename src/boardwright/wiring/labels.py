"""The ends of conductors in words, as the person at the board would say them."""

from __future__ import annotations

from boardwright.job.job import Job
from boardwright.wiring.places import Spot
from boardwright.wiring.results import SECOND_LEG

_OUTSIDE = {
    "meter": "Meter",
    "met": "Main earthing terminal",
    "board": "Board as found",
}
_CONDUCTORS = {"L": "line", "N": "neutral", "PE": "earth"}


def label(spot: Spot, job: Job) -> str:
    """Return the name of an end in words."""
    if spot.bar:
        if spot.bar.conductor not in {"PE", "N"}:
            return f"Lug that feeds rail {(spot.bar.rail or 0) + 1}"
        kind = "Earth bar" if spot.bar.conductor == "PE" else "Neutral bar"
        if spot.bar.rail:
            kind += f" of rail {spot.bar.rail + 1}"
        section = f" {spot.bar.section.upper()}" if spot.bar.section else ""
        return f"{kind}{section}, terminal {spot.number}"
    if spot.placement and spot.terminal:
        return f"{spot.placement.item.label}, terminal {spot.terminal.name}, {spot.terminal.side}"
    return _outside(spot.name, job)


def _outside(name: str, job: Job) -> str:
    place, _, conductor = name.rpartition(".")
    if place.startswith("cable-"):
        core = _CONDUCTORS.get(conductor, conductor)
        return f"{_cable(place.removeprefix('cable-'), job)} cable, {core} core"
    if place == "meter" and job.supply.submain:
        return f"Switch-fuse at the intake, {_CONDUCTORS.get(conductor, conductor)}"
    if place == "met":
        return _OUTSIDE["met"]
    return f"{_OUTSIDE.get(place, place)}, {_CONDUCTORS.get(conductor, conductor)}"


def _cable(name: str, job: Job) -> str:
    for circuit in job.circuits:
        if name == circuit.id:
            return circuit.name
        if name == f"{circuit.id}{SECOND_LEG}":
            return f"{circuit.name}, second"
    return name
