"""The golden drawings of the example homes: run this file to draw them anew, then look at each.

A golden drawing is the drawing's specification: its change is reviewed by eye.
"""

from __future__ import annotations

from pathlib import Path

from boardwright.documents import board_drawing
from tests.documents.golden import GOLDEN, example

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")


def golden_drawing(name: str) -> Path:
    """Return where the golden drawing of a home lies."""
    return GOLDEN / f"{name}-{board_drawing.FILE}"


def main() -> None:
    """Draw the homes anew."""
    for name in HOMES:
        golden_drawing(name).write_text(board_drawing.build(example(name)), encoding="utf-8")


if __name__ == "__main__":
    main()
