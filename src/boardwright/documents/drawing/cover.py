"""The scene of the board with its cover on: windows, blanks, strips of labels, notices."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardwright.board.results import Arrangement, Placement, Role
from boardwright.catalogue.devices import MODULE_MM
from boardwright.design import Variant
from boardwright.documents.drawing.devices import GAP_MM, DeviceMark, device_marks
from boardwright.documents.drawing.frame import Frame
from boardwright.documents.drawing.labels import broken, text_width_mm
from boardwright.documents.drawing.rule import NAME_MM
from boardwright.documents.drawing.wires import EntryMark, entries

HALF_WINDOW_MM = 22.5
"""Half the height of the opening in a cover: 45 mm, DIN 43880, from memory. [mm]"""

STRIP_GAP_MM = 4.0
STRIP_MM = 20.0
"""The strip of labels: its distance below the opening, and its height. [mm]"""

NOTICE_MM = (85.0, 38.0)
"""Width and height of a notice, as the pack prints it at full size. [mm]"""

_TITLE_MM = 5.2
_EDGE_MM = 14.0
_BETWEEN_MM = 8.0
_RULE_MM = 6.0
_INSET_MM = 0.8
_INSET_WIDE_MM = 3.0


@dataclass(frozen=True, slots=True)
class OpeningMark:
    """The opening over one rail: left, right, and the rail's centre. [mm]"""

    x0_mm: float
    x1_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class LabelMark:
    """One label of a strip: its ends, the strip's top, its way and its name in lines."""

    x0_mm: float
    x1_mm: float
    y_mm: float
    number: str
    lines: tuple[str, ...]
    spare: bool
    title: str

    @property
    def centre(self) -> float:
        """The middle of the label. [mm]"""
        return (self.x0_mm + self.x1_mm) / 2


