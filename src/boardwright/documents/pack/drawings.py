"""The pack's drawings: each with its scale, and whether it turns the page."""

from __future__ import annotations

import re
from typing import Any

from boardwright.design import Design
from boardwright.documents.drawing import board_drawing, cover_drawing, single_line, wiring_diagram
from boardwright.documents.look.tokens import tokens

Content = dict[str, Any]

_UPRIGHT_MM = (198.0, 228.0)
_TURNED_MM = (285.0, 175.0)
"""Width and height that a drawing may take on a sheet of A4, upright and turned. [mm]

Each is 4 mm wider than the text: the drawing's own edge is blank.
"""

_DIAGRAM_MM = 238.0
"""Height that a diagram may take below its heading; a longer one shrinks. [mm]"""

_SCALES = (2.0, 2.5, 3.0, 4.0, 5.0)
"""Upright at the first of them alone; a wider board turns the page, then shrinks."""


def board(design: Design) -> Content:
    """Return the board with its cover off."""
    svg = board_drawing.board_svg(design.chosen, design.job.title, ink=_print_ink())
    enclosure = design.chosen.arrangement.enclosure
    return _to_scale(
        svg,
        f"Front view of {enclosure.name} with the cover off, to scale: devices, busbar, "
        "bars and conductors. The table of conductors says the same in words.",
    )


def cover(design: Design) -> Content:
    """Return the board with its cover on."""
    svg = cover_drawing.cover_svg(
        design.chosen,
        design.job.title,
        # A closed board is one large plain face: on paper that is white, not toner.
        ink={**_print_ink(), "face-2": "#FFFFFF"},
        notices=cover_drawing.notices(design),
    )
    enclosure = design.chosen.arrangement.enclosure
    return _to_scale(
        svg,
        f"Front view of {enclosure.name} with the cover on, to scale: windows, blanks and labels. "
        "The chart of circuits among the labels says the same in words.",
    )


def diagram(design: Design) -> Content:
    """Return the single-line diagram, full size where it fits."""
    svg = single_line.single_line_svg(design, ink=_print_ink())
    return _on_one_sheet(
        svg,
        "Single-line diagram from the street to each circuit: switchgear, ratings, cable "
        "sizes, earthing. The schedule of circuits says the same in words.",
    )


def connections(design: Design) -> Content:
    """Return the wiring diagram, full size where it fits."""
    svg = wiring_diagram.wiring_diagram_svg(design.chosen, design.job.title, ink=_print_ink())
    return _on_one_sheet(
        svg,
        "Wiring diagram, not to scale: every conductor between its two terminals. The table of "
        "conductors says the same in words.",
    )


def _on_one_sheet(svg: str, alt: str) -> Content:
    width_mm, height_mm = _millimetres(svg, "width"), _millimetres(svg, "height")
    return {
        "svg": svg,
        "width_mm": width_mm * min(1.0, _DIAGRAM_MM / height_mm),
        "alt": alt,
    }


def _to_scale(svg: str, alt: str) -> Content:
    size_mm = (_millimetres(svg, "width"), _millimetres(svg, "height"))
    turned = not _fits(size_mm, _SCALES[0], _UPRIGHT_MM)
    fitting = [s for s in _SCALES if _fits(size_mm, s, _TURNED_MM if turned else _UPRIGHT_MM)]
    scale = fitting[0] if fitting else _SCALES[-1]
    return {
        "svg": svg,
        "turned": turned,
        "scale": f"1:{scale:g}",
        "width_mm": size_mm[0] / scale,
        "alt": alt,
    }


def _fits(size_mm: tuple[float, float], scale: float, room_mm: tuple[float, float]) -> bool:
    return all(side / scale <= room for side, room in zip(size_mm, room_mm, strict=True))


def _print_ink() -> dict[str, str]:
    """Return the tokens for paper: its ground is white, so the sheet and its halo are too."""
    return {
        **tokens(),
        "sheet": "#FFFFFF",
        "halo": "#FFFFFF",
        "page": "#FFFFFF",
        "surface": "#FFFFFF",
    }


def _millimetres(svg: str, side: str) -> float:
    """Return a side of the drawing as its own file states it. [mm]"""
    found = re.search(rf'<svg[^>]*\b{side}="([\d.]+)mm"', svg)
    if found is None:
        raise ValueError(f"the drawing states no {side} in mm")
    return float(found[1])
