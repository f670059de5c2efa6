"""How full the free strips of an enclosure are: across, side by side, in one layer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardwright.board.results import Arrangement
from boardwright.wiring.geometry import Band, bands
from boardwright.wiring.practice import core_diameter_mm
from boardwright.wiring.results import Conductor, Origin


@dataclass(frozen=True, slots=True)
class Channel:
    """A strip in which conductors run sideways; ``taken_mm`` is its fullest cross-section.

    Of new and fitted conductors: cores of cables pass behind them, in a layer of their own.
    """

    name: str
    height_mm: float
    taken_mm: float

    @property
    def fill(self) -> float:
        """Fraction of the height that conductors take; above 1 they need a second layer."""
        return self.taken_mm / self.height_mm


def channels(arrangement: Arrangement, conductors: Sequence[Conductor]) -> tuple[Channel, ...]:
    """Return the channels of an enclosure from the bottom up, with what runs in each."""
    found = bands(arrangement)
    rails = sorted(rail.y_mm for rail in arrangement.enclosure.rails)
    return tuple(
        Channel(_name(band, rails), band.high_mm - band.low_mm, _taken_mm(band, conductors))
        for band in found
    )


def _name(band: Band, rails_mm: Sequence[float]) -> str:
    """Name a strip by the rail nearest to it; rails are numbered from the top, as ways are."""
    middle_mm = (band.low_mm + band.high_mm) / 2
    rail_mm = min(rails_mm, key=lambda y: abs(y - middle_mm))
    number = f" {len(rails_mm) - rails_mm.index(rail_mm)}" if len(rails_mm) > 1 else ""
    side = "above" if middle_mm > rail_mm else "below"
    beside = "" if band.above or band.below else ", beyond its bar"
    return f"{side} rail{number}{beside}"


def _taken_mm(band: Band, conductors: Sequence[Conductor]) -> float:
    """Return the sum of diameters where most run side by side. [mm]"""
    edges: list[tuple[float, float]] = []
    for conductor in conductors:
        if conductor.origin not in {Origin.NEW, Origin.FLYING}:
            continue
        if conductor.begin.terminal.startswith("cable-"):
            continue
        wide_mm = core_diameter_mm(conductor.csa_mm2)
        for low_mm, high_mm in _sideways(conductor, band):
            edges += [(low_mm, wide_mm), (high_mm, -wide_mm)]
    taken_mm = fullest_mm = 0.0
    for _, change_mm in sorted(edges):
        taken_mm += change_mm
        fullest_mm = max(fullest_mm, taken_mm)
    return fullest_mm


def _sideways(conductor: Conductor, band: Band) -> Iterator[tuple[float, float]]:
    for (ax, ay, _), (bx, by, _) in pairwise(conductor.path):
        if math.isclose(ay, by) and band.low_mm <= ay <= band.high_mm:
            yield min(ax, bx), max(ax, bx)
