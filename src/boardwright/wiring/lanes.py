"""At which height each sideways part of a conductor runs: the lanes of a strip.

Two parts that overlap are ordered so that they cross least; the first to leave takes the
lane nearest the terminals, so a bundle nests. Parts that do not overlap share a lane.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

LANE_MM = 3.5
LANE_LEAST_MM = 3.0
_THICK_MM = {16.0: 4.0, 25.0: 5.0}
"""Wider pitch from a size upward, so that what is drawn wide does not touch."""

END_MM = 5.0
"""Least distance of a lane from the parts on both sides. [mm]"""

CLEAR_MM = 2.6
"""Parts nearer to one another than this count as overlapping. [mm]"""

_COLLINEAR = 10


@dataclass(frozen=True, slots=True)
class Part:
    """One sideways part: from ``begin_x_mm`` to ``end_x_mm``, with the way each end goes on.

    ``margin_mm`` is the least distance from the terminals' side of the strip.
    """

    id: str
    begin_x_mm: float
    end_x_mm: float
    begin_up: bool
    end_up: bool
    csa_mm2: float
    margin_mm: float

    @property
    def low_x_mm(self) -> float:
        """Its left end. [mm]"""
        return min(self.begin_x_mm, self.end_x_mm)

    @property
    def high_x_mm(self) -> float:
        """Its right end. [mm]"""
        return max(self.begin_x_mm, self.end_x_mm)

    def drops(self) -> tuple[tuple[float, bool], ...]:
        """Return where its ends go on, and whether upward."""
        return ((self.begin_x_mm, self.begin_up), (self.end_x_mm, self.end_up))


@dataclass(frozen=True, slots=True)
class Strip:
    """The free height of a channel, and from which side its lanes are counted.

    ``centred`` puts them in its middle: where no terminals stand on either side.
    """

    low_mm: float
    high_mm: float
    from_top: bool
    centred: bool = False

    @property
    def room_mm(self) -> float:
        """Its height. [mm]"""
        return self.high_mm - self.low_mm


def lanes_mm(strip: Strip, parts: Sequence[Part]) -> dict[str, float]:
    """Return the height of each part in the enclosure's frame. [mm]"""
    depths_mm = _fitted_mm(strip, parts)
    edge_mm = strip.high_mm if strip.from_top else strip.low_mm
    sign = -1.0 if strip.from_top else 1.0
    return {name: edge_mm + sign * depth for name, depth in depths_mm.items()}


def _fitted_mm(strip: Strip, parts: Sequence[Part]) -> dict[str, float]:
    """Return the depths, closer to the terminals and then to one another where room is short.

    Lanes under their least pitch are a finding of their own.
    """
    depths_mm = _depths_mm(strip, parts)
    if not depths_mm:
        return {}
    first_mm, deepest_mm = min(depths_mm.values()), max(depths_mm.values())
    if strip.centred and first_mm + deepest_mm < strip.room_mm:
        shift_mm = (strip.room_mm - first_mm - deepest_mm) / 2
        return {name: depth + shift_mm for name, depth in depths_mm.items()}
    room_mm = strip.room_mm - min(END_MM, strip.room_mm / 4)
    nearer_mm = min(max(deepest_mm - room_mm, 0.0), max(first_mm - END_MM, 0.0))
    spread_mm = deepest_mm - first_mm
    begin_mm = min(first_mm - nearer_mm, room_mm / 2)
    squeeze = min(1.0, (room_mm - begin_mm) / spread_mm) if spread_mm else 1.0
    return {name: begin_mm + (depth - first_mm) * squeeze for name, depth in depths_mm.items()}


def _depths_mm(strip: Strip, parts: Sequence[Part]) -> dict[str, float]:
    """Return how far from the strip's own side each part runs. [mm]"""
    depths_mm: dict[str, float] = {}
    placed: list[Part] = []
    for part in nearest_first(strip, parts):
        inner = [p for p in placed if overlap(p, part)]
        depths_mm[part.id] = max(
            [part.margin_mm, *(depths_mm[p.id] + pitch_mm(p.csa_mm2, part.csa_mm2) for p in inner)]
        )
        placed.append(part)
    return depths_mm


def nearest_first(strip: Strip, parts: Sequence[Part]) -> list[Part]:
    """Return the parts from the strip's own side outward, with the fewest crossings.

    Picks one after another the part that the rest least want on its inside; with no better
    reason the one that leaves first, then the name: the same parts always give the same order.
    """
    waiting = sorted(parts, key=lambda p: (p.high_x_mm - p.low_x_mm, p.low_x_mm, p.id))
    ordered: list[Part] = []
    while waiting:
        wishes = [
            sum(max(0, _harm(strip, p, q) - _harm(strip, q, p)) for q in waiting if q is not p)
            for p in waiting
        ]
        ordered.append(waiting.pop(wishes.index(min(wishes))))
    return ordered


def _harm(strip: Strip, near: Part, far: Part) -> int:
    """Return the crossings when one part runs nearer the strip's side than the other."""
    if not overlap(near, far):
        return 0
    above, below = (near, far) if strip.from_top else (far, near)
    return sum(_met(x_mm, below) for x_mm, up in above.drops() if not up) + sum(
        _met(x_mm, above) for x_mm, up in below.drops() if up
    )


def _met(x_mm: float, part: Part) -> int:
    """Return how bad a drop at x is for a part: it crosses it, or lies on one of its ends."""
    if min(abs(x_mm - part.begin_x_mm), abs(x_mm - part.end_x_mm)) < CLEAR_MM:
        return _COLLINEAR
    return int(part.low_x_mm < x_mm < part.high_x_mm)


def overlap(one: Part, other: Part) -> bool:
    """Tell whether two parts want the same stretch."""
    return one.low_x_mm - CLEAR_MM < other.high_x_mm and other.low_x_mm - CLEAR_MM < one.high_x_mm


def pitch_mm(*sizes_mm2: float) -> float:
    """Return the distance between two lanes that hold conductors of these sizes. [mm]"""
    wide = [pitch for from_mm2, pitch in _THICK_MM.items() if max(sizes_mm2) >= from_mm2]
    return max(wide, default=LANE_MM)
