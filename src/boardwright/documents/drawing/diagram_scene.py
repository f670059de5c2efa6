"""The scene of the single-line diagram: supply at the left, the board's rows, the legend."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import takewhile

from boardwright.board.results import Scheme
from boardwright.design import Design, Variant
from boardwright.documents.drawing.diagram import (
    HALF_MM,
    ArrowMark,
    FrameMark,
    LineMark,
    Mark,
    StrokesMark,
    SymbolMark,
    TextMark,
    fitted,
    in_lines,
    stacked,
)
from boardwright.documents.drawing.diagram_rows import Row, rows
from boardwright.documents.drawing.diagram_supply import (
    earth_bar_mm,
    earth_end_mm,
    earth_marks,
    supply_marks,
)
from boardwright.documents.drawing.symbols import symbols

WIDTH_MM = 194.0
"""As wide as the text on a sheet of A4. [mm]"""

TOP_MM = 18.0
PITCH_MM = 8.8
"""Where the board's first row stands, and how far rows are apart. [mm]"""

_BOARD_MM = 62.0
_FIRST_MM = 72.0
_LEVEL_MM = 18.0
_BUS_MM = 10.0
_LOAD_MM = 149.0
_NAME_MM = 156.0
_EDGE_MM = 1.5
_COLUMNS = 4
_LEGEND_MM = 11.0
_LINE_MM = 3.8
_KEY_MM = 8.0
_LEGEND_TOP_MM = 6.0


@dataclass(frozen=True, slots=True)
class DiagramScene:
    """Every mark of the diagram, and the symbols that it uses."""

    title: str
    description: str
    height_mm: float
    marks: tuple[Mark, ...]
    used: tuple[str, ...]


def diagram_scene(design: Design, variant: Variant) -> DiagramScene:
    """Return the single-line diagram of a variant, its legend below it."""
    bare = _without_legend(design, variant)
    top = bare.height_mm - _KEY_MM
    return replace(
        bare,
        height_mm=top + _legend_mm(bare.used) + _KEY_MM,
        marks=(*bare.marks, *_legend(bare.used, top)),
    )


def diagram_scenes(design: Design, variant: Variant, *, most_mm: float) -> tuple[DiagramScene, ...]:
    """Return the diagram; the legend stands on a sheet of its own where one would be too high."""
    whole = diagram_scene(design, variant)
    if whole.height_mm <= most_mm:
        return (whole,)
    bare = _without_legend(design, variant)
    legend = replace(
        bare,
        description="The symbols of the single-line diagram.",
        height_mm=_LEGEND_TOP_MM + _legend_mm(bare.used) + _KEY_MM,
        marks=tuple(_legend(bare.used, _LEGEND_TOP_MM)),
    )
    return bare, legend


def _without_legend(design: Design, variant: Variant) -> DiagramScene:
    listed = rows(design, variant)
    last = TOP_MM + PITCH_MM * (len(listed) - 1)
    inside = max(last, earth_bar_mm(design, TOP_MM)) + 7.0
    drawn = [
        *_frame(variant, inside),
        *supply_marks(design, TOP_MM, _BOARD_MM),
        *earth_marks(design, variant, TOP_MM, _BOARD_MM),
        *_earth_bar(earth_bar_mm(design, TOP_MM)),
        *_busbars(listed),
    ]
    for number, row in enumerate(listed):
        drawn += _row(row, TOP_MM + PITCH_MM * number)
    used = {mark.name for mark in drawn if isinstance(mark, SymbolMark)}
    foot = max(inside, earth_end_mm(design, TOP_MM)) + 8.0
    left_out = _left_out(design, listed, foot)
    drawn += left_out
    foot += _LINE_MM * len(left_out) + (3.0 if left_out else 0.0)
    return DiagramScene(
        title=design.job.title,
        description=(
            f"Single-line diagram, not to scale: {design.job.supply.system} supply, "
            f"{sum(bool(row.load) for row in listed)} lines from the board."
        ),
        height_mm=foot + _KEY_MM,
        marks=tuple(drawn),
        used=tuple(name for name in symbols() if name in used),
    )


