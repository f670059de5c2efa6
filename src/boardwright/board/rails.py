"""Places counted over all rails of an enclosure, away from the main switch.

Place 0 is the module at the main switch's end of the first rail; the second rail's places follow
those of the first, counted from the same end. A right-hand board is the mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.devices import MODULE_MM
from boardwright.catalogue.enclosures import EnclosureType


@dataclass(frozen=True, slots=True)
class Rails:
    """The rails of an enclosure as one row of places."""

    enclosure: EnclosureType

    @property
    def spans(self) -> tuple[tuple[int, int], ...]:
        """First place of each rail, and the place after its last."""
        spans: list[tuple[int, int]] = []
        for rail in self.enclosure.rails:
            begin = spans[-1][1] if spans else 0
            spans.append((begin, begin + rail.modules))
        return tuple(spans)

    def rail(self, place: int) -> int:
        """Return the rail of a place; what lies beyond belongs to the last."""
        return next(
            (k for k, (_, end) in enumerate(self.spans) if place < end), len(self.spans) - 1
        )

    def within(self, place: int, width: int) -> bool:
        """Tell whether a device of some width stands whole on one rail."""
        return place + width <= self.spans[self.rail(place)][1]

    def place(self, rail: int, module: int, width: int) -> int:
        """Return the place of a device by its first module from its rail's left."""
        begin, end = self.spans[rail]
        return end - module - width if self.enclosure.hand == "right" else begin + module

    def module(self, place: int, width: int) -> int:
        """Return the first module, from its rail's left, of a device that starts at a place."""
        begin, end = self.spans[self.rail(place)]
        return end - place - width if self.enclosure.hand == "right" else place - begin

    def along(self, place: int) -> int:
        """Return how far a place is along its own rail. [modules]"""
        return place - self.spans[self.rail(place)][0]

    def away(self, place: int) -> int:
        """Return the way from the main switch's end to a place, down to its rail. [modules]"""
        first, own = self.enclosure.rails[0], self.enclosure.rails[self.rail(place)]
        return self.along(place) + round(abs(first.y_mm - own.y_mm) / MODULE_MM)
