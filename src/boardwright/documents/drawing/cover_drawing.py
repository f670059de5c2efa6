"""The board with its cover on, to scale: what the householder will see, label by label."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from boardwright.design import Design, Variant
from boardwright.documents.drawing.cover import cover_scene
from boardwright.documents.drawing.template import template
from boardwright.documents.look.tokens import tokens
from boardwright.documents.words.labels import labels

TITLE = "Board drawing, cover on"
FILE = "cover.svg"


def build(design: Design) -> str:
    """Return the drawing of the closed board as a file of its own, in the light form."""
    return cover_svg(design.chosen, design.job.title, ink=tokens("light"), notices=notices(design))


def notices(design: Design) -> tuple[str, ...]:
    """Return the titles of the notices that this board must carry."""
    return tuple(card["title"] for card in labels(design)["cards"])


def cover_svg(
    variant: Variant,
    title: str,
    *,
    ink: Mapping[str, str],
    notices: Sequence[str] = (),
    drawing_id: str = "cover",
) -> str:
    """Return a closed board as SVG; ``ink`` gives each token's colour, literal or as a variable.

    ``drawing_id`` keeps the styles of two drawings on one page apart.
    """
    drawn = cover_scene(variant, title, notices)
    sheet = template("cover.svg.jinja")
    return sheet.render(scene=drawn, ink=ink, drawing_id=drawing_id) + "\n"
