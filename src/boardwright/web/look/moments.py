"""A moment as a person on this machine reads it."""

from __future__ import annotations

from datetime import datetime


def moment(when: datetime) -> str:
    """Return day and time in the zone of this machine: 25 November 2026, 14:02."""
    local = when.astimezone()
    return f"{local.day} {local:%B %Y}, {local:%H:%M}"


__all__ = ["moment"]
