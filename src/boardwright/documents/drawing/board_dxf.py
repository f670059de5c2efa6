"""The board for a drawing program: DXF, one unit a millimetre, a layer for each kind of thing."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import pairwise
from types import ModuleType
from typing import TYPE_CHECKING, Any

from boardwright.board.results import DEVICE_HEIGHT_MM, Placement
from boardwright.catalogue.enclosures import Bar, CableEntry
from boardwright.design import Design, Variant
from boardwright.documents.drawing.devices import detail, rating
from boardwright.documents.drawing.labels import broken
from boardwright.documents.drawing.strokes import drawn_width_mm
from boardwright.documents.look.tokens import tokens
from boardwright.wiring.geometry import BAR_HEIGHT_MM, corner_radii_mm
from boardwright.wiring.results import Conductor, Origin

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities import LWPolyline
    from ezdxf.layouts import Modelspace

TITLE = "Board for a drawing program"
FILE = "board.dxf"

_LAYERS = {
    "ENCLOSURE": "line",
    "ENTRIES": "edge",
    "RAIL": "edge",
    "DEVICES": "line",
    "TERMINALS": "edge",
    "BARS": "line",
    "BUSBAR": "l1",
    "CONDUCTOR-L": "l1",
    "CONDUCTOR-L1": "l1",
    "CONDUCTOR-L2": "l2",
    "CONDUCTOR-L3": "l3",
    "CONDUCTOR-N": "n",
    "CONDUCTOR-PE": "pe",
    "CONDUCTOR-PEN": "pe",
    "TEXT": "ink",
}
"""Each layer with the token of its colour: the model's frame is the file's own frame."""

_MILLIMETRES = 4
_SCREW_MM = 3.0
_BAR_SCREW_MM = 2.5
_RAIL_MM = 35.0
_TEXT_MM = 3.2
_CAD_FACTOR = 1.7
_COMB_MM = 1.8
_NAME_ROOM_MM = 26.0

_BARS = {"PE": "Earth bar", "N": "Neutral bar"}

_Vertex = tuple[float, float, float]
"""x, y and the bulge of the stretch that follows: the tangent of a quarter of its angle."""


def build(design: Design) -> str:
    """Return the proposed board as DXF: origin bottom left of the enclosure, y up."""
    with _without_clock() as ezdxf:
        drawing = ezdxf.new("R2010")
        _prepare(drawing)
        space = drawing.modelspace()
        _enclosure(space, design.chosen)
        for placement in design.chosen.arrangement.placements:
            _device(space, placement)
        for conductor in design.chosen.wiring.conductors:
            if conductor.origin is Origin.BUSBAR:
                _comb(space, conductor, design.chosen)
            else:
                _conductor(space, conductor)
        text = io.StringIO()
        drawing.write(text)
    return text.getvalue()


@contextmanager
def _without_clock() -> Iterator[ModuleType]:
    """Lend the library with its clock and random marks held: the same design, the same file."""
    import ezdxf

    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield ezdxf
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept


def _prepare(drawing: Drawing) -> None:
    drawing.units = _MILLIMETRES
    drawing.header["$MEASUREMENT"] = 1
    drawing.appids.add("BOARDWRIGHT")
    for name, token in _LAYERS.items():
        layer = drawing.layers.add(name)
        layer.rgb = _rgb(tokens("light")[token])


def _enclosure(space: Modelspace, variant: Variant) -> None:
    box = variant.arrangement.enclosure
    _rectangle(space, (0.0, 0.0, box.width_mm, box.height_mm), "ENCLOSURE")
    for rail in box.rails:
        right = rail.left_mm(rail.modules)
        half = _RAIL_MM / 2
        _rectangle(space, (rail.x_mm, rail.y_mm - half, right, rail.y_mm + half), "RAIL")
    for bar in box.bars:
        half = BAR_HEIGHT_MM / 2
        corners = (bar.x_mm, bar.y_mm - half, bar.x_mm + bar.length_mm, bar.y_mm + half)
        _rectangle(space, corners, "BARS")
        for n in range(1, bar.count + 1):
            at = (bar.terminal_x_mm(n), bar.y_mm)
            space.add_circle(at, _BAR_SCREW_MM, dxfattribs={"layer": "TERMINALS"})
        name = f"{_BARS.get(bar.conductor, bar.conductor)} {bar.section.upper()}".strip()
        _text(space, name, (_beside(bar, box.width_mm), bar.y_mm))
    for entry in box.entries:
        for n in range(entry.count):
            at = _entry_mm(entry, n, variant)
            space.add_circle(at, entry.diameter_mm / 2, dxfattribs={"layer": "ENTRIES"})


def _beside(bar: Bar, width_mm: float) -> float:
    """Return where a bar's name stands: right of it, left where the right has no room. [mm]"""
    right = bar.x_mm + bar.length_mm + _NAME_ROOM_MM / 2
    return right if right + _NAME_ROOM_MM / 2 < width_mm else bar.x_mm - _NAME_ROOM_MM / 2


def _entry_mm(entry: CableEntry, number: int, variant: Variant) -> tuple[float, float]:
    """Return the middle of one knock-out as the front view shows it. [mm]"""
    box = variant.arrangement.enclosure
    along = entry.at_mm + number * entry.pitch_mm
    edges = {
        "top": (along, box.height_mm),
        "bottom": (along, 0.0),
        "left": (0.0, along),
        "right": (box.width_mm, along),
    }
    return edges.get(entry.edge, (along, box.height_mm - entry.diameter_mm / 2))


