"""The scene of the wiring diagram: every conductor between its two terminals, bar by bar.

A bar, a comb or the side of a row of devices stands upright; each conductor runs level from one
terminal to the other. So no two cross, and the eye follows each without a ruler.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from boardwright.catalogue.enclosures import Bar
from boardwright.design import Variant
from boardwright.documents.drawing.diagram import NAME_MM, in_lines
from boardwright.documents.drawing.strokes import drawn_width_mm, in_key_order
from boardwright.documents.words.conductor_words import end_words, in_order_of_work, size_words
from boardwright.documents.words.figures import NO_BREAK
from boardwright.wiring.results import SECOND_LEG, Conductor, End, Origin

WIDTH_MM = 194.0
"""As wide as the text on a sheet of A4. [mm]"""

COLUMN_MM = 93.0
"""Each of the two columns. [mm]"""

LEFT_MM, RIGHT_MM = 30.0, 51.0
"""From a column's edge to the terminals of the two ends. [mm]"""

TEXT_GAP_MM = 2.6
_ROW_MM = 4.6
_LINE_MM = 3.2
_HEAD_MM = 8.6
_TOP_MM = 4.0
_FOOT_MM = 13.0
_SIZE_MM = 7.0
_WIRE_FACTOR = 0.45
"""A conductor's drawn width beside that of the board drawing, which is twice as large."""

_KINDS = {"PE": "Earth bar", "N": "Neutral bar"}
_SIDE = re.compile(r", (?:top|bottom)$")


@dataclass(frozen=True, slots=True)
class RowMark:
    """One conductor: its ends in words, line by line, its number, its size and its stroke."""

    id: str
    x_mm: float
    y_mm: float
    left: tuple[str, ...]
    right: tuple[str, ...]
    number: str
    size: str
    function: str
    width_mm: float
    existing: bool
    title: str

    @property
    def lines(self) -> int:
        """How many lines of type it takes."""
        return max(len(self.left), len(self.right))


@dataclass(frozen=True, slots=True)
class BlockMark:
    """What stands upright on the left of its rows: a bar, a comb, or nothing but a name."""

    name: str
    x_mm: float
    y_mm: float
    top_mm: float
    bottom_mm: float
    metal: bool
    function: str


@dataclass(frozen=True, slots=True)
class ConnectionScene:
    """All rows and blocks of the diagram."""

    title: str
    description: str
    height_mm: float
    rows: tuple[RowMark, ...]
    blocks: tuple[BlockMark, ...]
    functions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Row:
    conductor: Conductor
    number: str
    left: str
    right: str


@dataclass(frozen=True, slots=True)
class _Block:
    name: str
    rows: tuple[_Row, ...]
    metal: bool = False
    function: str = ""


def connection_scene(variant: Variant, title: str) -> ConnectionScene:
    """Return the scene of a variant's wiring diagram, however long it is."""
    return _scene(tuple(_blocks(variant)), title)


def connection_scenes(
    variant: Variant, title: str, *, most_mm: float
) -> tuple[ConnectionScene, ...]:
    """Return the scene in as many parts as it takes for none to be higher than a sheet."""
    return tuple(_sheets(tuple(_blocks(variant)), title, most_mm))


def _sheets(blocks: Sequence[_Block], title: str, most_mm: float) -> Iterator[ConnectionScene]:
    whole = _scene(blocks, title)
    parted = _parted(blocks)
    if whole.height_mm <= most_mm or not all(parted):
        yield whole
        return
    for part in parted:
        yield from _sheets(part, title, most_mm)


def _scene(blocks: Sequence[_Block], title: str) -> ConnectionScene:
    parted = _parted(blocks)
    made = [_column(column, k * (COLUMN_MM + 8.0)) for k, column in enumerate(parted)]
    rows = tuple(row for marks, _, _ in made for row in marks)
    count = len({row.id for row in rows})
    return ConnectionScene(
        title=title,
        description=f"Wiring diagram, not to scale: {count} conductors between their terminals.",
        height_mm=max(end_mm for _, _, end_mm in made) + _FOOT_MM,
        rows=rows,
        blocks=tuple(block for _, marks, _ in made for block in marks),
        functions=in_key_order(row.function for row in rows),
    )


