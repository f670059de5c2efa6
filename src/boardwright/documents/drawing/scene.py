"""The scene of the board: every mark of the drawing in its place, before any ink.

The model's frame (origin bottom left, y up) is turned once, in :class:`Frame`; everything
after that is in the drawing's frame, y down, in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from boardwright.core.findings import Finding
from boardwright.design import Variant
from boardwright.documents.drawing.bars import BarMark, CombMark, bar_marks, comb_marks
from boardwright.documents.drawing.devices import DeviceMark, device_marks, spare_marks
from boardwright.documents.drawing.frame import FLAGS_MM, RULE_MM, Frame
from boardwright.documents.drawing.rule import FlagMark, WayMark, flag_marks, rules
from boardwright.documents.drawing.strokes import Flat, in_key_order
from boardwright.documents.drawing.wires import (
    SHEATH_MM,
    EntryMark,
    TagMark,
    WireMark,
    entries,
    tags,
    wires,
)


@dataclass(frozen=True, slots=True)
class Scene:
    """All marks of one board, in the order of layers."""

    frame: Frame
    title: str
    description: str
    rails_mm: tuple[tuple[float, float, float], ...]
    cores: tuple[WireMark, ...]
    devices: tuple[DeviceMark, ...]
    spares_mm: tuple[tuple[float, float], ...]
    combs: tuple[CombMark, ...]
    bars: tuple[BarMark, ...]
    wires: tuple[WireMark, ...]
    entries: tuple[EntryMark, ...]
    tags: tuple[TagMark, ...]
    rules: tuple[tuple[WayMark, ...], ...]
    rule_step_mm: float
    flags: tuple[FlagMark, ...]
    functions: tuple[str, ...]
    sheath_mm: float = SHEATH_MM

    @property
    def ways(self) -> tuple[WayMark, ...]:
        """The stretches of all rules, rail after rail."""
        return tuple(way for rule in self.rules for way in rule)

    def named(self, comb: CombMark) -> bool:
        """Tell whether the comb's name has room at its left: no conductor runs there."""
        right = comb.teeth_mm[0] - _COMB_GAP_MM
        return comb.first and not any(
            min(x0, x1) < right + 1
            and max(x0, x1) > right - _COMB_NAME_MM
            and min(y0, y1) < comb.bottom_mm
            and max(y0, y1) > comb.top_mm
            for mark in self.wires
            for (x0, y0), (x1, y1) in pairwise(mark.points)
        )


_COMB_NAME_MM = 16.0
_COMB_GAP_MM = 5.2
"""Width of the name of a comb, and its distance from the first tooth. [mm]"""


def scene(variant: Variant, title: str, findings: tuple[Finding, ...] = ()) -> Scene:
    """Return the scene of a variant's board; findings become flags under their ways."""
    arrangement = variant.arrangement
    flags = flag_marks(arrangement, findings)
    # The rules of further rails stand below that of the first, each with its flags.
    step_mm = RULE_MM + (FLAGS_MM if flags else 0.0)
    below_mm = RULE_MM + step_mm * (len(arrangement.enclosure.rails) - 1)
    frame = Frame.of(arrangement.enclosure, flagged=bool(flags), rule_mm=below_mm)
    drawn = wires(variant, frame)
    fresh = tuple(mark for mark in drawn if not mark.core)
    combs = comb_marks(variant, frame)
    cores = tuple(mark for mark in drawn if mark.core)
    beside = [part for core in cores for part in pairwise(core.points)]
    beside += map(_centre_line, combs)
    return Scene(
        frame=frame,
        title=title,
        description=_description(variant),
        rails_mm=tuple(
            (rail.x_mm, rail.x_mm + rail.modules * frame.module_mm, frame.y(rail.y_mm))
            for rail in arrangement.enclosure.rails
        ),
        cores=cores,
        devices=device_marks(arrangement, frame),
        spares_mm=spare_marks(arrangement, frame),
        combs=combs,
        bars=bar_marks(variant, frame),
        wires=fresh,
        entries=entries(variant),
        tags=tags(fresh, frame, arrangement.enclosure.hand, beside=beside),
        rules=rules(arrangement),
        rule_step_mm=step_mm,
        flags=flags,
        functions=in_key_order(mark.function for mark in fresh),
    )


def _centre_line(comb: CombMark) -> tuple[Flat, Flat]:
    y_mm = (comb.top_mm + comb.bottom_mm) / 2
    return (comb.teeth_mm[0], y_mm), (comb.teeth_mm[-1], y_mm)


def _description(variant: Variant) -> str:
    arrangement = variant.arrangement
    return (
        f"{arrangement.enclosure.name}, front view, cover off, to scale: "
        f"{len(arrangement.placements)} devices, {arrangement.spare_modules} spare modules."
    )