@dataclass(frozen=True, slots=True)
class NoticeMark:
    """One notice on the cover, its title in lines; the pack prints its words at full size."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CoverScene:
    """All marks of a closed board, in the order of layers.

    ``blanks`` are (x, rail's centre); ``buttons`` the test buttons; ``beside`` the notices that
    find no room on the cover.
    """

    frame: Frame
    title: str
    description: str
    entries: tuple[EntryMark, ...]
    openings: tuple[OpeningMark, ...]
    devices: tuple[DeviceMark, ...]
    blanks_mm: tuple[tuple[float, float], ...]
    buttons_mm: tuple[tuple[float, float], ...]
    labels: tuple[LabelMark, ...]
    notices: tuple[NoticeMark, ...]
    beside: tuple[str, ...]
    screws_mm: tuple[tuple[float, float], ...]


def cover_scene(variant: Variant, title: str, notices: Sequence[str] = ()) -> CoverScene:
    """Return the scene of a variant's board, closed; ``notices`` are titles of what hangs on it."""
    arrangement = variant.arrangement
    frame = Frame.of(arrangement.enclosure, rule_mm=_RULE_MM)
    openings = tuple(_openings(arrangement, frame))
    placed, beside = _notices(notices, openings, frame)
    blanks = tuple(_blanks(arrangement, frame))
    devices = device_marks(arrangement, frame)
    return CoverScene(
        frame=frame,
        title=title,
        description=(
            f"{arrangement.enclosure.name}, front view, cover on, to scale: "
            f"{len(devices)} devices, {len(blanks)} blanks."
        ),
        entries=entries(variant),
        openings=openings,
        devices=devices,
        blanks_mm=tuple((x, y) for x, y, _ in blanks),
        buttons_mm=tuple(_buttons(arrangement, devices)),
        labels=tuple(_labels(arrangement, frame, blanks)),
        notices=placed,
        beside=beside,
        screws_mm=tuple((x, y) for x in _ends(frame.width_mm) for y in _ends(frame.height_mm)),
    )


def _ends(side_mm: float) -> tuple[float, float]:
    return 8.0, side_mm - 8.0


def _openings(arrangement: Arrangement, frame: Frame) -> Iterator[OpeningMark]:
    for rail in arrangement.enclosure.rails:
        right = rail.x_mm + rail.modules * MODULE_MM
        yield OpeningMark(rail.x_mm, right, frame.y(rail.y_mm))


def _blanks(arrangement: Arrangement, frame: Frame) -> Iterator[tuple[float, float, str]]:
    """Yield x, rail's centre and way of each module that a blank must close."""
    for number, rail in enumerate(arrangement.enclosure.rails):
        there = [p for p in arrangement.placements if p.rail == number]
        taken = {p.module + n for p in there for n in range(p.item.device.modules)}
        for module in range(rail.modules):
            if module not in taken:
                way = _way(arrangement, there, module)
                yield rail.left_mm(module) + GAP_MM / 2, frame.y(rail.y_mm), way


def _way(arrangement: Arrangement, there: Sequence[Placement], module: int) -> str:
    """Count a spare way as its neighbours are counted: away from the main switch."""
    known = next((p for p in there if p.way > 0), None)
    if known is None:
        return ""
    if arrangement.enclosure.hand == "right":
        return str(known.way + known.module + known.item.device.modules - 1 - module)
    return str(known.way + module - known.module)


def _buttons(
    arrangement: Arrangement, devices: Sequence[DeviceMark]
) -> Iterator[tuple[float, float]]:
    """Yield the middle of each test button, right of the lever."""
    for placement, mark in zip(arrangement.placements, devices, strict=True):
        if placement.item.device.idn_a is not None:
            x, width = mark.levers_mm[0]
            yield (x + width + mark.x_mm + mark.width_mm) / 2, mark.y_mm - 9.5


def _labels(
    arrangement: Arrangement, frame: Frame, blanks: Sequence[tuple[float, float, str]]
) -> Iterator[LabelMark]:
    below = HALF_WINDOW_MM + STRIP_GAP_MM
    for placement in arrangement.placements:
        item, y = placement.item, frame.y(placement.y_mm) + below
        x0, x1 = placement.x_mm, placement.x_mm + item.device.width_mm
        inset = _INSET_MM if item.device.modules == 1 else _INSET_WIDE_MM
        lines = broken(_name(placement), x1 - x0 - inset, NAME_MM)
        yield LabelMark(x0, x1, y, _number(placement), lines, spare=False, title=item.label)
    for x, y, way in blanks:
        x0 = x - GAP_MM / 2
        yield LabelMark(
            x0, x0 + MODULE_MM, y + below, way, ("spare",), spare=True, title=f"Way {way}, spare"
        )


def _name(placement: Placement) -> str:
    item = placement.item
    fixed = {
        Role.SPD: "Surge protection",
        Role.SPD_BACKUP: "for SPD",
        Role.MAIN_SWITCH: "Main switch",
        Role.INCOMER_RCD: "RCD, all ways",
    }
    section = item.section.removeprefix("rcd-").upper()
    name = {**fixed, Role.SECTION_RCD: f"RCD {section}"}.get(item.role)
    return name or item.short or item.label


def _number(placement: Placement) -> str:
    if not placement.way:
        return ""
    last = placement.way + placement.item.device.modules - 1
    return str(placement.way) if last == placement.way else f"{placement.way}–{last}"


def _notices(
    titles: Sequence[str], openings: Sequence[OpeningMark], frame: Frame
) -> tuple[tuple[NoticeMark, ...], tuple[str, ...]]:
    """Hang the notices in rows below the lowest strip, then above the highest opening."""
    width, height = NOTICE_MM
    in_row = int((frame.width_mm - 2 * _EDGE_MM + _BETWEEN_MM) // (width + _BETWEEN_MM))
    placed: list[NoticeMark] = []
    for y in _rows(openings, frame, -(-len(titles) // in_row) if in_row else 0):
        row = titles[len(placed) : len(placed) + in_row]
        left = (frame.width_mm - len(row) * (width + _BETWEEN_MM) + _BETWEEN_MM) / 2
        placed += [
            NoticeMark(left + n * (width + _BETWEEN_MM), y, width, height, _title(title))
            for n, title in enumerate(row)
        ]
    return tuple(placed), tuple(titles[len(placed) :])


def _title(title: str) -> tuple[str, ...]:
    """Return a title in lines that fit the notice, every word kept."""
    lines: list[str] = []
    for word in title.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(joined, _TITLE_MM) <= NOTICE_MM[0] - 8.0:
            lines[-1] = joined
        else:
            lines.append(word)
    return tuple(lines)


def _rows(openings: Sequence[OpeningMark], frame: Frame, wanted: int) -> Iterator[float]:
    """Yield the top of each row of notices that the free parts of the cover hold. [mm]"""
    height = NOTICE_MM[1]
    below = max(o.y_mm for o in openings) + HALF_WINDOW_MM + STRIP_GAP_MM + STRIP_MM
    above = min(o.y_mm for o in openings) - HALF_WINDOW_MM
    for top, bottom in ((below, frame.height_mm), (0.0, above)):
        room = int((bottom - top - _BETWEEN_MM) // (height + _BETWEEN_MM))
        rows = max(0, min(wanted, room))
        wanted -= rows
        gap = (bottom - top - rows * height) / (rows + 1)
        yield from (top + gap + row * (height + gap) for row in range(rows))