def _blocks(variant: Variant) -> Iterator[_Block]:
    """Yield the supply first, then bar by bar, comb by comb, and the cables at their devices."""
    numbers = _numbers(variant.wiring.conductors)
    left = dict(numbers)
    bars = variant.arrangement.enclosure.bars
    supply = [c for c in left if _outside_or_link(c, bars)]
    yield _block("Supply, links and SPD", [_plain(c, left.pop(c)) for c in supply])
    for bar in bars:
        own = [c for c in left if _on(c, bar.id)]
        rows = [_at_bar(c, left.pop(c), bar.id) for c in own]
        rows.sort(key=lambda row: int(row.left) if row.left.isdigit() else 0)
        yield _block(_bar_name(bar), rows, metal=True, function=bar.conductor)
    for comb in [c for c in left if c.origin is Origin.BUSBAR]:
        number = left.pop(comb)
        name = _comb_name(comb, variant)
        rows = [_Row(comb, number, "", _tooth(name_, variant)) for name_ in comb.teeth]
        yield _block(name, rows, metal=True, function=comb.function)
    # The device beside it names the circuit.
    cables = [
        _Row(
            c,
            number,
            f"cable{NO_BREAK}2" if SECOND_LEG in c.begin.terminal else "cable",
            _words(c.end),
        )
        for c, number in left.items()
    ]
    yield _block("Cables at their devices", cables)


def _block(name: str, rows: Sequence[_Row], *, metal: bool = False, function: str = "") -> _Block:
    return _Block(name, tuple(rows), metal, function)


def _numbers(conductors: tuple[Conductor, ...]) -> dict[Conductor, str]:
    """Return a number for each conductor: its step, and which of that step's it is."""
    in_step: Counter[int] = Counter(c.step for c in conductors)
    seen: Counter[int] = Counter()
    numbers: dict[Conductor, str] = {}
    for conductor in in_order_of_work(conductors):
        seen[conductor.step] += 1
        step = str(conductor.step) if conductor.step else ""
        several = step and in_step[conductor.step] > 1
        numbers[conductor] = f"{step}.{seen[conductor.step]}" if several else step
    return numbers


def _outside_or_link(conductor: Conductor, bars: Iterable[Bar]) -> bool:
    """Tell whether a conductor is no core, no comb and ends on no bar."""
    core = conductor.begin.terminal.startswith("cable-")
    on_bar = any(_on(conductor, bar.id) for bar in bars if bar.conductor in _KINDS)
    return not core and not on_bar and conductor.origin is not Origin.BUSBAR


def _on(conductor: Conductor, bar_id: str) -> bool:
    ends = (conductor.begin.terminal, conductor.end.terminal)
    return any(end.rpartition(".")[0] == bar_id for end in ends)


def _plain(conductor: Conductor, number: str) -> _Row:
    return _Row(conductor, number, _words(conductor.begin), _words(conductor.end))


def _at_bar(conductor: Conductor, number: str, bar_id: str) -> _Row:
    ends = (conductor.begin, conductor.end)
    here = next(end for end in ends if end.terminal.rpartition(".")[0] == bar_id)
    there = conductor.end if here is conductor.begin else conductor.begin
    return _Row(conductor, number, here.terminal.rpartition(".")[2], _words(there))


def _bar_name(bar: Bar) -> str:
    if bar.conductor not in _KINDS:
        return f"Lug of rail {(bar.rail or 0) + 1}"
    section = f" {bar.section.upper()}" if bar.section else ""
    rail = f" of rail {bar.rail + 1}" if bar.rail else ""
    return f"{_KINDS[bar.conductor]}{section}{rail}"


def _comb_name(comb: Conductor, variant: Variant) -> str:
    """Name a comb after its phase, and after the section or the further rail that it feeds."""
    met = {terminal.rpartition(".")[0] for terminal in comb.teeth}
    places = [p for p in variant.arrangement.placements if p.item.id in met]
    section = next((p.item.section.upper() for p in places if p.item.section), "")
    rail = max((p.rail for p in places), default=0)
    phase = "" if comb.function == "L" else comb.function
    return " ".join(filter(None, ("Busbar", phase, section, f"of rail {rail + 1}" if rail else "")))


