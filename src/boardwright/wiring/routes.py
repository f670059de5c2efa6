"""Routes to scale: upright from the terminal, along a lane, upright to the target.

New conductors go round the end of a rail, unless the enclosure's maker lets them pass behind it;
cores of cables pass behind bars and devices, as they do when a board is dressed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from boardwright.board.results import Arrangement
from boardwright.catalogue.devices import MODULE_MM
from boardwright.wiring.geometry import (
    BEHIND_MM,
    FRONT_MM,
    STRAIGHT_MM,
    Anchor,
    Band,
    band_of,
    bands,
    drawn_radius_mm,
)
from boardwright.wiring.lanes import Part, Strip, lanes_mm, pitch_mm
from boardwright.wiring.results import Point

FAN_MM = 12.0
"""A core of a cable slants over no more than this. [mm]"""

_FAN_BEGIN_MM, _FAN_END_MM = 12.0, 27.0
_FERRULE_MM, _AIR_MM = 2.9, 2.1


@dataclass(frozen=True, slots=True)
class Course:
    """What a conductor's route starts from. ``core`` is true for a core of a cable."""

    id: str
    begin: Anchor
    end: Anchor
    csa_mm2: float
    core: bool = False
    fan_x_mm: float | None = None


@dataclass(frozen=True, slots=True)
class _Way:
    """A course with its upright parts (x) and, between them, the strip of each sideways part."""

    course: Course
    xs_mm: tuple[float, ...]
    strips: tuple[int, ...]


def route(arrangement: Arrangement, courses: Sequence[Course]) -> dict[str, tuple[Point, ...]]:
    """Return the path of each course, in the enclosure's frame."""
    found = bands(arrangement)
    risers_mm = _risers_mm(arrangement, courses, found)
    ways = [_way(course, found, risers_mm) for course in courses]
    heights_mm: dict[str, float] = {}
    for k, band in enumerate(found):
        free = not (band.above or band.below)
        strip = Strip(band.low_mm, band.high_mm, from_top=_from_top(band), centred=free)
        parts = [part for way in ways for part in _parts(way, found, k)]
        heights_mm |= lanes_mm(strip, parts)
    behind = {
        course.id
        for course in courses
        if course.core or (course.id not in risers_mm and _rails_to_pass(course, found))
    }
    return {w.course.id: _path(w, heights_mm, behind=w.course.id in behind) for w in ways}


def _from_top(band: Band) -> bool:
    """Lanes are counted from the devices; in a strip without any, from the top."""
    return band.above or not band.below


def _risers_mm(
    arrangement: Arrangement, courses: Sequence[Course], found: Sequence[Band]
) -> dict[str, float]:
    """Return the x of the upright of each course that goes round the end of a rail.

    The shortest way round takes the upright nearest the devices, so that they nest.
    """
    round_by_end: dict[tuple[int, float], list[Course]] = {}
    for course in courses:
        rails = _rails_to_pass(course, found)
        if rails and not arrangement.enclosure.wires_behind_rail:
            ends = _ends_mm(arrangement, rails)
            side, x_mm = min(ends, key=lambda end: _way_round_mm(course, end[1]))
            round_by_end.setdefault((side, x_mm), []).append(course)
    found_mm: dict[str, float] = {}
    for (side, x_mm), members in round_by_end.items():
        nested = sorted((_way_round_mm(c, x_mm), c.id) for c in members)
        room_mm = x_mm if side < 0 else arrangement.enclosure.width_mm - x_mm
        # Where the side is narrow they stand closer; a finding tells when too close.
        step_mm = min(pitch_mm(*(c.csa_mm2 for c in members)), room_mm / (len(members) + 1))
        found_mm |= {name: x_mm + side * k * step_mm for k, (_, name) in enumerate(nested)}
    return found_mm


def _way_round_mm(course: Course, x_mm: float) -> float:
    return abs(course.begin.x_mm - x_mm) + abs(course.end.x_mm - x_mm)


def _ends_mm(arrangement: Arrangement, rails: Sequence[int]) -> tuple[tuple[int, float], ...]:
    """Return both ends of the devices on some rails, counted from below, with the way outward."""
    heights_mm = sorted(rail.y_mm for rail in arrangement.enclosure.rails)
    rows_mm = {heights_mm[min(rail, len(heights_mm) - 1)] for rail in rails}
    placed = [p for p in arrangement.placements if p.y_mm in rows_mm] or arrangement.placements
    left_mm = min(p.x_mm for p in placed) - MODULE_MM / 3
    right_mm = max(p.x_mm + p.item.device.width_mm for p in placed) + MODULE_MM / 3
    return ((-1, left_mm), (1, right_mm))


def _rails_to_pass(course: Course, found: Sequence[Band]) -> tuple[int, ...]:
    """Return the rows of devices, counted from below, that a new conductor must go round."""
    if course.core:
        return ()
    start, stop = band_of(course.begin, found), band_of(course.end, found)
    low, high = min(start, stop), max(start, stop)
    below = [k for k, band in enumerate(found) if band.above]
    return tuple(n for n, k in enumerate(below) if low <= k < high)