def _legend_mm(used: tuple[str, ...]) -> float:
    return 6.0 + _LEGEND_MM * -(-len(used) // _COLUMNS)


def _frame(variant: Variant, bottom: float) -> Iterator[Mark]:
    name = variant.arrangement.enclosure.name
    if variant.scheme is Scheme.SEPARATE_BOX:
        name = f"Board as found, and beside it: {name}"
    words = in_lines(name, WIDTH_MM - _BOARD_MM - 2.0, 1, strong=True)
    yield from (TextMark(_BOARD_MM, 6.4, line, strong=True) for line in words)
    yield FrameMark(_BOARD_MM, 9.0, WIDTH_MM - _BOARD_MM - _EDGE_MM, bottom - 9.0)


def _earth_bar(y: float) -> Iterator[Mark]:
    x = _BOARD_MM + 4.0
    yield LineMark(((x, y - 3.5), (x, y + 3.5)), earth=True)
    yield from stacked(x + 1.6, y, ("earth", "bar"))


def _x(depth: int) -> float:
    return _FIRST_MM + _LEVEL_MM * depth


def _busbars(listed: tuple[Row, ...]) -> Iterator[Mark]:
    """Yield the busbar behind each device that feeds others, down to the last of them."""
    for number, row in enumerate(listed):
        below = _under(row, listed[number + 1 :])
        ends = [k for k, other in enumerate(below, number + 1) if other.depth == row.depth + 1]
        if row.feeds and ends:
            x = _x(row.depth) + _BUS_MM
            yield LineMark(((x, TOP_MM + PITCH_MM * number), (x, TOP_MM + PITCH_MM * ends[-1])))


def _under(row: Row, after: tuple[Row, ...]) -> Iterator[Row]:
    return takewhile(lambda other: other.depth > row.depth, after)


def _row(row: Row, y: float) -> Iterator[Mark]:
    x = _x(row.depth)
    start = _BOARD_MM if row.depth == 0 else _x(row.depth - 1) + _BUS_MM
    yield LineMark(((start, y), (x - HALF_MM, y)))
    yield from _device(row, x, y)
    if not row.load:
        end = x + (_BUS_MM if row.feeds else HALF_MM)
        yield LineMark(((x + HALF_MM, y), (end, y)))
        said = filter(None, (row.name, fitted(row.above, _NAME_MM - end)))
        yield from stacked(end + 2.5, y, tuple(said), first_strong=True)
        return
    end = _LOAD_MM - HALF_MM
    yield LineMark(((x + HALF_MM, y), (end, y)))
    words = x + HALF_MM + 2.0
    room = end - words - (4.5 if row.source or row.phases > 1 else 1.0)
    yield TextMark(words, y - 1.1, fitted(row.above, room))
    yield TextMark(words, y + 3.1, fitted(row.below, room))
    yield SymbolMark(row.load, _LOAD_MM, y)
    if row.source:
        yield ArrowMark(end - 2.6, y)
    if row.phases > 1:
        yield StrokesMark(end - 2.0, y, row.phases)
    yield from _name(row, y)


def _device(row: Row, x: float, y: float) -> Iterator[Mark]:
    if row.device:
        yield SymbolMark(row.device, x, y)
    else:
        yield LineMark(((x - HALF_MM, y), (x + HALF_MM, y)))


def _name(row: Row, y: float) -> Iterator[Mark]:
    room = WIDTH_MM - _EDGE_MM - _NAME_MM - 1.0
    if row.note:
        lines = (*in_lines(row.name, room, 1, strong=True), *in_lines(row.note, room, 1))
        yield from stacked(_NAME_MM, y, lines, first_strong=True)
        return
    lines = in_lines(row.name, room, 2, strong=True)
    for number, words in enumerate(lines):
        top = y - 1.85 * (len(lines) - 1) + 1.0
        yield TextMark(_NAME_MM, top + 3.7 * number, words, strong=True)


def _left_out(design: Design, listed: tuple[Row, ...], top: float) -> tuple[TextMark, ...]:
    """Return the circuits that no row shows: a diagram hides nothing."""
    shown = {row.name for row in listed if row.load}
    names = [circuit.name for circuit in design.job.circuits if circuit.name not in shown]
    if not names:
        return ()
    lines = in_lines(
        f"No device of this board is known for: {', '.join(names)}.", WIDTH_MM - 12.0, 6
    )
    return tuple(TextMark(0.0, top + _LINE_MM * n, words) for n, words in enumerate(lines))


def _legend(used: tuple[str, ...], top: float) -> Iterator[Mark]:
    width = WIDTH_MM / _COLUMNS
    yield TextMark(0.0, top, "Symbols in this diagram", strong=True)
    for number, name in enumerate(used):
        row, column = divmod(number, _COLUMNS)
        x, y = column * width, top + 8.0 + _LEGEND_MM * row
        yield SymbolMark(name, x + HALF_MM, y)
        yield from stacked(x + 12.5, y, in_lines(symbols()[name].title, width - 13.5, 2))
