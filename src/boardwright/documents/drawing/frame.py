"""The one place where the model's frame is turned into the drawing's."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.devices import MODULE_MM
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.documents.drawing.strokes import Flat

SIDE_MM = 8.0
ABOVE_MM = 22.0
RULE_MM = 32.0
FLAGS_MM = 17.0
KEY_MM = 14.0
LEAST_SPAN_MM = 300.0
_KEY_GAP_MM = 7.0
"""Margins round the enclosure: labels above; way rule, flags if any, key and scale bar below."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Outline of the enclosure in the drawing: its top left corner is the origin, y down."""

    width_mm: float
    height_mm: float
    flagged: bool = False
    rule_mm: float = RULE_MM
    module_mm: float = MODULE_MM

    @classmethod
    def of(
        cls, enclosure: EnclosureType, *, flagged: bool = False, rule_mm: float = RULE_MM
    ) -> Frame:
        """Return the frame of an enclosure, with room for flags of findings if there are any."""
        return cls(enclosure.width_mm, enclosure.height_mm, flagged, rule_mm)

    def y(self, y_mm: float) -> float:
        """Turn a height over the enclosure's bottom into a depth below its top."""
        return self.height_mm - y_mm

    def flat(self, x_mm: float, y_mm: float) -> Flat:
        """Turn a point of the model into a point of the drawing."""
        return x_mm, self.y(y_mm)

    @property
    def view(self) -> tuple[float, float, float, float]:
        """The view box: x, y, width, height. [mm]"""
        return (
            -SIDE_MM,
            -ABOVE_MM,
            self.span_mm + 2 * SIDE_MM,
            self.key_y + KEY_MM + ABOVE_MM,
        )

    @property
    def span_mm(self) -> float:
        """Width that the drawing takes: key and scale bar need room below a small box. [mm]"""
        return max(self.width_mm, LEAST_SPAN_MM)

    @property
    def key_y(self) -> float:
        """The line on which key and scale bar stand. [mm]"""
        return self.height_mm + self.rule_mm + (FLAGS_MM if self.flagged else 0.0) + _KEY_GAP_MM