def _device(space: Modelspace, placement: Placement) -> None:
    item, device, x, y = placement.item, placement.item.device, placement.x_mm, placement.y_mm
    half = DEVICE_HEIGHT_MM / 2
    _rectangle(space, (x, y - half, x + device.width_mm, y + half), "DEVICES")
    for terminal in device.terminals:
        at = placement.terminal_mm(terminal.name)
        space.add_circle(at, _SCREW_MM, dxfattribs={"layer": "TERMINALS"})
        towards = -1 if terminal.side == "top" else 1
        _text(space, terminal.conductor, (at[0], at[1] + 6.5 * towards), height_mm=2.6)
    centre = x + device.width_mm / 2
    # A drawing program's own letters are wider than ours: names are broken for them.
    name = broken(item.short or item.label, device.width_mm - 1.0, 2.2 * _CAD_FACTOR)
    said = [(line, 2.2) for line in name]
    said += [(words, 3.2) for words in (rating(device), detail(item)) if words]
    for n, (words, height_mm) in enumerate(said):
        _text(space, words, (centre, y + 8.0 - 5.2 * n), height_mm=height_mm)


def _conductor(space: Modelspace, conductor: Conductor) -> None:
    if len(conductor.path) < 2:  # noqa: PLR2004  one point is no line
        return
    attributes: dict[str, Any] = {
        "layer": f"CONDUCTOR-{conductor.function}",
        "const_width": drawn_width_mm(conductor.csa_mm2),
    }
    _named(
        space.add_lwpolyline(_vertices(conductor), format="xyb", dxfattribs=attributes), conductor
    )


def _comb(space: Modelspace, comb: Conductor, variant: Variant) -> None:
    """Draw a busbar: its back along the path, and a tooth to each terminal that it meets."""
    # One layer for all phases, told apart by their own colours, as narrow as they lie apart.
    colour = tokens("light")[_LAYERS[f"CONDUCTOR-{comb.function}"]]
    attributes: dict[str, Any] = {
        "layer": "BUSBAR",
        "const_width": _COMB_MM,
        "true_color": int(colour[1:], 16),
    }
    placements = {placement.item.id: placement for placement in variant.arrangement.placements}
    back = [(x, y) for x, y, _ in comb.path]
    _named(space.add_lwpolyline(back, dxfattribs=attributes), comb)
    for terminal in comb.terminals:
        item, _, name = terminal.rpartition(".")
        placement = placements.get(item)
        if placement is None:
            # The lug that feeds a further rail's comb stands on the comb itself.
            continue
        x, _ = placement.terminal_mm(name)
        tooth = [(x, back[0][1]), (x, placement.y_mm - DEVICE_HEIGHT_MM / 2)]
        space.add_lwpolyline(tooth, dxfattribs=attributes)


def _named(line: LWPolyline, conductor: Conductor) -> None:
    """Let a wire's name travel with it, for whoever asks the drawing program what it is."""
    line.set_xdata("BOARDWRIGHT", [(1000, conductor.id), (1040, conductor.csa_mm2)])


def _vertices(conductor: Conductor) -> list[_Vertex]:
    """Return the front view of a path with its bends as arcs."""
    path = conductor.path
    made: list[_Vertex] = [(path[0][0], path[0][1], 0.0)]
    radii_mm = corner_radii_mm(path, conductor.csa_mm2)
    for radius_mm, before, corner, after in zip(radii_mm, path, path[1:], path[2:], strict=False):
        made += _bend(radius_mm, before, corner, after)
    made.append((path[-1][0], path[-1][1], 0.0))
    return made


def _bend(
    radius_mm: float, before: Sequence[float], corner: Sequence[float], after: Sequence[float]
) -> Iterator[_Vertex]:
    """Yield where an arc begins and ends; a bend towards the back is a point in this view."""
    arriving = math.atan2(corner[1] - before[1], corner[0] - before[0])
    leaving = math.atan2(after[1] - corner[1], after[0] - corner[0])
    turn = math.remainder(leaving - arriving, 2 * math.pi)
    rooms_mm = [math.dist(a[:2], b[:2]) for a, b in pairwise((before, corner, after))]
    reach_mm = min(radius_mm * abs(math.tan(turn / 2)), *(room / 2 for room in rooms_mm))
    if reach_mm <= 0:
        yield (corner[0], corner[1], 0.0)
        return
    x, y = corner[0], corner[1]
    yield (
        x - reach_mm * math.cos(arriving),
        y - reach_mm * math.sin(arriving),
        math.tan(turn / 4),
    )
    yield x + reach_mm * math.cos(leaving), y + reach_mm * math.sin(leaving), 0.0


def _rectangle(
    space: Modelspace, corners_mm: tuple[float, float, float, float], layer: str
) -> None:
    x0, y0, x1, y1 = corners_mm
    points = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})


def _text(
    space: Modelspace, words: str, at_mm: tuple[float, float], height_mm: float = _TEXT_MM
) -> None:
    """Write words about the middle of a point."""
    from ezdxf.enums import TextEntityAlignment

    text = space.add_text(words, dxfattribs={"layer": "TEXT", "height": height_mm})
    text.set_placement(at_mm, align=TextEntityAlignment.MIDDLE_CENTER)


def _rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
