"""Conductors, their number tags and the places where they enter the board."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from boardwright.design import Variant
from boardwright.documents.drawing.frame import Frame
from boardwright.documents.drawing.labels import text_width_mm
from boardwright.documents.drawing.strokes import (
    Flat,
    bend_radius_mm,
    drawn_width_mm,
    rounded,
)
from boardwright.wiring.results import Conductor, End, Origin

Part = tuple[Flat, Flat]
"""A straight part of a conductor, by its ends."""

TAG_MM = 8.0
_TAGGED_PARTS = 3
_MIDDLE = 0.5
_BRACKET_OFF_MM = 12.0
_BRACKET_MM = 18.0
_LABEL_MM = 4.8
_CABLE_MM = 17.8
SHEATH_MM = 40.0
"""How far the tails keep their sheath inside the enclosure. [mm]"""


@dataclass(frozen=True, slots=True)
class WireMark:
    """One conductor drawn.

    ``ferrules`` are the points at which it meets a device or a bar, each with the point
    before it, which gives the direction; ``core`` is a core of a circuit's cable.
    """

    id: str
    step: int
    group: str
    function: str
    title: str
    d: str
    width_mm: float
    points: tuple[Flat, ...]
    ferrules: tuple[tuple[Flat, Flat], ...]
    ends: tuple[Flat, ...]
    existing: bool
    core: bool
    tail: bool
    colour: str


@dataclass(frozen=True, slots=True)
class EntryMark:
    """A gland on the enclosure's edge, ``below`` on its lower one, with the sheath in it."""

    kind: str
    x_mm: float
    width_mm: float
    label: str
    sheaths_mm: tuple[float, ...]
    below: bool = False


@dataclass(frozen=True, slots=True)
class TagMark:
    """A step number on a conductor, or on the bracket of a run of equal ones."""

    id: str
    x_mm: float
    y_mm: float
    number: int
    bracket_mm: tuple[float, float, float] | None = None
    label: str = ""
    side: int = 1


def wires(variant: Variant, frame: Frame) -> tuple[WireMark, ...]:
    """Return every conductor with a path; combs are drawn as combs, not as wires."""
    drawn = (
        conductor
        for conductor in variant.wiring.conductors
        if conductor.origin is not Origin.BUSBAR and len(conductor.path) > 1
    )
    # The SPD's leads decide what a surge leaves, so nothing is drawn over them.
    upper = sorted(drawn, key=lambda c: "spd." in f"{c.begin.terminal} {c.end.terminal}")
    return tuple(_wire(conductor, variant, frame) for conductor in upper)


def tags(
    marks: tuple[WireMark, ...], frame: Frame, hand: str, *, beside: Iterable[Part] = ()
) -> tuple[TagMark, ...]:
    """Return a tag for each conductor with a step; runs of equal ones share a bracket.

    ``beside`` are what a tag would hide as well: cores and busbars, by their straight parts.
    """
    placed: list[TagMark] = []
    others = tuple(beside)
    parts = [(mark.id, part) for mark in marks for part in pairwise(mark.points)]
    parts += [("", part) for part in others]
    grouped = _grouped(marks)
    for (name, _), group in grouped.items():
        # What is on the board as found already is no step of the work.
        run = [mark for mark in group if mark.step]
        if len(run) > 1:
            placed.append(_bracket(name, run, frame, hand, others))
        elif run:
            placed.append(_tag(run[0], placed, [p for own, p in parts if own != run[0].id]))
    return tuple(placed)


def entries(variant: Variant) -> tuple[EntryMark, ...]:
    """Return the glands at the edges: tails, earth, and one a cable."""
    found: dict[tuple[str, bool], list[float]] = {}
    for conductor in variant.wiring.conductors:
        for end, point in (
            (conductor.begin, conductor.path[:1]),
            (conductor.end, conductor.path[-1:]),
        ):
            if point and not _inside(end, variant):
                x, y, _ = point[0]
                below = y < min(rail.y_mm for rail in variant.arrangement.enclosure.rails)
                found.setdefault((_entry_name(end), below), []).append(x)
    marks: list[EntryMark] = []
    for edge in (False, True):
        there = {name: xs for (name, below), xs in found.items() if below is edge}
        centres = sorted(_centre(xs) for name, xs in there.items() if name.startswith("cable-"))
        room = min((b - a for a, b in pairwise(centres)), default=_CABLE_MM)
        marks += [
            replace(_entry(name, sorted(xs), room), below=edge)
            for name, xs in sorted(there.items())
        ]
    return tuple(marks)


def _wire(conductor: Conductor, variant: Variant, frame: Frame) -> WireMark:
    # The wiring's paths stop at the edge of a device or bar, so that the screw stays visible.
    points = tuple(frame.flat(x, y) for x, y, _ in conductor.path)
    inside = tuple(_inside(end, variant) for end in (conductor.begin, conductor.end))
    ferrules = ((points[0], points[1]), (points[-1], points[-2]))
    return WireMark(
        id=conductor.id,
        step=conductor.step,
        group=conductor.group,
        function=conductor.function,
        title=f"{conductor.begin.label} to {conductor.end.label}, {conductor.csa_mm2:g} mm²",
        d=rounded(points, bend_radius_mm(conductor.csa_mm2)),
        width_mm=drawn_width_mm(conductor.csa_mm2),
        points=points,
        ferrules=tuple(pair for pair, drawn in zip(ferrules, inside, strict=True) if drawn),
        ends=tuple(_screws(conductor, variant, frame)),
        existing=conductor.origin is Origin.EXISTING,
        core=conductor.begin.terminal.startswith("cable-"),
        tail=not all(inside) and conductor.begin.terminal.startswith("meter."),
        colour=conductor.colour,
    )


