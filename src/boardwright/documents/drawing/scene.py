"""The scene of the board: every mark of the drawing in its place, before any ink.

The model's frame (origin bottom left, y up) is turned once, in :class:`Frame`; everything
after that is in the drawing's frame, y down, in mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.core.findings import Finding
from boardwright.design import Variant
from boardwright.documents.drawing.bars import BarMark, CombMark, bar_marks, comb_marks
from boardwright.documents.drawing.devices import DeviceMark, device_marks, spare_marks
from boardwright.documents.drawing.frame import Frame
from boardwright.documents.drawing.rule import FlagMark, WayMark, flag_marks, way_marks
from boardwright.documents.drawing.wires import EntryMark, TagMark, WireMark, entries, tags, wires


@dataclass(frozen=True, slots=True)
class Scene:
    """All marks of one board, in the order of layers."""

    frame: Frame
    title: str
    description: str
    rails: tuple[tuple[float, float, float], ...]
    existing: tuple[WireMark, ...]
    devices: tuple[DeviceMark, ...]
    spares: tuple[float, ...]
    combs: tuple[CombMark, ...]
    bars: tuple[BarMark, ...]
    wires: tuple[WireMark, ...]
    entries: tuple[EntryMark, ...]
    tags: tuple[TagMark, ...]
    ways: tuple[WayMark, ...]
    flags: tuple[FlagMark, ...]
    functions: tuple[str, ...]


def scene(variant: Variant, title: str, findings: tuple[Finding, ...] = ()) -> Scene:
    """Return the scene of a variant's board; findings become flags under their ways."""
    arrangement = variant.arrangement
    frame = Frame.of(arrangement.enclosure)
    drawn = wires(variant, frame)
    fresh = tuple(mark for mark in drawn if not mark.existing)
    return Scene(
        frame=frame,
        title=title,
        description=_description(variant),
        rails=tuple(
            (rail.x_mm, rail.x_mm + rail.modules * frame.module_mm, frame.y(rail.y_mm))
            for rail in arrangement.enclosure.rails
        ),
        existing=tuple(mark for mark in drawn if mark.existing),
        devices=device_marks(arrangement, frame),
        spares=spare_marks(arrangement),
        combs=comb_marks(variant, frame),
        bars=bar_marks(variant, frame),
        wires=fresh,
        entries=entries(variant),
        tags=tags(fresh, frame),
        ways=way_marks(arrangement),
        flags=flag_marks(arrangement, findings),
        functions=tuple(sorted({mark.function for mark in fresh}, key=_function_place)),
    )


def _description(variant: Variant) -> str:
    arrangement = variant.arrangement
    return (
        f"{arrangement.enclosure.name}, front view, cover off, to scale: "
        f"{len(arrangement.placements)} devices, {arrangement.spare_modules} spare modules."
    )


def _function_place(function: str) -> int:
    order = ("L", "L1", "L2", "L3", "N", "PE", "PEN")
    return order.index(function) if function in order else len(order)
