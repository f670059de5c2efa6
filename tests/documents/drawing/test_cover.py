"""The closed board: everything behind the cover has its window, its label or its blank."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import pytest

from boardwright.catalogue.devices import MODULE_MM
from boardwright.design import Design
from boardwright.documents.drawing import cover_drawing
from boardwright.documents.drawing.board_drawing import page_ink
from boardwright.documents.drawing.cover import CoverScene, cover_scene
from boardwright.documents.drawing.cover_drawing import cover_svg, notices
from tests.documents.drawing.golden import COVERS, HOMES, golden_drawing
from tests.documents.drawing.measure import true_width_mm
from tests.documents.golden import example

SVG = "{http://www.w3.org/2000/svg}"


def _scene(design: Design) -> CoverScene:
    return cover_scene(design.chosen, design.job.title, notices(design))


@pytest.mark.slow
@pytest.mark.parametrize("home", COVERS)
def test_a_cover_is_as_it_was_reviewed(home: str) -> None:
    kept = golden_drawing(home, cover_drawing).read_text(encoding="utf-8")

    assert cover_drawing.build(example(home)) == kept


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_devices_and_blanks_close_the_opening(home: str) -> None:
    """IP4X and IP2XC ask for no gap: a module is a device's or a blank's. From memory."""
    design = example(home)
    arrangement = design.chosen.arrangement
    modules = sum(p.item.device.modules for p in arrangement.placements)

    drawn = _scene(design)

    assert modules + len(drawn.blanks_mm) == arrangement.enclosure.modules
    assert len(drawn.labels) == len(arrangement.placements) + len(drawn.blanks_mm)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_each_label_stands_below_its_device_and_none_overlap(home: str) -> None:
    drawn = _scene(example(home))
    by_device = {mark.x_mm + mark.width_mm / 2 for mark in drawn.devices}
    rows: dict[float, list[tuple[float, float]]] = {}
    for label in drawn.labels:
        rows.setdefault(label.y_mm, []).append((label.x0_mm, label.x1_mm))

    assert all(any(abs(x - label.centre) < 0.01 for label in drawn.labels) for x in by_device)
    for ends in rows.values():
        assert all(a[1] <= b[0] + 1e-6 for a, b in pairwise(sorted(ends)))


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_the_words_of_a_label_fit_it(home: str) -> None:
    """Measured with the typeface's own widths."""
    too_wide = [
        line
        for label in _scene(example(home)).labels
        for line in label.lines
        if true_width_mm(line, 4.5, weight=400 if label.number else 600) > label.x1_mm - label.x0_mm
    ]

    assert too_wide == []


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_notices_lie_on_the_cover_and_on_nothing_else(home: str) -> None:
    design = example(home)
    drawn = _scene(design)
    boxes = [(n.x_mm, n.y_mm, n.x_mm + n.width_mm, n.y_mm + n.height_mm) for n in drawn.notices]
    taken = [(o.x0_mm, o.y_mm - 22.5, o.x1_mm, o.y_mm + 22.5 + 24.0) for o in drawn.openings]
    width, height = drawn.frame.width_mm, drawn.frame.height_mm

    assert len(boxes) + len(drawn.beside) == len(notices(design)) > 0
    assert all(x0 > 0 and y0 > 0 and x1 < width and y1 < height for x0, y0, x1, y1 in boxes)
    assert [
        (a, b)
        for a, b in combinations(boxes + taken, 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ] == []


@pytest.mark.slow
def test_one_unit_of_the_cover_is_one_millimetre() -> None:
    design = example("semi")
    root = ET.fromstring(cover_drawing.build(design))  # noqa: S314  our own drawing
    drawn = {
        group.attrib["data-item"]: float(group.find(f"{SVG}rect").attrib["width"])  # type: ignore[union-attr]
        for group in root.iter(f"{SVG}g")
        if "data-item" in group.attrib
    }

    for placement in design.chosen.arrangement.placements:
        wide = placement.item.device.modules * MODULE_MM

        assert wide - 1.0 < drawn[placement.item.id] <= wide


def test_the_page_s_cover_follows_the_theme_and_keeps_its_styles() -> None:
    drawn = cover_svg(example("semi").chosen, "Semi <b>", ink=page_ink(), drawing_id="c2")

    assert "#" not in drawn.replace("#c2", "")
    assert "<b>" not in drawn


@pytest.mark.slow
@pytest.mark.parametrize("height_mm", [60.0, 100.0, 140.0, 220.0])
def test_a_box_without_room_says_where_its_notices_go(height_mm: float) -> None:
    """Every notice is either on the cover or named beside it, however small the box."""
    design = example("semi")
    enclosure = design.chosen.arrangement.enclosure
    rails = tuple(r.model_copy(update={"y_mm": height_mm / 2}) for r in enclosure.rails)
    small = enclosure.model_copy(update={"height_mm": height_mm, "rails": rails})
    arrangement = replace(design.chosen.arrangement, enclosure=small)

    drawn = cover_scene(replace(design.chosen, arrangement=arrangement), "Semi", notices(design))

    assert [*(" ".join(n.lines) for n in drawn.notices), *drawn.beside] == list(notices(design))
    assert all(n.y_mm > 0 and n.y_mm + n.height_mm < height_mm for n in drawn.notices)
