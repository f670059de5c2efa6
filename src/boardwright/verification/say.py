"""How a check speaks; the room of the circuits speaks the same way, so it stands in ``core``."""

from __future__ import annotations

from boardwright.core.point import Point, joined

__all__ = ["Point", "joined"]
