"""The enclosure's frame: where conductors meet their terminals, and how long a path is.

mm, origin bottom left of the enclosure, y up; depth from the back.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardwright.board.results import DEVICE_HEIGHT_MM, TERMINAL_RISE_MM, Arrangement, Placement
from boardwright.catalogue.devices import Terminal
from boardwright.catalogue.enclosures import Bar, CableEntry
from boardwright.wiring.results import Point

BAR_HEIGHT_MM = 9.0
"""Height of an earth or neutral bar. [mm] Common practice, no source."""

FRONT_MM = 30.0
"""Depth of new conductors. [mm]"""

BEHIND_MM = 15.0
"""Depth of cores that pass behind bars and rails. [mm]"""

STRAIGHT_MM = 1.5
"""An offset that a lead takes inside its terminals, without a bend. [mm]"""

LEAST_STEP_MM = 6.0
"""Two of the smallest drawn radii: a shorter offset is not a step. [mm]"""

_THICK_FROM_MM2 = 4.0
_SIDE_MM = 16.0


@dataclass(frozen=True, slots=True)
class Anchor:
    """Where a conductor meets a part's edge; ``up`` tells which way it leaves.

    ``screw_mm`` is the way from the edge to the screw.
    """

    x_mm: float
    y_mm: float
    up: bool
    screw_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Band:
    """A free strip of the enclosure's height, in which conductors may run sideways.

    ``above`` and ``below`` tell whether devices bound it there.
    """

    low_mm: float
    high_mm: float
    above: bool
    below: bool


@dataclass(frozen=True, slots=True)
class _Row:
    low_mm: float
    high_mm: float
    devices: bool


def device_anchor(placement: Placement, terminal: Terminal) -> Anchor:
    """Return where a conductor leaves a device."""
    up = terminal.side == "top"
    half_mm = DEVICE_HEIGHT_MM / 2 if up else -DEVICE_HEIGHT_MM / 2
    x_mm = placement.x_mm + terminal.offset_mm
    return Anchor(x_mm, placement.y_mm + half_mm, up, DEVICE_HEIGHT_MM / 2 - TERMINAL_RISE_MM)


def bar_anchor(bar: Bar, number: int, *, from_above: bool) -> Anchor:
    """Return where a conductor meets a bar's terminal."""
    half_mm = BAR_HEIGHT_MM / 2
    y_mm = bar.y_mm + (half_mm if from_above else -half_mm)
    return Anchor(bar.terminal_x_mm(number), y_mm, from_above, half_mm)


def entry_anchors(entry: CableEntry, arrangement: Arrangement) -> tuple[Anchor, ...]:
    """Return the places where cables come in, ``at_mm`` being the first one's."""
    box = arrangement.enclosure
    places_mm = [entry.at_mm + k * entry.pitch_mm for k in range(entry.count)]
    # Cables through a side turn up or down one beside the other, the cores of each apart.
    inset_mm = max(entry.diameter_mm / 2, _SIDE_MM)
    insets_mm = [inset_mm + k * entry.diameter_mm for k in range(entry.count)]
    match entry.edge:
        case "top":
            return tuple(Anchor(x, box.height_mm, up=False) for x in places_mm)
        case "bottom":
            return tuple(Anchor(x, 0.0, up=True) for x in places_mm)
        case "left":
            return _turned(arrangement, insets_mm, places_mm)
        case "right":
            return _turned(arrangement, [box.width_mm - x for x in insets_mm], places_mm)
        case _:
            return tuple(Anchor(x, box.height_mm - inset_mm, up=False) for x in places_mm)


def _turned(
    arrangement: Arrangement, xs_mm: Sequence[float], ys_mm: Sequence[float]
) -> tuple[Anchor, ...]:
    """Return where cables through a side turn: up where they come in below the rail."""
    rail_mm = arrangement.enclosure.rails[0].y_mm
    return tuple(Anchor(x, y, up=y < rail_mm) for x, y in zip(xs_mm, ys_mm, strict=True))


