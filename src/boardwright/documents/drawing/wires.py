"""Conductors, their number tags and the places where they enter the board."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from boardwright.design import Variant
from boardwright.documents.drawing.frame import Frame
from boardwright.documents.drawing.strokes import (
    Flat,
    bend_radius_mm,
    drawn_width_mm,
    longest_straight,
    middle,
    rounded,
    trimmed,
)
from boardwright.wiring.results import Conductor, End, Origin

DEVICE_TRIM_MM = 7.5
BAR_TRIM_MM = 4.5
"""From a screw to the edge of its device or bar: there the conductor stops, so that the
screw stays visible."""

TAG_MM = 8.0
_OUTSIDE = ("meter.", "met.", "cable-")


@dataclass(frozen=True, slots=True)
class WireMark:
    """One conductor drawn.

    ``ferrules`` are the points at which it meets a device or a bar, each with the point
    before it, which gives the direction.
    """

    id: str
    step: int
    group: str
    function: str
    title: str
    d: str
    width: float
    points: tuple[Flat, ...]
    ferrules: tuple[tuple[Flat, Flat], ...]
    ends: tuple[Flat, ...]
    existing: bool
    colour: str


@dataclass(frozen=True, slots=True)
class EntryMark:
    """A gland on the enclosure's edge, with the sheath of what passes through."""

    kind: str
    x: float
    width: float
    label: str
    sheaths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class TagMark:
    """A step number on a conductor, or on the bracket of a run of equal ones."""

    id: str
    x: float
    y: float
    number: int
    bracket: tuple[float, float, float] | None = None
    label: str = ""


def wires(variant: Variant, frame: Frame) -> tuple[WireMark, ...]:
    """Return every conductor with a path; combs are drawn as combs, not as wires."""
    drawn = (
        c for c in variant.wiring.conductors if c.origin is not Origin.BUSBAR and len(c.path) > 1
    )
    return tuple(_wire(conductor, variant, frame) for conductor in drawn)


def tags(marks: tuple[WireMark, ...], frame: Frame) -> tuple[TagMark, ...]:
    """Return a tag for each conductor with a step; runs of equal ones share a bracket."""
    placed: list[TagMark] = []
    grouped = _grouped(marks)
    for name, run in grouped.items():
        if len(run) > 1:
            placed.append(_bracket(name, run, frame))
        elif run[0].step:
            placed.append(_tag(run[0], placed))
    return tuple(placed)


def entries(variant: Variant) -> tuple[EntryMark, ...]:
    """Return the glands at the top edge: tails, earth, and one a cable."""
    found: dict[str, list[float]] = {}
    for conductor in variant.wiring.conductors:
        for end, point in (
            (conductor.begin, conductor.path[:1]),
            (conductor.end, conductor.path[-1:]),
        ):
            if point and end.terminal.startswith(_OUTSIDE):
                found.setdefault(_entry_name(end), []).append(point[0][0])
    return tuple(_entry(name, sorted(xs)) for name, xs in sorted(found.items()))


def _wire(conductor: Conductor, variant: Variant, frame: Frame) -> WireMark:
    points = tuple(frame.flat(x, y) for x, y, _ in conductor.path)
    items = {placement.item.id for placement in variant.arrangement.placements}
    trims = tuple(_trim(end, items) for end in (conductor.begin, conductor.end))
    seen = trimmed(points, *trims)
    ferrules = []
    if trims[0] and len(seen) > 1:
        ferrules.append((seen[0], seen[1]))
    if trims[1] and len(seen) > 1:
        ferrules.append((seen[-1], seen[-2]))
    return WireMark(
        id=conductor.id,
        step=conductor.step,
        group=conductor.group,
        function=conductor.function,
        title=f"{conductor.begin.label} to {conductor.end.label}, {conductor.csa_mm2:g} mm²",
        d=rounded(seen, bend_radius_mm(conductor.csa_mm2)),
        width=drawn_width_mm(conductor.csa_mm2),
        points=seen,
        ferrules=tuple(ferrules),
        ends=tuple(
            point for point, trim in zip((points[0], points[-1]), trims, strict=True) if trim
        ),
        existing=conductor.origin is Origin.EXISTING,
        colour=conductor.colour,
    )


def _trim(end: End, items: set[str]) -> float:
    if end.terminal.startswith(_OUTSIDE):
        return 0.0
    return DEVICE_TRIM_MM if end.terminal.rsplit(".", 1)[0] in items else BAR_TRIM_MM


def _grouped(marks: Iterable[WireMark]) -> dict[str, list[WireMark]]:
    grouped: dict[str, list[WireMark]] = {}
    for mark in marks:
        grouped.setdefault(mark.group or mark.id, []).append(mark)
    return grouped


def _tag(mark: WireMark, placed: list[TagMark]) -> TagMark:
    """Put the tag on the middle of the longest straight part, moved along it off other tags."""
    part = longest_straight(mark.points)
    candidates = [middle(part)] + [
        (
            part[0][0] + (part[1][0] - part[0][0]) * share,
            part[0][1] + (part[1][1] - part[0][1]) * share,
        )
        for share in (0.35, 0.65, 0.2, 0.8)
    ]
    free = (
        point
        for point in candidates
        if all(abs(point[0] - o.x) > TAG_MM + 1 or abs(point[1] - o.y) > TAG_MM + 1 for o in placed)
    )
    x, y = next(free, candidates[0])
    return TagMark(mark.id, x, y, mark.step)


def _bracket(name: str, run: list[WireMark], frame: Frame) -> TagMark:
    """Put one bracket beside the lanes of a run, on the side that has room."""
    xs = [x for mark in run for x, _ in mark.points]
    ys = [y for mark in run for part in [longest_straight(mark.points)] for _, y in part]
    low, high = min(ys) - 3, max(ys) + 3
    x = max(xs) + 15.0
    label = name.replace("-", " ")
    if x + 14 > frame.width_mm:
        x, label = frame.width_mm - 16.0, ""
    return TagMark(run[0].id, x, (low + high) / 2, run[0].step, (x, low, high), label)


def _entry_name(end: End) -> str:
    place = end.terminal.split(".", 1)[0]
    return {"meter": "tails", "met": "earth"}.get(place, place)


def _entry(name: str, xs: list[float]) -> EntryMark:
    centre = (xs[0] + xs[-1]) / 2
    if name == "tails":
        return EntryMark("tails", centre, xs[-1] - xs[0] + 17.0, "tails", tuple(xs))
    if name == "earth":
        return EntryMark("earth", centre, 12.0, "earth", ())
    return EntryMark("cable", centre, 14.0, "", (centre,))
