"""What a design's surge would leave with other leads or another length of cable: one quick run.

For sliders: one run of the lumped solver, nothing compiled. The typical peak is solved; the
ends of its band keep the ratios to it that the design's own study found, which
``boardwright surge-choices`` solves in full.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isfinite

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.documents.surge.home import homes_of
from boardwright.surge.assumptions import load_assumptions
from boardwright.surge.bands import STANDARD_SURGE, Band, lumped_peaks, rounded_v
from boardwright.surge.build import network_of
from boardwright.surge.decisions.leads import of_total, total_m, with_spd
from boardwright.surge.home import HomeSurge
from boardwright.surge.study import PlaceResult

LONGEST_LEAD_M = 5.0
LONGEST_CABLE_M = 200.0
SHORTEST_CABLE_M = 0.5


@dataclass(frozen=True, slots=True)
class WhatIfPlace:
    """One place: what it would see, and whether its whole band stays within its withstand."""

    place: str
    appliance: str
    uw_v: float
    cable_m: float | None
    band: Band

    @property
    def passes(self) -> bool:
        """True where the upper end of the band lies at or below the rated impulse voltage."""
        return self.band.p95_v <= self.uw_v


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The home with other leads and cables; ``lead_m`` is None where there is no SPD."""

    surge: str
    lead_m: float | None
    places: tuple[WhatIfPlace, ...]


def what_if(
    design: Design, *, lead_m: float | None = None, cable_m: float | None = None, place: str = ""
) -> WhatIf:
    """Return what the proposed design would leave with other lengths.

    Parameters
    ----------
    design
        The design; its first variant is asked about.
    lead_m
        Leads of the SPD together, shared between them as routed; left out, as routed. [m]
    cable_m
        Cable to the equipment; left out, as surveyed. [m]
    place
        The place whose cable it is, by its name in the study; left out, every one.

    Raises
    ------
    FieldError
        A length out of range, a place that the study does not have, leads without an SPD.
    """
    homes = homes_of(design)
    asked = {line: _asked(home, lead_m, cable_m, place) for line, home in homes.items()}
    if place and not any(place in _names(home) for home in homes.values()):
        names = [name for home in homes.values() for name in _names(home)]
        raise FieldError("place", place, f"one of {', '.join(names)}")
    assumed, wave = load_assumptions(), STANDARD_SURGE.wave
    peaks: dict[str, float] = {}
    for home in asked.values():
        for name, peak in lumped_peaks(network_of(home, wave, assumed), home).items():
            # Each line has the board in it: what counts there is the worst of them.
            peaks[name] = max(peak.peak_v, peaks.get(name, 0.0))
    lengths_m = {each.name: each.cable_m for home in asked.values() for each in home.studied}
    spd = next(iter(asked.values())).spd
    return WhatIf(
        STANDARD_SURGE.name,
        total_m(spd) if spd else None,
        tuple(
            WhatIfPlace(
                each.place,
                each.appliance,
                each.uw_v,
                lengths_m.get(each.place),
                _scaled(each, peaks[each.place]),
            )
            for each in design.chosen.study.places
        ),
    )


def _asked(home: HomeSurge, lead_m: float | None, cable_m: float | None, place: str) -> HomeSurge:
    return _with_cable(_with_leads(home, lead_m), cable_m, place)


def _names(home: HomeSurge) -> list[str]:
    return [circuit.name for circuit in home.studied]


def _with_leads(home: HomeSurge, lead_m: float | None) -> HomeSurge:
    if lead_m is None:
        return home
    if home.spd is None:
        raise FieldError("lead_m", lead_m, "nothing: this design has no SPD")
    _need("lead_m", lead_m, 0.0, LONGEST_LEAD_M)
    return with_spd(home, of_total(home.spd, lead_m))


def _with_cable(home: HomeSurge, cable_m: float | None, place: str) -> HomeSurge:
    if cable_m is None:
        return home
    _need("cable_m", cable_m, SHORTEST_CABLE_M, LONGEST_CABLE_M)
    wanted = {place} if place else {*_names(home)}
    circuits = tuple(
        replace(each, cable_m=cable_m) if each.name in wanted else each for each in home.circuits
    )
    return replace(home, circuits=circuits)


def _scaled(now: PlaceResult, peak_v: float) -> Band:
    """Return the band around a solved peak, its ends in the ratios of the design's own."""
    band = now.with_spd_v or now.without_spd_v
    if not band.typical_v:
        return Band(0.0, rounded_v(peak_v), rounded_v(peak_v))
    factor = peak_v / band.typical_v
    # Half a rounding step either way would else show as a change where nothing was asked.
    if rounded_v(peak_v) == band.typical_v:
        return band
    return Band(rounded_v(band.p5_v * factor), rounded_v(peak_v), rounded_v(band.p95_v * factor))


def _need(name: str, value_m: float, least_m: float, most_m: float) -> None:
    if not (isfinite(value_m) and least_m <= value_m <= most_m):
        raise FieldError(name, value_m, f"{least_m:g} to {most_m:g} m")
