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

_DRAWN_MM, _READ_MM = 2.6, 2.2
"""Type of a diagram as drawn, and the least that print may shrink it to. [mm]"""

_MOST_MM = _DIAGRAM_MM * _DRAWN_MM / _READ_MM
"""Height as drawn beyond which a diagram takes another sheet. [mm]"""

_SCALES = (2.0, 2.5, 3.0, 4.0, 5.0)
"""The first that fits; at the same scale the sheet stays upright."""


def views(design: Design) -> tuple[Content, Content]:
    """Return the board with its cover off and on, to one scale: one lies over the other."""
    off = board_drawing.board_svg(design.chosen, design.job.title, ink=_print_ink())
    on = cover_drawing.cover_svg(
        design.chosen,
        design.job.title,
        # A closed board is one large plain face: on paper that is white, not toner.
        ink={**_print_ink(), "face-2": "#FFFFFF"},
        notices=cover_drawing.notices(design),
    )
    scale, turned = _scale(off, on)
    name = design.chosen.arrangement.enclosure.name
    off_told = (
        f"Front view of {name} with the cover off, to scale: devices, busbar, "
        "bars and conductors. The table of conductors says the same in words."
    )
    on_told = (
        f"Front view of {name} with the cover on, to scale: windows, blanks and labels. "
        "The chart of circuits among the labels says the same in words."
    )
    made = [
        {
            "svg": svg,
            "turned": turned,
            "scale": f"1:{scale:g}",
            "width_mm": _millimetres(svg, "width") / scale,
            "alt": alt,
        }
        for svg, alt in ((off, off_told), (on, on_told))
    ]
    return made[0], made[1]


def diagram(design: Design) -> list[Content]:
    """Return the single-line diagram; its legend has a sheet of its own where one is too small."""
    told = (
        "Single-line diagram from the street to each circuit: switchgear, ratings, cable "
        "sizes, earthing. The schedule of circuits says the same in words."
    )
    sheets = single_line.single_line_sheets(design, ink=_print_ink(), most_mm=_MOST_MM)
    return [_on_one_sheet(svg, told) for svg in sheets]


def connections(design: Design) -> list[Content]:
    """Return the wiring diagram on as many sheets as its words need to be read."""
    sheets = wiring_diagram.wiring_sheets(
        design.chosen,
        design.job.title,
        ink=_print_ink(),
        most_mm=_MOST_MM,
    )
    told = (
        "Wiring diagram, not to scale: every conductor between its two terminals. The table of "
        "conductors says the same in words."
    )
    return [_on_one_sheet(svg, told) for svg in sheets]


def _on_one_sheet(svg: str, alt: str) -> Content:
    width_mm, height_mm = _millimetres(svg, "width"), _millimetres(svg, "height")
    return {
        "svg": svg,
        "width_mm": width_mm * min(1.0, _DIAGRAM_MM / height_mm),
        "alt": alt,
    }


def _scale(*drawings: str) -> tuple[float, bool]:
    """Return the largest scale at which all fit on one kind of sheet, and whether it is turned."""
    sides = ("width", "height")
    size_mm = tuple(max(_millimetres(svg, side) for svg in drawings) for side in sides)
    fitting = (
        (scale, turned)
        for scale in _SCALES
        for turned, room_mm in ((False, _UPRIGHT_MM), (True, _TURNED_MM))
        if all(side / scale <= room for side, room in zip(size_mm, room_mm, strict=True))
    )
    return next(fitting, (_SCALES[-1], False))


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