def bands(arrangement: Arrangement) -> tuple[Band, ...]:
    """Return the free strips of the enclosure, from the bottom up."""
    rows = _merged(sorted(_rows(arrangement), key=lambda row: row.low_mm))
    edges = [_Row(0.0, 0.0, devices=False), *rows]
    edges.append(_Row(*(arrangement.enclosure.height_mm,) * 2, devices=False))
    return tuple(
        Band(lower.high_mm, upper.low_mm, above=upper.devices, below=lower.devices)
        for lower, upper in pairwise(edges)
        if upper.low_mm > lower.high_mm
    )


def _rows(arrangement: Arrangement) -> list[_Row]:
    box = arrangement.enclosure
    half_mm = DEVICE_HEIGHT_MM / 2
    drop_mm = {comb.rail: comb.below_rail_mm + 3.0 for comb in box.busbars}
    rows = [
        _Row(rail.y_mm - max(half_mm, drop_mm.get(k, 0.0)), rail.y_mm + half_mm, devices=True)
        for k, rail in enumerate(box.rails)
    ]
    half_mm = BAR_HEIGHT_MM / 2
    # A lug stands beside the devices, in no strip's way.
    crossing = [bar for bar in box.bars if bar.conductor in {"N", "PE"}]
    return rows + [_Row(b.y_mm - half_mm, b.y_mm + half_mm, devices=False) for b in crossing]


def _merged(rows: list[_Row]) -> list[_Row]:
    merged: list[_Row] = []
    for row in rows:
        if merged and row.low_mm <= merged[-1].high_mm:
            last = merged.pop()
            high_mm = max(last.high_mm, row.high_mm)
            merged.append(_Row(last.low_mm, high_mm, last.devices or row.devices))
        else:
            merged.append(row)
    return merged


def band_of(anchor: Anchor, strips: Sequence[Band]) -> int:
    """Return which strip a conductor enters as it leaves its terminal."""
    if anchor.up:
        return next(
            (k for k, band in enumerate(strips) if band.high_mm > anchor.y_mm), len(strips) - 1
        )
    reached = [k for k, band in enumerate(strips) if band.low_mm < anchor.y_mm]
    return reached[-1] if reached else 0


def drawn_radius_mm(csa_mm2: float) -> float:
    """Return the centre-line radius of a bend as it is drawn. [mm]"""
    return 3.0 if csa_mm2 <= _THICK_FROM_MM2 else 5.0


def corner_radii_mm(path: Sequence[Point], csa_mm2: float) -> tuple[float, ...]:
    """Return the radius of each inner point of a path. [mm]

    A straight part between two bends is shared by them, so a short step gets smaller bends.
    """
    lengths_mm = [math.dist(a, b) for a, b in pairwise(path)]
    last = len(lengths_mm) - 1
    rooms_mm = [length if k in (0, last) else length / 2 for k, length in enumerate(lengths_mm)]
    radius_mm = drawn_radius_mm(csa_mm2)
    return tuple(min(radius_mm, a, b) for a, b in pairwise(rooms_mm))


def path_length_mm(path: Sequence[Point], csa_mm2: float) -> float:
    """Return the length along a path with its bends rounded. [mm]

    A square bend of radius r is shorter than its corner by (2 - π/2) r; a bend of another
    angle by 2 r tan(φ/2) - r φ, φ being the turn.
    """
    straight_mm = sum(math.dist(a, b) for a, b in pairwise(path))
    radii_mm = corner_radii_mm(path, csa_mm2)
    turns = [_turn(*path[k : k + 3]) for k in range(len(path) - 2)]
    saved_mm = sum(
        r * (2 * math.tan(turn / 2) - turn) for r, turn in zip(radii_mm, turns, strict=True)
    )
    return straight_mm - saved_mm


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return the angle by which a path turns at b, in radians."""
    u = [q - p for p, q in zip(a, b, strict=True)]
    v = [q - p for p, q in zip(b, c, strict=True)]
    size = math.hypot(*u) * math.hypot(*v)
    if size == 0:
        return 0.0
    cosine = sum(p * q for p, q in zip(u, v, strict=True)) / size
    return math.acos(max(-1.0, min(1.0, cosine)))