def _way(course: Course, found: Sequence[Band], risers_mm: Mapping[str, float]) -> _Way:
    begin, end = course.begin, course.end
    start, stop = band_of(begin, found), band_of(end, found)
    if course.core and course.fan_x_mm is not None:
        return _core_way(course, course.fan_x_mm, start, stop)
    if course.id in risers_mm:
        return _Way(course, (begin.x_mm, risers_mm[course.id], end.x_mm), (start, stop))
    return _Way(course, _between_mm(begin.x_mm, end.x_mm), (start,))


def _between_mm(begin_mm: float, end_mm: float) -> tuple[float, float]:
    """Return the uprights of a conductor: one, half way, where each end takes half the offset."""
    if STRAIGHT_MM < abs(begin_mm - end_mm) <= 2 * STRAIGHT_MM:
        return ((begin_mm + end_mm) / 2,) * 2
    return begin_mm, end_mm


def _core_way(course: Course, fan_x_mm: float, start: int, stop: int) -> _Way:
    """Return the way of a core: fanned out of its cable, then behind all to its strip."""
    begin, end = course.begin, course.end
    if start == stop or abs(fan_x_mm - end.x_mm) <= STRAIGHT_MM:
        return _Way(course, (begin.x_mm, end.x_mm), (start,))
    return _Way(course, (begin.x_mm, fan_x_mm, end.x_mm), (start, stop))


def _parts(way: _Way, found: Sequence[Band], strip: int) -> list[Part]:
    """Return the sideways parts of a way in one strip."""
    parts = []
    for n, k in enumerate(way.strips):
        a_mm, b_mm = way.xs_mm[n], way.xs_mm[n + 1]
        if k != strip or abs(a_mm - b_mm) <= STRAIGHT_MM or _slants(way, n):
            continue
        ahead = way.strips[n + 1 :] or (None,)
        before = way.strips[:n][-1:] or (None,)
        parts.append(
            Part(
                f"{way.course.id}/{n}",
                a_mm,
                b_mm,
                begin_up=_goes_up(before[0], way.course.begin, found[k], strip),
                end_up=_goes_up(ahead[0], way.course.end, found[k], strip),
                csa_mm2=way.course.csa_mm2,
                margin_mm=drawn_radius_mm(way.course.csa_mm2) + _FERRULE_MM + _AIR_MM,
            )
        )
    return parts


def _goes_up(neighbour: int | None, anchor: Anchor, band: Band, strip: int) -> bool:
    """Tell whether a sideways part goes on upward: to its other strip, or to its terminal."""
    if neighbour is not None:
        return neighbour > strip
    return anchor.y_mm >= band.high_mm


def _slants(way: _Way, n: int) -> bool:
    """Tell whether a part is the fan of a core just out of its cable."""
    return way.course.core and n == 0 and abs(way.xs_mm[0] - way.xs_mm[1]) <= FAN_MM


def _path(way: _Way, heights_mm: Mapping[str, float], *, behind: bool) -> tuple[Point, ...]:
    begin, end = way.course.begin, way.course.end
    z_mm = BEHIND_MM if behind else FRONT_MM
    points: list[Point] = [(way.xs_mm[0], begin.y_mm, z_mm)]
    for n in range(len(way.strips)):
        a_mm, b_mm = way.xs_mm[n], way.xs_mm[n + 1]
        if _slants(way, n):
            sign = 1.0 if begin.up else -1.0
            room_mm = min(1.0, abs(end.y_mm - begin.y_mm) / (_FAN_END_MM + 6.0))
            points.append((a_mm, begin.y_mm + sign * _FAN_BEGIN_MM * room_mm, z_mm))
            points.append((b_mm, begin.y_mm + sign * _FAN_END_MM * room_mm, z_mm))
        elif f"{way.course.id}/{n}" in heights_mm:
            y_mm = heights_mm[f"{way.course.id}/{n}"]
            points += [(a_mm, y_mm, z_mm), (b_mm, y_mm, z_mm)]
    # An offset that the eye takes for none is not drawn: the last upright stays upright.
    points.append((points[-1][0], end.y_mm, z_mm))
    return _straightened(points)


def _straightened(points: list[Point]) -> tuple[Point, ...]:
    """Drop points that the path passes straight through, and repeated ones."""
    kept = [points[0]]
    for here, ahead in zip(points[1:], [*points[2:], None], strict=True):
        if here == kept[-1]:
            continue
        if ahead and _in_line(kept[-1], here, ahead):
            continue
        kept.append(here)
    return tuple(kept)


def _in_line(a: Point, b: Point, c: Point) -> bool:
    return any(math.isclose(a[k], b[k]) and math.isclose(b[k], c[k]) for k in (0, 1))
