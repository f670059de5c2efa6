"""The golden drawings of the example homes: run this file to draw them anew, then look at each.

A golden drawing is the drawing's specification: its change is reviewed by eye.
"""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

from boardwright.documents.drawing import board_drawing, cover_drawing, single_line, wiring_diagram
from tests.documents.golden import GOLDEN, example

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")
DIAGRAMS = ("semi", "semi-split", "three-phase")
COVERS = ("semi", "cottage", "three-phase")

DRAWN = (
    *((home, board_drawing) for home in HOMES),
    *((home, cover_drawing) for home in COVERS),
    *((home, single_line) for home in COVERS),
    *((home, wiring_diagram) for home in DIAGRAMS),
)
"""Which drawings of which homes are kept."""


def golden_drawing(name: str, drawing: ModuleType = board_drawing) -> Path:
    """Return where the golden drawing of a home lies."""
    return GOLDEN / f"{name}-{drawing.FILE}"


def main() -> None:
    """Draw the homes anew."""
    for name, drawing in DRAWN:
        text = drawing.build(example(name))
        golden_drawing(name, drawing).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