def _screws(conductor: Conductor, variant: Variant, frame: Frame) -> Iterator[Flat]:
    """Yield the screws that the conductor joins, for the rings of a selection."""
    placements = {p.item.id: p for p in variant.arrangement.placements}
    bars = {bar.id: bar for bar in variant.arrangement.enclosure.bars}
    for end in (conductor.begin, conductor.end):
        place, _, name = end.terminal.rpartition(".")
        if place in placements:
            yield frame.flat(*placements[place].terminal_mm(name))
        elif place in bars and name.isdigit():
            yield frame.flat(bars[place].terminal_x_mm(int(name)), bars[place].y_mm)


def _grouped(marks: Iterable[WireMark]) -> dict[tuple[str, float], list[WireMark]]:
    """Return the conductors of each run by its name and the height of the row that they leave."""
    grouped: dict[tuple[str, float], list[WireMark]] = {}
    for mark in marks:
        row_mm = mark.ends[0][1] if mark.group and mark.ends else 0.0
        grouped.setdefault((mark.group or mark.id, row_mm), []).append(mark)
    return grouped


def _tag(mark: WireMark, placed: list[TagMark], others: Sequence[Part]) -> TagMark:
    """Put the tag on a straight part, off other tags, where it hides the fewest crossings."""
    spots = tuple(_spots(mark))
    free = [
        point
        for point in spots
        if all(
            abs(point[0] - o.x_mm) > TAG_MM + 1 or abs(point[1] - o.y_mm) > TAG_MM + 1
            for o in placed
        )
    ]
    x, y = min(free or spots[:1], key=lambda point: sum(_hides(point, part) for part in others))
    return TagMark(mark.id, x, y, mark.step)


def _spots(mark: WireMark) -> Iterator[Flat]:
    """Yield where a tag may stand, the best first: the middle of the longest straight part."""
    runs = sorted(pairwise(mark.points), key=lambda part: -math.dist(*part))
    for part in runs[:_TAGGED_PARTS]:
        begin, end = ((x, max(y, SHEATH_MM) if mark.tail else y) for x, y in part)
        length_mm = math.dist(begin, end)
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            # Off the bends and the screws at both ends; the middle will do where all is short.
            if min(share, 1 - share) * length_mm > TAG_MM or (share == _MIDDLE and part == runs[0]):
                yield (
                    begin[0] + (end[0] - begin[0]) * share,
                    begin[1] + (end[1] - begin[1]) * share,
                )


def _hides(point: Flat, part: Part) -> bool:
    """Tell whether a tag at a point would lie on a straight part of a conductor."""
    (x0, y0), (x1, y1) = part
    reach_mm = TAG_MM / 2 + 1
    return (
        min(x0, x1) - reach_mm < point[0] < max(x0, x1) + reach_mm
        and min(y0, y1) - reach_mm < point[1] < max(y0, y1) + reach_mm
    )


def _bracket(
    name: str, run: list[WireMark], frame: Frame, hand: str, others: Sequence[Part]
) -> TagMark:
    """Put one bracket beside the lanes of a run, on the side away from the main switch."""
    side = -1 if hand == "right" else 1
    xs = [x for mark in run for x, _ in mark.points]
    lanes = [y0 for mark in run for (_, y0), (_, y1) in pairwise(mark.points) if y0 == y1]
    ys = lanes or [y for mark in run for _, y in mark.points]
    low, high = min(ys) - 3, max(ys) + 3
    # Cores that run down beside the lanes are left between them and the bracket.
    xs += [x for part in others for x, _ in part if _runs_through(part, low, high)]
    label = name.replace("-", " ")
    x = max(xs) + _BRACKET_OFF_MM if side > 0 else min(xs) - _BRACKET_OFF_MM
    room_mm = frame.width_mm - x if side > 0 else x
    if room_mm < _BRACKET_MM + text_width_mm(label, _LABEL_MM):
        label = ""
    if room_mm < _BRACKET_MM:
        x = frame.width_mm - _BRACKET_MM if side > 0 else _BRACKET_MM
    return TagMark(run[0].id, x, (low + high) / 2, run[0].step, (x, low, high), label, side)


def _runs_through(part: Part, low_mm: float, high_mm: float) -> bool:
    (x0, y0), (x1, y1) = part
    return x0 == x1 and min(y0, y1) < high_mm and max(y0, y1) > low_mm


def _inside(end: End, variant: Variant) -> bool:
    """Tell whether an end is on a device or a bar of this enclosure."""
    place = end.terminal.rpartition(".")[0]
    arrangement = variant.arrangement
    return any(place == p.item.id for p in arrangement.placements) or any(
        place == bar.id for bar in arrangement.enclosure.bars
    )


def _entry_name(end: End) -> str:
    place, _, conductor = end.terminal.rpartition(".")
    if place.startswith("cable-"):
        return place
    return "earth" if conductor == "PE" else "tails" if place == "meter" else "from the board"


def _centre(xs: list[float]) -> float:
    return (min(xs) + max(xs)) / 2


def _entry(name: str, xs: list[float], room: float) -> EntryMark:
    centre = _centre(xs)
    if name == "tails":
        return EntryMark("tails", centre, xs[-1] - xs[0] + 17.0, "tails", tuple(xs))
    if not name.startswith("cable-"):
        return EntryMark("gland", centre, xs[-1] - xs[0] + 12.0, name, ())
    # Where two cables share a way, every gland is drawn as narrow as the closest pair asks.
    return EntryMark("cable", centre, min(14.0, room - 0.4), "", (centre,))
