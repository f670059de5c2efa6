"""The wiring diagram: every conductor once, between its own terminals, and no word on another."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest

from boardwright.documents.drawing import wiring_diagram
from boardwright.documents.drawing.board_drawing import page_ink
from boardwright.documents.drawing.connections import (
    COLUMN_MM,
    LEFT_MM,
    RIGHT_MM,
    TEXT_GAP_MM,
    WIDTH_MM,
    RowMark,
    connection_scene,
    connection_scenes,
)
from boardwright.documents.drawing.wiring_diagram import wiring_diagram_svg
from boardwright.wiring.results import Origin
from tests.documents.drawing.golden import DIAGRAMS, HOMES, golden_drawing
from tests.documents.drawing.measure import true_width_mm
from tests.documents.golden import example

A4_MM = 297.0 - 2 * 8.0
TYPE_MM = 2.6
Box = tuple[float, float, float, float]


@pytest.mark.slow
@pytest.mark.parametrize("home", DIAGRAMS)
def test_a_diagram_is_as_it_was_reviewed(home: str) -> None:
    kept = golden_drawing(home, wiring_diagram).read_text(encoding="utf-8")

    assert wiring_diagram.build(example(home)) == kept


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_each_conductor_is_drawn_once_and_a_busbar_once_for_each_tooth(home: str) -> None:
    variant = example(home).chosen

    drawn = Counter(row.id for row in connection_scene(variant, "").rows)

    assert drawn == {
        c.id: len(c.teeth) if c.origin is Origin.BUSBAR else 1 for c in variant.wiring.conductors
    }


@pytest.mark.slow
@pytest.mark.parametrize("most_mm", [281.0, 180.0, 120.0])
def test_sheets_hold_every_row_and_none_is_higher_than_it_may(most_mm: float) -> None:
    variant = example("three-phase").chosen
    whole = Counter(row.id for row in connection_scene(variant, "").rows)

    sheets = connection_scenes(variant, "", most_mm=most_mm)

    assert sum((Counter(row.id for row in sheet.rows) for sheet in sheets), Counter()) == whole
    assert max(sheet.height_mm for sheet in sheets) <= most_mm
    assert not any("continued, continued" in b.name for sheet in sheets for b in sheet.blocks)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_numbers_are_unique_and_begin_with_the_step(home: str) -> None:
    variant = example(home).chosen
    steps = {c.id: c.step for c in variant.wiring.conductors}
    rows = [row for row in connection_scene(variant, "").rows if row.number]

    assert len({row.number for row in rows}) == len(rows)
    assert all(int(row.number.split(".")[0]) == steps[row.id] for row in rows)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_a_row_names_the_terminals_that_its_conductor_joins(home: str) -> None:
    variant = example(home).chosen
    by_id = {c.id: c for c in variant.wiring.conductors}

    for row in connection_scene(variant, "").rows:
        conductor = by_id[row.id]
        assert row.function == conductor.function
        said = " ".join((*row.left, *row.right))
        for end in (conductor.begin, conductor.end):
            place, _, name = end.terminal.rpartition(".")
            inside = any(p.item.id == place for p in variant.arrangement.placements)
            if inside and conductor.origin is not Origin.BUSBAR:
                assert name in said, (row.id, said)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_it_fits_a_sheet_of_a4_and_no_word_stands_on_another(home: str) -> None:
    scene = connection_scene(example(home).chosen, "")

    assert scene.height_mm <= A4_MM
    boxes = [box for row in scene.rows for box in _boxes(row)]
    assert all(left >= -2 and right <= WIDTH_MM + 2 for left, _, right, _ in boxes)
    for one, other in combinations(boxes, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)


def _boxes(row: RowMark) -> list[Box]:
    """Return where the words of a row stand, measured with the type itself."""
    boxes = []
    for lines, edge_mm, sign in (
        (row.left, LEFT_MM - TEXT_GAP_MM, -1),
        (row.right, RIGHT_MM + TEXT_GAP_MM, 1),
        ((row.size,), COLUMN_MM, -1),
    ):
        for k, words in enumerate(lines):
            y_mm = row.y_mm + 0.9 + (k - (len(lines) - 1) / 2) * 3.2
            ends = sorted((edge_mm, edge_mm + sign * true_width_mm(words, TYPE_MM)))
            left, right = (row.x_mm + x for x in ends)
            boxes.append((left, y_mm - 0.75 * TYPE_MM, right, y_mm + 0.2 * TYPE_MM))
    return boxes


def test_it_is_well_formed_and_follows_the_page_ink() -> None:
    design = example("semi")

    svg = wiring_diagram_svg(design.chosen, "A & <B>", ink=page_ink(), drawing_id="one")

    drawn = ET.fromstring(svg)  # noqa: S314 - our own drawing
    assert drawn.attrib["aria-label"].startswith("A & <B>. Wiring diagram")
    assert "var(--pe)" in svg
