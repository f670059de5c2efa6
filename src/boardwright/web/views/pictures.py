"""The picture on the board page: cover off, cover on, single line or wiring, nearer or farther.

What is shown and how near stands in the address, so that every choice is a plain link.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil
from urllib.parse import quote

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.documents.drawing.board_drawing import board_svg, page_ink
from boardwright.documents.drawing.cover_drawing import cover_svg, notices
from boardwright.documents.drawing.single_line import single_line_svg
from boardwright.documents.drawing.wiring_diagram import wiring_diagram_svg
from boardwright.web.look.drawing import linked, shown, view_of

ZOOMS = (0, 100, 150, 200, 300)
"""How near, in percent of the least size at which all is read; 0 is the whole in one look."""

PLAIN = 100
CLOSE = 200
"""From here on a phone too has room for every letter."""

WIDE_MM = 480.0
"""Wider than this, a drawing's letters need more than their own size to be read. [mm]"""


@dataclass(frozen=True, slots=True)
class Sort:
    """One sort of picture; the least sizes keep its smallest letters readable. [px/mm]"""

    key: str
    words: str
    region: str
    note: str
    draw: Callable[[Design], str]
    phone_px_per_mm: float
    table_px_per_mm: float


@dataclass(frozen=True, slots=True)
class Choice:
    """One sort to choose, as a link."""

    words: str
    href: str
    now: bool


@dataclass(frozen=True, slots=True)
class Picture:
    """``phone_px`` and ``table_px`` are the least widths; no ``nearer`` or ``farther`` at an end.

    ``wires_at`` is where a row finds its wire: empty where this picture has them.
    """

    drawing: str
    region: str
    note: str
    phone_px: int
    table_px: int
    zoom: int
    wide: bool
    choices: tuple[Choice, ...]
    nearer: str
    farther: str
    wires_at: str

    @property
    def is_close(self) -> bool:
        """Tell whether it is near enough for every letter."""
        return self.zoom >= CLOSE

    @property
    def is_nearer(self) -> bool:
        """Tell whether it is larger than the window, and pans both ways."""
        return self.zoom > PLAIN


def picture(design: Design, key: str, zoom: int, moves: Sequence[str] = ()) -> Picture:
    """Return the picture asked for; its links keep the moves that are tried.

    Raises
    ------
    FieldError
        There is no such sort, or it is not drawn so near.
    """
    sort = next((each for each in _SORTS if each.key == key), None)
    if sort is None:
        raise FieldError("view", key, "off, on, line or wires")
    if zoom not in ZOOMS:
        raise FieldError("zoom", zoom, "0, 100, 150, 200 or 300")
    drawing = sort.draw(design)
    width_mm = view_of(drawing).width_mm
    place = ZOOMS.index(zoom)
    return Picture(
        drawing=linked(drawing) if sort is _SORTS[0] else shown(drawing, view_of(drawing)),
        region=sort.region,
        note=sort.note,
        phone_px=ceil(width_mm * sort.phone_px_per_mm * zoom / PLAIN),
        table_px=ceil(width_mm * sort.table_px_per_mm * zoom / PLAIN),
        zoom=zoom,
        wide=width_mm > WIDE_MM,
        choices=tuple(Choice(s.words, _href(s, PLAIN, moves), s is sort) for s in _SORTS),
        nearer=_href(sort, ZOOMS[place + 1], moves) if zoom != ZOOMS[-1] else "",
        farther=_href(sort, ZOOMS[place - 1], moves) if place else "",
        wires_at="" if sort is _SORTS[0] else f"?view={_SORTS[0].key}",
    )


def _href(sort: Sort, zoom: int, moves: Sequence[str]) -> str:
    near = "" if zoom == PLAIN else f"&zoom={zoom}"
    tried = "".join(f"&move={quote(move)}" for move in moves)
    return f"?view={sort.key}{near}{tried}#drawing"


def _off(design: Design) -> str:
    return board_svg(design.chosen, design.job.title, ink=page_ink(), findings=design.findings)


def _on(design: Design) -> str:
    return cover_svg(design.chosen, design.job.title, ink=page_ink(), notices=notices(design))


def _line(design: Design) -> str:
    return single_line_svg(design, ink=page_ink())


def _wires(design: Design) -> str:
    return wiring_diagram_svg(design.chosen, design.job.title, ink=page_ink())


_SORTS = (
    Sort(
        "off",
        "Cover off",
        "Board drawing, cover off; pans",
        "Pick a conductor in the drawing or in the list: each shows the other.",
        _off,
        phone_px_per_mm=1.4,
        table_px_per_mm=1.8,
    ),
    Sort(
        "on",
        "Cover on",
        "Board drawing, cover on; pans",
        "What stays to be seen: labels, notices, and which button to press.",
        _on,
        phone_px_per_mm=2.05,
        table_px_per_mm=2.05,
    ),
    Sort(
        "line",
        "Single line",
        "Single-line diagram; pans",
        "From the street to each circuit, one line for all conductors.",
        _line,
        phone_px_per_mm=3.8,
        table_px_per_mm=3.6,
    ),
    Sort(
        "wires",
        "Wiring",
        "Wiring diagram; pans",
        "Every conductor between its two terminals, by colour, pattern and number.",
        _wires,
        phone_px_per_mm=3.8,
        table_px_per_mm=3.6,
    ),
)
