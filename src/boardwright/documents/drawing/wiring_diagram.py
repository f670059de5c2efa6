"""The wiring diagram: every conductor from terminal to terminal, by colour, pattern and number."""

from __future__ import annotations

from collections.abc import Mapping

from boardwright.design import Design, Variant
from boardwright.documents.drawing.connections import (
    COLUMN_MM,
    LEFT_MM,
    RIGHT_MM,
    TEXT_GAP_MM,
    WIDTH_MM,
    ConnectionScene,
    connection_scene,
    connection_scenes,
)
from boardwright.documents.drawing.template import template
from boardwright.documents.look.tokens import tokens

TITLE = "Wiring diagram"
FILE = "wiring-diagram.svg"


def build(design: Design) -> str:
    """Return the diagram as a file of its own, in the light form."""
    return wiring_diagram_svg(design.chosen, design.job.title, ink=tokens("light"))


def wiring_diagram_svg(
    variant: Variant,
    title: str,
    *,
    ink: Mapping[str, str],
    drawing_id: str = "wiring-diagram",
) -> str:
    """Return a variant's wiring diagram as SVG; ``ink`` gives each token's colour.

    ``drawing_id`` keeps the styles of two drawings on one page apart.
    """
    return _svg(connection_scene(variant, title), ink, drawing_id)


def wiring_sheets(
    variant: Variant, title: str, *, ink: Mapping[str, str], most_mm: float
) -> tuple[str, ...]:
    """Return the diagram as one SVG a sheet, none of them higher than ``most_mm``."""
    scenes = connection_scenes(variant, title, most_mm=most_mm)
    return tuple(
        _svg(scene, ink, f"wiring-diagram-{number}") for number, scene in enumerate(scenes, 1)
    )


def _svg(scene: ConnectionScene, ink: Mapping[str, str], drawing_id: str) -> str:
    drawn = template("connections.svg.jinja").render(
        scene=scene,
        ink=ink,
        drawing_id=drawing_id,
        width_mm=WIDTH_MM,
        column_mm=COLUMN_MM,
        left_mm=LEFT_MM,
        right_mm=RIGHT_MM,
        gap_mm=TEXT_GAP_MM,
    )
    return drawn + "\n"
