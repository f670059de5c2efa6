"""The board, cover off, to scale: for the eye, the print and the page."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from boardwright.core.findings import Finding
from boardwright.design import Design, Variant
from boardwright.documents.drawing.scene import scene
from boardwright.documents.drawing.template import template
from boardwright.documents.look.tokens import tokens

TITLE = "Board drawing"
FILE = "board.svg"


def build(design: Design) -> str:
    """Return the drawing of the proposed board as a file of its own, in the light form."""
    return board_svg(design.chosen, design.job.title, ink=tokens("light"), findings=design.findings)


def board_svg(
    variant: Variant,
    title: str,
    *,
    ink: Mapping[str, str],
    findings: tuple[Finding, ...] = (),
    drawing_id: str = "board",
) -> str:
    """Return a board as SVG; ``ink`` gives each token's colour, literal or as a variable.

    ``drawing_id`` keeps the styles of two drawings on one page apart.
    """
    drawn = scene(variant, title, findings)
    sheet = template("board.svg.jinja")
    return sheet.render(scene=drawn, ink=ink, drawing_id=drawing_id) + "\n"


def page_ink() -> Mapping[str, str]:
    """Return every token as a CSS variable, so that a drawing follows the page's theme."""
    return MappingProxyType({name: f"var(--{name})" for name in tokens("light")})
