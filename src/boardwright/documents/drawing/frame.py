"""The one place where the model's frame is turned into the drawing's."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.devices import MODULE_MM
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.documents.drawing.strokes import Flat

SIDE_MM = 8.0
ABOVE_MM = 22.0
BELOW_MM = 62.0
"""Margins round the enclosure: labels above, way rule, flags, key and scale bar below."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Outline of the enclosure in the drawing: its top left corner is the origin, y down."""

    width_mm: float
    height_mm: float
    module_mm: float = MODULE_MM

    @classmethod
    def of(cls, enclosure: EnclosureType) -> Frame:
        """Return the frame of an enclosure."""
        return cls(enclosure.width_mm, enclosure.height_mm)

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
            self.width_mm + 2 * SIDE_MM,
            self.height_mm + ABOVE_MM + BELOW_MM,
        )
