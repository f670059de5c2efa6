"""The drawing of the board: to scale, nothing lost, nothing over a screw, no text as markup."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import pytest

from boardwright.design import Design
from boardwright.documents.drawing.board_drawing import board_svg, build, page_ink
from boardwright.documents.drawing.scene import Scene, scene
from boardwright.documents.look.tokens import tokens
from boardwright.wiring.results import Origin
from tests.documents.drawing.golden import HOMES, golden_drawing
from tests.documents.golden import example

SVG = "{http://www.w3.org/2000/svg}"


def _scene(design: Design) -> Scene:
    return scene(design.chosen, design.job.title, design.findings)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_a_drawing_is_as_it_was_reviewed(home: str) -> None:
    assert build(example(home)) == golden_drawing(home).read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_one_unit_of_the_drawing_is_one_millimetre(home: str) -> None:
    """So that paper at 1:1 measures true: the view box is as wide as the page says, in mm."""
    root = ET.fromstring(build(example(home)))  # noqa: S314  our own drawing
    _, _, width, height = (float(part) for part in root.attrib["viewBox"].split())

    assert root.attrib["width"] == f"{width:.2f}mm"
    assert root.attrib["height"] == f"{height:.2f}mm"


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_device_and_conductor_is_drawn_with_a_title(home: str) -> None:
    design = example(home)
    root = ET.fromstring(build(design))  # noqa: S314  our own drawing
    drawn = {
        group.attrib["data-item"] for group in root.iter(f"{SVG}g") if "data-item" in group.attrib
    }
    wires = {
        group.attrib["data-wire"]
        for group in root.iter(f"{SVG}g")
        if group.attrib.get("class", "").startswith("wire") and "data-wire" in group.attrib
    }
    conductors = [c for c in design.chosen.wiring.conductors if c.origin is not Origin.BUSBAR]

    assert {p.item.id for p in design.chosen.arrangement.placements} <= drawn
    assert wires == {conductor.id for conductor in conductors}
    assert all(
        group.find(f"{SVG}title") is not None
        for group in root.iter(f"{SVG}g")
        if group.attrib.get("class", "").startswith(("wire ", "device"))
        and "data-wire" in group.attrib
    )


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_no_new_conductor_hides_a_screw_of_another(home: str) -> None:
    """A conductor stops at the edge of its device, 42 mm from the rail, and runs round others."""
    drawn = _scene(example(home))
    screws = [(t.x_mm, t.y_mm) for d in drawn.devices for t in d.terminals if t.screw]
    hidden = [
        (mark.id, screw)
        for mark in drawn.wires
        for start, end in pairwise(mark.points)
        for screw in screws
        if _distance_mm(screw, start, end) < 2.0
    ]

    assert hidden == []


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_tags_and_way_names_do_not_overlap(home: str) -> None:
    drawn = _scene(example(home))
    tags = [(tag.x_mm, tag.y_mm) for tag in drawn.tags if not tag.bracket_mm]
    ends = [(way.x0_mm, way.x1_mm) for way in drawn.ways]

    assert [pair for pair in combinations(tags, 2) if _touch(*pair)] == []
    assert all(a[1] <= b[0] + 1e-6 for a, b in pairwise(ends))


def _touch(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) < 8.0 and abs(one[1] - other[1]) < 8.0


def test_a_hostile_title_stays_text() -> None:
    design = example("semi")
    hostile = 'A "close" & <script>alert(1)</script>'

    drawn = board_svg(design.chosen, hostile, ink=tokens("light"))

    assert "<script>" not in drawn
    assert ET.fromstring(drawn).attrib["aria-label"].startswith(hostile)  # noqa: S314


def test_the_page_s_drawing_follows_the_theme() -> None:
    """Every colour is a variable, so that light, dark and high contrast need no second drawing."""
    drawn = board_svg(example("semi").chosen, "Semi", ink=page_ink())

    assert "#" not in drawn.replace("#board", "")
    assert "var(--pe-2)" in drawn


def test_a_taller_box_moves_nothing_sideways() -> None:
    design = example("semi")
    arrangement = design.chosen.arrangement
    taller = arrangement.enclosure.model_copy(update={"height_mm": 300.0})
    grown = replace(design.chosen, arrangement=replace(arrangement, enclosure=taller))

    before, after = _scene(design), scene(grown, "taller")

    assert [d.x_mm for d in after.devices] == [d.x_mm for d in before.devices]
    shift = {round(a.y_mm - b.y_mm, 6) for a, b in zip(after.devices, before.devices, strict=True)}
    assert shift == {300.0 - arrangement.enclosure.height_mm}


def _distance_mm(
    point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]
) -> float:
    """Return how far a point lies from a straight part. [mm]"""
    (px, py), (ax, ay), (bx, by) = point, start, end
    length2 = (bx - ax) ** 2 + (by - ay) ** 2
    share = 0.0 if length2 == 0 else ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length2
    share = min(1.0, max(0.0, share))
    return math.hypot(px - ax - share * (bx - ax), py - ay - share * (by - ay))
