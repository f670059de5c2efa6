"""The DXF read back with ezdxf, the library's own reader and auditor, against the placements."""

from __future__ import annotations

import io
import math
import re
from itertools import pairwise

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline

from boardwright.board.results import DEVICE_HEIGHT_MM
from boardwright.documents.drawing import board_dxf
from boardwright.wiring.geometry import corner_radii_mm
from boardwright.wiring.results import Conductor, Origin
from tests.documents.golden import example

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")


def _read(home: str) -> Drawing:
    return ezdxf.read(io.StringIO(board_dxf.build(example(home))))


def _lines(drawing: Drawing, layer: str) -> list[LWPolyline]:
    found = drawing.modelspace().query(f'LWPOLYLINE[layer ? "{layer}"]')
    return [line for line in found if isinstance(line, LWPolyline)]


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_the_file_is_sound_and_in_millimetres(home: str) -> None:
    drawing = _read(home)

    assert drawing.audit().errors == []
    assert drawing.header["$INSUNITS"] == 4, "DXF reference: 4 is millimetres"


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_devices_stand_where_they_are_placed(home: str) -> None:
    placements = example(home).chosen.arrangement.placements
    wanted = sorted(
        (p.x_mm, p.y_mm - DEVICE_HEIGHT_MM / 2, p.x_mm + p.item.device.width_mm) for p in placements
    )
    drawn = sorted(
        (min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points))
        for line in _lines(_read(home), "^DEVICES$")
        for points in [list(line.vertices())]
    )

    assert len(drawn) == len(wanted)
    for one, other in zip(drawn, wanted, strict=True):
        assert one == pytest.approx(other, abs=1e-6)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_terminal_is_a_circle_on_its_own_layer(home: str) -> None:
    arrangement = example(home).chosen.arrangement
    wanted = {
        tuple(round(c, 6) for c in p.terminal_mm(t.name))
        for p in arrangement.placements
        for t in p.item.device.terminals
    } | {
        (round(bar.terminal_x_mm(n), 6), round(bar.y_mm, 6))
        for bar in arrangement.enclosure.bars
        for n in range(1, bar.count + 1)
    }
    circles = _read(home).modelspace().query('CIRCLE[layer=="TERMINALS"]')

    assert {(round(c.dxf.center.x, 6), round(c.dxf.center.y, 6)) for c in circles} == wanted


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_conductor_is_on_the_layer_of_its_function_and_as_long_as_its_front_view(
    home: str,
) -> None:
    """Length by the reader's own arcs against the path's corners less (2 - π/2) r a bend."""
    conductors = {
        c.id: c for c in example(home).chosen.wiring.conductors if c.origin is not Origin.BUSBAR
    }
    drawn = {
        line.get_xdata("BOARDWRIGHT")[0].value: line
        for line in _lines(_read(home), "^CONDUCTOR-.*")
    }

    assert drawn.keys() == conductors.keys()
    for name, line in drawn.items():
        conductor = conductors[name]
        assert line.dxf.layer == f"CONDUCTOR-{conductor.function}"
        if _is_flat_and_square(conductor):
            assert _length_mm(line) == pytest.approx(_front_mm(conductor), abs=1e-3)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_a_comb_has_a_tooth_at_each_terminal_it_meets(home: str) -> None:
    variant = example(home).chosen
    wanted = sorted(
        round(variant.arrangement.placement(place).terminal_mm(name)[0], 6)
        for comb in variant.wiring.conductors
        if comb.origin is Origin.BUSBAR
        for place, _, name in (terminal.rpartition(".") for terminal in comb.terminals)
    )
    teeth = [
        round(points[0][0], 6)
        for line in _lines(_read(home), "^BUSBAR$")
        for points in [list(line.vertices())]
        if points[0][0] == points[-1][0]
    ]

    assert sorted(teeth) == wanted


def test_the_same_design_gives_the_same_file() -> None:
    """No clock and no random mark: the two differ in nothing."""
    one, other = board_dxf.build(example("semi")), board_dxf.build(example("semi"))

    assert one == other
    assert re.search(r"\$TDUPDATE", one)


def _is_flat_and_square(conductor: Conductor) -> bool:
    path = conductor.path
    flat = len({round(z, 6) for _, _, z in path}) == 1
    return flat and all(
        abs(a[0] - b[0]) < 1e-9 or abs(a[1] - b[1]) < 1e-9 for a, b in pairwise(path)
    )


def _front_mm(conductor: Conductor) -> float:
    path = conductor.path
    straight = sum(math.dist(a, b) for a, b in pairwise(path))
    radii = corner_radii_mm(path, conductor.csa_mm2)
    bent = [
        r
        for r, a, b, c in zip(radii, path, path[1:], path[2:], strict=False)
        if abs(
            math.remainder(
                math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0]),
                2 * math.pi,
            )
        )
        > 1e-6
    ]
    return straight - sum((2 - math.pi / 2) * r for r in bent)


def _length_mm(line: LWPolyline) -> float:
    total = 0.0
    for part in line.virtual_entities():
        if part.dxftype() == "ARC":
            sweep = (part.dxf.end_angle - part.dxf.start_angle) % 360
            total += math.radians(sweep) * part.dxf.radius
        else:
            total += part.dxf.start.distance(part.dxf.end)
    return total
