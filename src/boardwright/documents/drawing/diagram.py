"""The marks of the single-line diagram, and the words that must fit beside its lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardwright.documents.drawing.labels import text_width_mm
from boardwright.documents.drawing.strokes import Flat

SMALL_MM = 2.6
NAME_MM = 2.9
"""Type sizes: what is said of a thing, and what it is called. [mm]"""

SYMBOL_MM = 10.0
HALF_MM = SYMBOL_MM / 2
"""A symbol's square, and its half. [mm]"""

DOT = " · "

_BOLD_FACTOR = 1.06
_LINE_FACTOR = 1.3


@dataclass(frozen=True, slots=True)
class SymbolMark:
    """A symbol about its middle; ``turned`` lets its line run upward from below."""

    name: str
    x_mm: float
    y_mm: float
    turned: bool = False


@dataclass(frozen=True, slots=True)
class LineMark:
    """A conductor along its points; ``earth`` marks a protective one."""

    points: tuple[Flat, ...]
    earth: bool = False

    @property
    def d(self) -> str:
        """Return the path for SVG."""
        return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in self.points)


@dataclass(frozen=True, slots=True)
class TextMark:
    """Words on a base line that begins at x."""

    x_mm: float
    y_mm: float
    words: str
    strong: bool = False

    @property
    def size_mm(self) -> float:
        """Size of the type. [mm]"""
        return NAME_MM if self.strong else SMALL_MM

    @property
    def width_mm(self) -> float:
        """About how far the words run. [mm]"""
        return width_mm(self.words, strong=self.strong)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the words. [mm]"""
        return (
            self.x_mm,
            self.y_mm - 0.75 * self.size_mm,
            self.x_mm + self.width_mm,
            self.y_mm + 0.22 * self.size_mm,
        )


@dataclass(frozen=True, slots=True)
class StrokesMark:
    """So many oblique strokes across a line: the phases it holds."""

    x_mm: float
    y_mm: float
    count: int


@dataclass(frozen=True, slots=True)
class ArrowMark:
    """Energy that flows towards the board: a head on the line, pointing left."""

    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class FrameMark:
    """The outline of an enclosure, dashed."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


Mark = SymbolMark | LineMark | TextMark | StrokesMark | ArrowMark | FrameMark


def width_mm(words: str, *, strong: bool = False) -> float:
    """Return about how wide words stand in the diagram. [mm]"""
    if strong:
        return text_width_mm(words, NAME_MM) * _BOLD_FACTOR
    return text_width_mm(words, SMALL_MM)


def fitted(parts: Sequence[str], room_mm: float) -> str:
    """Return the parts in one line, the last ones left out where there is no room."""
    kept = [part for part in parts if part]
    while len(kept) > 1 and width_mm(DOT.join(kept)) > room_mm:
        kept.pop()
    return DOT.join(kept)


def in_lines(words: str, room_mm: float, lines: int, *, strong: bool = False) -> tuple[str, ...]:
    """Return words in at most so many lines, broken between words; the last may be cut short."""
    made: list[str] = []
    # At spaces alone: a figure and its unit are joined by a space that does not break.
    for word in filter(None, words.split(" ")):
        joined = f"{made[-1]} {word}" if made else word
        if made and width_mm(joined, strong=strong) <= room_mm:
            made[-1] = joined
        else:
            made.append(word)
    kept = made[:lines]
    if len(made) > lines:
        kept[-1] += "…"
    return tuple(_cut(line, room_mm, strong=strong) for line in kept)


def stacked(
    x_mm: float, y_mm: float, lines: Sequence[str], *, first_strong: bool = False
) -> Iterator[TextMark]:
    """Yield lines of words one below the other, about the middle of y."""
    pitch = SMALL_MM * _LINE_FACTOR
    top = y_mm - pitch * (len(lines) - 1) / 2 + 0.35 * SMALL_MM
    for number, words in enumerate(lines):
        yield TextMark(x_mm, top + number * pitch, words, strong=first_strong and number == 0)


def _cut(line: str, room_mm: float, *, strong: bool) -> str:
    if width_mm(line, strong=strong) <= room_mm:
        return line
    while len(line) > 1 and width_mm(f"{line}…", strong=strong) > room_mm:
        line = line[:-1]
    return f"{line}…"
