"""The single-line diagram: what feeds what is the netlist's, and no word stands on another."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from typing import get_args
from xml.etree import ElementTree as ET

import networkx as nx
import pytest

from boardwright.catalogue.devices import Kind
from boardwright.catalogue.load import load_catalogue
from boardwright.design import Design, design
from boardwright.documents.drawing import single_line
from boardwright.documents.drawing.board_drawing import page_ink
from boardwright.documents.drawing.diagram import (
    FrameMark,
    LineMark,
    StrokesMark,
    SymbolMark,
    TextMark,
)
from boardwright.documents.drawing.diagram_rows import rows
from boardwright.documents.drawing.diagram_scene import DiagramScene, diagram_scene, diagram_scenes
from boardwright.documents.drawing.feeds import fed_by, tree
from boardwright.documents.drawing.single_line import single_line_svg
from boardwright.documents.drawing.symbols import of_kind, of_load, symbols
from boardwright.job.circuit import Circuit, Serves
from boardwright.standards.load import load_edition
from tests.documents.compared import compared
from tests.documents.drawing.golden import COVERS, HOMES, golden_drawing
from tests.documents.drawing.measure import true_width_mm
from tests.documents.golden import example

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]


@pytest.mark.slow
@pytest.mark.parametrize("home", COVERS)
def test_a_diagram_is_as_it_was_reviewed(home: str) -> None:
    kept = golden_drawing(home, single_line).read_text(encoding="utf-8")

    assert single_line.build(example(home)) == kept


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_no_word_stands_on_a_word_a_symbol_or_a_line(home: str) -> None:
    for scene in _scenes(example(home)):
        assert _clashes(scene) == []


@pytest.mark.slow
def test_no_word_stands_on_another_where_the_board_stays() -> None:
    for scene in _scenes(compared()):
        assert _clashes(scene) == []


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
@pytest.mark.parametrize(
    "name", ["W" * 60, "Wall " * 12, "Immersion heater, upper element, by night"]
)
def test_the_longest_names_find_room(home: str, name: str) -> None:
    design = example(home)
    circuits = tuple(c.model_copy(update={"name": name.strip()}) for c in design.job.circuits)
    job = design.job.model_copy(update={"circuits": circuits})

    for scene in _scenes(replace(design, job=job)):
        assert _clashes(scene) == []


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_circuit_has_one_row_with_its_way(home: str) -> None:
    design = example(home)
    named = Counter(row.name for row in rows(design, design.chosen) if row.load)
    circuits = [circuit.name for circuit in design.job.circuits]

    assert {name: named[name] for name in circuits} == dict.fromkeys(circuits, 1)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_a_device_is_fed_through_the_devices_on_its_way_to_the_meter(home: str) -> None:
    """Against networkx: the shortest way along line conductors and through devices."""
    design = example(home)
    variant = design.chosen
    graph = nx.Graph()
    for conductor in variant.wiring.conductors:
        if conductor.function.startswith("L"):
            graph.add_edges_from(pairwise(conductor.terminals))
    for placement in variant.arrangement.placements:
        poles = [t for t in placement.item.device.terminals if t.conductor.startswith("L")]
        for one, other in combinations(poles, 2):
            if one.conductor == other.conductor:
                graph.add_edge(
                    f"{placement.item.id}.{one.name}", f"{placement.item.id}.{other.name}"
                )
    parents = fed_by(variant)
    for item_id in parents:
        chain = [item_id]
        while chain[-1] in parents:
            chain.append(parents[chain[-1]])
        start = next(n for n in graph if n.rpartition(".")[0] == item_id)
        meter = next(
            n for n in graph if n.rpartition(".")[0] == "meter" and nx.has_path(graph, start, n)
        )
        path = nx.shortest_path(graph, start, meter)
        through = Counter(node.rpartition(".")[0] for node in path)
        entered = {place for place, count in through.items() if count > 1}

        assert entered - {item_id} <= set(chain)
        assert chain[-1] == "meter"


@pytest.mark.slow
def test_a_second_rail_hangs_on_the_main_switch_of_the_first() -> None:
    job = example("semi").job
    more = [c.model_copy(update={"id": f"{c.id}y", "name": f"{c.name} 2"}) for c in job.circuits]
    grown = job.model_copy(update={"circuits": (*job.circuits, *more)})
    made = design(grown, load_catalogue(), load_edition(grown.edition))
    on_second = [p.item.id for p in made.chosen.arrangement.placements if p.rail == 1]

    parents = fed_by(made.chosen)

    assert len(on_second) > 5
    assert {parents.get(item_id) for item_id in on_second} == {"main-switch"}
    assert len(tree(made.chosen)) == 1


@pytest.mark.slow
def test_a_legend_apart_names_the_same_symbols() -> None:
    design_ = example("three-phase")
    whole = diagram_scene(design_, design_.chosen)

    bare, legend = diagram_scenes(design_, design_.chosen, most_mm=whole.height_mm - 1)

    assert diagram_scenes(design_, design_.chosen, most_mm=whole.height_mm) == (whole,)
    assert Counter(type(m) for m in (*bare.marks, *legend.marks)) == Counter(map(type, whole.marks))
    assert bare.used == legend.used == whole.used
    assert max(bare.height_mm, legend.height_mm) < whole.height_mm


def test_a_split_board_hangs_each_circuit_on_the_rcd_that_the_plan_gave_it() -> None:
    design = example("semi-split")
    parents = fed_by(design.chosen)

    for section in design.plan.sections:
        assert {parents[f"way-{circuit}"] for circuit in section.circuit_ids} == {section.id}


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_no_rcd_stands_between_the_spd_and_the_supply(home: str) -> None:
    """BS 7671, 534.4.7, from memory: the SPD stands on the supply side of an RCD."""
    design = example(home)
    parents = fed_by(design.chosen)
    place = parents["spd"]
    while place in parents:
        device = design.chosen.arrangement.placement(place).item.device

        assert device.kind is not Kind.RCCB
        place = parents[place]


@pytest.mark.slow
def test_three_phases_are_struck_and_named() -> None:
    design = example("three-phase")
    struck = [m for m in diagram_scene(design, design.chosen).marks if isinstance(m, StrokesMark)]
    phases = {row.above[1] for row in rows(design, design.chosen) if row.depth == 1 and row.load}

    assert {mark.count for mark in struck} == {3}
    assert {"L1", "L2", "L3"} <= phases


@pytest.mark.slow
def test_energy_that_comes_back_has_its_arrow() -> None:
    """Sources named in the survey, and those alone."""
    design = example("three-phase")
    sources = {c.name for c in design.job.circuits if c.serves in {"PV", "battery"}}

    assert {row.name for row in rows(design, design.chosen) if row.source} == sources


def test_every_kind_of_device_and_load_has_a_symbol() -> None:
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 9}
    loads = [
        of_load(Circuit.model_validate({"id": "a", "name": "A", "serves": s, "cable": cable}))
        for s in get_args(Serves)
    ]

    assert {of_kind(kind) for kind in Kind} | set(loads) <= symbols().keys()
    assert len(symbols()) == len({symbol.title for symbol in symbols().values()})


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_symbol_used_is_drawn_and_in_the_legend(home: str) -> None:
    design = example(home)
    root = ET.fromstring(single_line.build(design))  # noqa: S314  our own drawing
    defined = {symbol.attrib["id"] for symbol in root.iter(f"{SVG}symbol")}
    used = Counter(use.attrib["href"][1:] for use in root.iter(f"{SVG}use"))
    words = {text.text for text in root.iter(f"{SVG}text")}

    assert used.keys() == defined
    assert min(used.values()) >= 2, "once in the diagram, once in the legend"
    assert {symbols()[name.removeprefix("single-line-")].title for name in used} <= words


def test_a_hostile_name_stays_text() -> None:
    design = example("semi")
    circuits = tuple(
        c.model_copy(update={"name": "<script>alert(1)</script>"}) for c in design.job.circuits
    )

    drawn = single_line.build(
        replace(design, job=design.job.model_copy(update={"circuits": circuits}))
    )

    assert "<script>" not in drawn


def test_the_page_s_diagram_follows_the_theme() -> None:
    drawn = single_line_svg(example("semi"), ink=page_ink(), drawing_id="d")

    assert (
        re.findall(r"#[0-9A-Fa-f]{3,8}\b(?![-\w])", drawn.replace("#d-", "").replace("#d ", ""))
        == []
    )
    assert "var(--pe)" in drawn


def _scenes(design: Design) -> Iterator[DiagramScene]:
    return (diagram_scene(design, variant) for variant in design.variants)


def _clashes(scene: DiagramScene) -> list[str]:
    """Return the words that touch other words, a symbol or a line, by their true widths."""
    words = [(m.words, _box(m)) for m in scene.marks if isinstance(m, TextMark) and m.words]
    symbols_ = [
        (m.name, (m.x_mm - 5, m.y_mm - 4.2, m.x_mm + 5, m.y_mm + 4.2))
        for m in scene.marks
        if isinstance(m, SymbolMark)
    ]
    lines = [
        (
            "line",
            (
                min(a[0], b[0]) - 0.25,
                min(a[1], b[1]) - 0.25,
                max(a[0], b[0]) + 0.25,
                max(a[1], b[1]) + 0.25,
            ),
        )
        for m in scene.marks
        if isinstance(m, LineMark)
        for a, b in pairwise(m.points)
    ]
    lines += [
        ("frame", (m.x_mm - 0.2, m.y_mm, m.x_mm + 0.2, m.y_mm + m.height_mm))
        for m in scene.marks
        if isinstance(m, FrameMark)
    ]
    found = [f"{a[0]} / {b[0]}" for a, b in combinations(words, 2) if _meet(a[1], b[1])]
    found += [f"{a[0]} / {b[0]}" for a in words for b in symbols_ + lines if _meet(a[1], b[1])]
    outside = [w for w, box in words if box[0] < -0.01 or box[2] > 194 or box[3] > scene.height_mm]
    return found + outside


def _box(mark: TextMark) -> Box:
    left, top, _, bottom = mark.box
    width = true_width_mm(mark.words, mark.size_mm, weight=600 if mark.strong else 400)
    return left, top, left + width, bottom


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