def _tooth(terminal: str, variant: Variant) -> str:
    item_id, _, name = terminal.rpartition(".")
    for placement in variant.arrangement.placements:
        if placement.item.id == item_id:
            return f"{placement.item.label} {name}"
    return "Lug" if name else terminal


def _words(end: End) -> str:
    return _SIDE.sub("", end_words(end)).replace(", second cable", f" cable{NO_BREAK}2")


def _parted(blocks: Sequence[_Block]) -> tuple[list[_Block], list[_Block]]:
    """Return the blocks in two columns, cut where the longer of the two is shortest."""
    filled = [block for block in blocks if block.rows]
    cuts = (
        _cut(filled, number, row)
        for number, block in enumerate(filled)
        for row in (0, *range(_LEAST_ROWS, len(block.rows) - _LEAST_ROWS + 1))
    )
    return min(cuts, key=lambda columns: max(map(_length, columns)), default=([], []))


_CONTINUED = ", continued"

_LEAST_ROWS = 4
"""Fewer rows of a block are not parted from the rest."""

_MOST_LINES = 3
"""A long name takes a third line: its last words say which terminal it is."""

_HEAD_ROWS = 2
"""What a block's name takes, in rows."""


def _cut(blocks: Sequence[_Block], number: int, row: int) -> tuple[list[_Block], list[_Block]]:
    """Return the blocks before a row of one of them, and from there on."""
    block = blocks[number]
    if row == 0:
        return list(blocks[:number]), list(blocks[number:])
    begun = replace(block, rows=block.rows[:row])
    name = f"{block.name.removesuffix(_CONTINUED)}{_CONTINUED}"
    rest = replace(block, name=name, rows=block.rows[row:])
    return [*blocks[:number], begun], [rest, *blocks[number + 1 :]]


def _length(blocks: Sequence[_Block]) -> int:
    return sum(len(block.rows) + _HEAD_ROWS for block in blocks)


def _column(blocks: Sequence[_Block], x_mm: float) -> tuple[list[RowMark], list[BlockMark], float]:
    """Return the rows and blocks of one column, and where it ends. [mm]"""
    rows: list[RowMark] = []
    marks: list[BlockMark] = []
    y_mm = _TOP_MM
    for block in blocks:
        y_mm += NAME_MM
        head_mm, y_mm = y_mm, y_mm + _HEAD_MM - NAME_MM
        own: list[RowMark] = []
        for row in block.rows:
            made = _row(row, x_mm, y_mm)
            extra_mm = (made.lines - 1) * _LINE_MM
            own.append(replace(made, y_mm=y_mm + extra_mm / 2))
            y_mm += _ROW_MM + extra_mm
        rows += own
        marks.append(
            BlockMark(
                block.name, x_mm, head_mm, own[0].y_mm - 2.4, own[-1].y_mm + 2.4,
                block.metal, block.function,
            )
        )  # fmt: skip
        y_mm += 2.0
    return rows, marks, y_mm


def _row(row: _Row, x_mm: float, y_mm: float) -> RowMark:
    conductor = row.conductor
    size = size_words(conductor)
    return RowMark(
        id=conductor.id,
        x_mm=x_mm,
        y_mm=y_mm,
        left=in_lines(row.left, LEFT_MM - TEXT_GAP_MM, _MOST_LINES),
        right=in_lines(row.right, COLUMN_MM - RIGHT_MM - TEXT_GAP_MM - _SIZE_MM, _MOST_LINES),
        number="" if conductor.origin is Origin.BUSBAR else row.number,
        size=size,
        function=conductor.function,
        width_mm=_WIRE_FACTOR * drawn_width_mm(conductor.csa_mm2),
        existing=conductor.origin is Origin.EXISTING,
        title=f"{conductor.begin.label} to {conductor.end.label}, "
        + (f"{size} mm²" if size else "busbar"),
    )
