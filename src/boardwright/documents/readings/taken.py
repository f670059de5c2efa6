"""What the site adds to a design, as plain data: readings, instruments, the day of the issue."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

LIMITED = "LIM"
"""The trade's word for a test that could not be made: a limitation, to be explained."""

NOT_APPLICABLE = "N/A"
"""The trade's word for a test that is not called for."""

INSTRUMENTS: Mapping[str, str] = MappingProxyType(
    {
        "multifunction": "Multifunction",
        "continuity": "Continuity",
        "insulation": "Insulation resistance",
        "loop": "Loop impedance",
        "rcd": "RCD",
        "electrode": "Earth electrode",
    }
)
"""Instruments by the name that a readings file gives them, and by their words on the form."""


@dataclass(frozen=True, slots=True)
class OnSite:
    """What is known of the work done; nothing of it before the work.

    ``values`` has what was typed by subject, as 0.84, >999, yes or LIM under
    ``circuits.shower.zs_ohm``; more than one where those who read it do not agree.
    """

    values: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    instruments: Mapping[str, str] = field(default_factory=dict)
    issued_on: date | None = None


NOTHING_YET = OnSite()
"""Before the work: every form is blank."""


def subject_of(place: str, reading: str) -> str:
    """Return the subject of a reading: ``origin.ze_ohm``, ``circuits.shower.zs_ohm``."""
    return f"origin.{reading}" if place == "origin" else f"circuits.{place}.{reading}"
