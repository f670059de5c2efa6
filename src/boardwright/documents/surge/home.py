"""A design's home as a surge on one of its lines meets it."""

from __future__ import annotations

from collections.abc import Mapping

from boardwright.design import Design
from boardwright.surge.bands import BOARD
from boardwright.surge.from_board import home_by_line
from boardwright.surge.home import HomeSurge
from boardwright.surge.study import PlaceResult


def homes_of(design: Design) -> Mapping[str, HomeSurge]:
    """Return the proposed design's home by line; of one phase, only L."""
    chosen = design.chosen
    return home_by_line(
        design.job,
        design.catalogue,
        design.edition,
        chosen.spd,
        chosen.wiring,
        plan=design.plan,
    )


def line_of(design: Design, place: str = "") -> tuple[str, HomeSurge]:
    """Return the line that a place hangs on, with the home as that line meets it.

    Without a place, or for the board, it is the line of the equipment nearest to its withstand.
    """
    homes = homes_of(design)
    found = [item for item in homes.items() if place in {each.name for each in item[1].studied}]
    if found:
        return found[0]
    others = [each for each in design.chosen.study.places if each.place != BOARD]
    nearest = max(others, key=used, default=None)
    if nearest is not None and nearest.place != place:
        return line_of(design, nearest.place)
    return next(iter(homes.items()))


def used(place: PlaceResult) -> float:
    """Return how much of its withstand a place sees at the upper end, as a ratio."""
    band = place.with_spd_v or place.without_spd_v
    return band.p95_v / place.uw_v
