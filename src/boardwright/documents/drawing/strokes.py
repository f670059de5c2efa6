"""Conductors as strokes: rounded paths, widths by size, ends that leave the screw visible."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

Flat = tuple[float, float]
"""A point of the drawing, y down. [mm]"""

_WIDTHS_MM = ((1.5, 1.3), (2.5, 1.5), (4.0, 1.7), (6.0, 2.0), (10.0, 2.4), (16.0, 3.0), (25.0, 3.8))
"""(size up to, drawn width): in order of size, not to diameter, which would hide the board."""


def drawn_width_mm(csa_mm2: float) -> float:
    """Return how wide a conductor is drawn. [mm]"""
    for size_mm2, width_mm in _WIDTHS_MM:
        if csa_mm2 <= size_mm2:
            return width_mm
    return _WIDTHS_MM[-1][1]


_EASY_MM2 = 4.0
"""Up to this size a conductor is drawn with the tighter bend. [mm²]"""

_SAME_MM = 1e-6


def bend_radius_mm(csa_mm2: float) -> float:
    """Return the drawn centre-line radius of a bend. [mm]"""
    return 3.0 if csa_mm2 <= _EASY_MM2 else 5.0


def rounded(points: Sequence[Flat], radius_mm: float) -> str:
    """Return SVG path data along the points, each corner an arc of at most the radius."""
    points = _without_repeats(points)
    parts = [f"M{_pair(points[0])}"]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        reach_mm = min(radius_mm, math.dist(before, corner) / 2, math.dist(corner, after) / 2)
        enter, leave = _towards(corner, before, reach_mm), _towards(corner, after, reach_mm)
        parts.append(f"L{_pair(enter)}Q{_pair(corner)} {_pair(leave)}")
    if len(points) > 1:
        parts.append(f"L{_pair(points[-1])}")
    return "".join(parts)


def in_key_order(functions: Iterable[str]) -> tuple[str, ...]:
    """Return functions of conductors each once, in the order in which a key names them."""
    order = ("L", "L1", "L2", "L3", "N", "PE", "PEN")
    return tuple(sorted(set(functions), key=order.index))


def _without_repeats(points: Sequence[Flat]) -> list[Flat]:
    kept = [points[0]]
    for point in points[1:]:
        if math.dist(kept[-1], point) > _SAME_MM:
            kept.append(point)
    return kept


def _towards(start: Flat, goal: Flat, length_mm: float) -> Flat:
    share = length_mm / (math.dist(start, goal) or 1.0)
    return start[0] + (goal[0] - start[0]) * share, start[1] + (goal[1] - start[1]) * share


def _pair(point: Flat) -> str:
    return f"{point[0]:.2f} {point[1]:.2f}"
