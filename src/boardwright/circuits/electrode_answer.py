"""What is answered of an earth electrode: its reading, its dry season, its RCD, how many rods."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.circuits.electrode import (
    Rods,
    dry_ohm,
    largest_idn_a,
    most_ohm,
    plate_ohm,
    rods_needed,
    rods_ohm,
    soil_of_ohm_m,
    strip_ohm,
)
from boardwright.core.findings import Finding, Rule
from boardwright.core.point import Point, joined
from boardwright.standards.edition import Edition


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip or tape laid flat in the ground."""

    length_m: float
    width_m: float
    depth_m: float


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate buried deep enough that the surface does not count."""

    area_m2: float


@dataclass(frozen=True, slots=True)
class ElectrodeAsked:
    """An electrode and its soil; ``reading_ohm`` is what one rod reads, where one is driven.

    ``idn_a`` is the RCD that must be able to rely on it. [A]
    """

    kind: Rods | Strip | Plate
    soil_ohm_m: float | None
    reading_ohm: float | None
    idn_a: float


@dataclass(frozen=True, slots=True)
class ElectrodeReply:
    """The electrode worked out; ``rods_needed`` is None for other kinds and where too many."""

    soil_ohm_m: float
    electrode_ohm: float
    dry_ohm: float
    limit_ohm: float
    largest_idn_a: float
    rods_needed: int | None
    finding: Finding


def electrode_reply(asked: ElectrodeAsked, edition: Edition) -> ElectrodeReply:
    """Work out an electrode, its seasonal margin, and how many rods its RCD asks for."""
    soil_ohm_m = _soil_ohm_m(asked)
    reads_ohm = _reads_ohm(asked.kind, soil_ohm_m)
    grown_ohm, limit_ohm = dry_ohm(reads_ohm, edition), most_ohm(asked.idn_a, edition)
    needed = None
    if isinstance(asked.kind, Rods):
        season_factor = edition.number("electrode.season_factor")
        needed = rods_needed(soil_ohm_m, asked.kind, limit_ohm / season_factor)
    return ElectrodeReply(
        soil_ohm_m=soil_ohm_m,
        electrode_ohm=reads_ohm,
        dry_ohm=grown_ohm,
        limit_ohm=limit_ohm,
        largest_idn_a=largest_idn_a(grown_ohm, edition),
        rods_needed=needed,
        finding=_judged(reads_ohm, grown_ohm, limit_ohm, asked.idn_a, edition),
    )


def _soil_ohm_m(asked: ElectrodeAsked) -> float:
    if asked.reading_ohm is not None and isinstance(asked.kind, Rods):
        return soil_of_ohm_m(asked.reading_ohm, asked.kind.length_m, asked.kind.diameter_m)
    return asked.soil_ohm_m or 0.0


def _reads_ohm(kind: Rods | Strip | Plate, soil_ohm_m: float) -> float:
    match kind:
        case Rods():
            return rods_ohm(soil_ohm_m, kind)
        case Strip():
            return strip_ohm(soil_ohm_m, kind.length_m, kind.width_m, kind.depth_m)
        case Plate():
            return plate_ohm(soil_ohm_m, kind.area_m2)


def _judged(
    reads_ohm: float, grown_ohm: float, limit_ohm: float, idn_a: float, edition: Edition
) -> Finding:
    point = Point(
        "electrode.resistance", "Electrode", "electrode", _rule(edition), grown_ohm, limit_ohm, "Ω"
    )
    shown = f"RA about {reads_ohm:.0f} Ω, in a dry season {grown_ohm:.0f} Ω"
    allowed = f"{limit_ohm:.0f} Ω being the most for {idn_a * 1000:g} mA and a stable electrode"
    if grown_ohm <= limit_ohm:
        return point.passed(f"{shown}; {allowed}.")
    if reads_ohm <= limit_ohm:
        return point.advised(
            f"{shown}; {allowed}: it would do until the ground dries out.",
            "Drive deeper or more rods, or read it again in a dry season.",
        )
    return point.failed(f"{shown}; {allowed}.", "Drive deeper or more rods.")


def _rule(edition: Edition) -> Rule:
    keys = ("zs.rcd", "electrode.unstable_ohm", "electrode.season_factor")
    return joined(*map(edition.rule, keys))
