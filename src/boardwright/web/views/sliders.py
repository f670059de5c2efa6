"""The sliders of the surge page: lengths that can be tried, from where and how far."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from boardwright.design import Design
from boardwright.documents.surge.surge_chart import name
from boardwright.surge.from_board import home_surge
from boardwright.surge.study import PlaceResult

LEAST_LEAD_M = 0.05
MOST_LEAD_M = 2.0
MOST_CABLE_M = 60.0


@dataclass(frozen=True, slots=True)
class Mark:
    """A length that a rule names, in per cent of the slider's way."""

    words: str
    rule: str
    at: str


@dataclass(frozen=True, slots=True)
class Cable:
    """The cable to one place, as surveyed. [m]"""

    place: str
    name: str
    length_m: str


@dataclass(frozen=True, slots=True)
class SlidersView:
    """What can be moved; no ``lead_m`` where the design has no SPD. Lengths in m, volts in V."""

    lead_m: str
    most_lead_m: str
    marks: tuple[Mark, ...]
    cables: tuple[Cable, ...]
    most_cable_m: str
    full_v: str


def sliders_view(design: Design, places: tuple[PlaceResult, ...], full_v: float) -> SlidersView:
    """Return the sliders for the leads of the SPD, and the cable to each place shown."""
    leads_m = design.chosen.study.leads_m
    chosen = design.chosen
    home = home_surge(design.job, design.catalogue, design.edition, chosen.spd, chosen.wiring)
    lengths = {circuit.name: circuit.cable_m for circuit in home.studied}
    most_m = max(MOST_LEAD_M, ceil(leads_m or 0))
    limits_m = [design.edition.number(f"spd.leads_{end}_m") for end in ("good", "max")]
    cables = tuple(
        Cable(place.place, name(place), f"{lengths[place.place]:g}")
        for place in places
        if place.place in lengths
    )
    return SlidersView(
        lead_m="" if leads_m is None else f"{leads_m:.2f}",
        most_lead_m=f"{most_m:g}",
        marks=tuple(
            Mark(f"{limit_m:g} m", f"{rule} {limit_m:g} m", _along(limit_m, most_m))
            for rule, limit_m in zip(("best within", "never over"), limits_m, strict=True)
        ),
        cables=cables,
        most_cable_m=f"{max([MOST_CABLE_M, *(float(cable.length_m) for cable in cables)]):g}",
        full_v=f"{full_v:g}",
    )


def _along(length_m: float, most_m: float) -> str:
    return f"{(length_m - LEAST_LEAD_M) / (most_m - LEAST_LEAD_M) * 100:.1f}%"
