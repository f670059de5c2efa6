"""The single-line diagram: from the street to each circuit, one line for all conductors."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from boardwright.design import Design, Variant
from boardwright.documents.drawing.diagram import Mark
from boardwright.documents.drawing.diagram_scene import (
    WIDTH_MM,
    DiagramScene,
    diagram_scene,
    diagram_scenes,
)
from boardwright.documents.drawing.symbols import symbols
from boardwright.documents.drawing.template import template
from boardwright.documents.look.tokens import tokens

TITLE = "Single-line diagram"
FILE = "single-line.svg"


def build(design: Design) -> str:
    """Return the diagram as a file of its own, in the light form."""
    return single_line_svg(design, ink=tokens("light"))


def single_line_svg(
    design: Design,
    *,
    ink: Mapping[str, str],
    variant: Variant | None = None,
    drawing_id: str = "single-line",
) -> str:
    """Return the diagram of a variant, the chosen one if none is named, as SVG.

    ``ink`` gives each token's colour, literal or as a variable; ``drawing_id`` keeps the styles
    and symbols of two drawings on one page apart.
    """
    return _svg(diagram_scene(design, variant or design.chosen), ink, drawing_id)


def single_line_sheets(
    design: Design, *, ink: Mapping[str, str], most_mm: float
) -> tuple[str, ...]:
    """Return the chosen variant's diagram as one SVG, or as two with the legend apart."""
    scenes = diagram_scenes(design, design.chosen, most_mm=most_mm)
    return tuple(_svg(scene, ink, f"single-line-{n}") for n, scene in enumerate(scenes, 1))


def _svg(scene: DiagramScene, ink: Mapping[str, str], drawing_id: str) -> str:
    kinds: dict[str, list[Mark]] = defaultdict(list)
    for mark in scene.marks:
        kinds[type(mark).__name__].append(mark)
    known = symbols()
    return (
        template("diagram.svg.jinja").render(
            scene=scene,
            kinds=kinds,
            symbols=[known[name] for name in scene.used],
            upright={name: known[name].upright for name in scene.used},
            ink=ink,
            drawing_id=drawing_id,
            width_mm=WIDTH_MM,
        )
        + "\n"
    )
