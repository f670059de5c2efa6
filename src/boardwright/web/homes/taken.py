"""The readings that stand in a home's events, as the papers take them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from boardwright.documents.readings.taken import OnSite
from boardwright.store.events import Event, standing

KIND = "reading"
"""The kind of event that a reading after the work is; before the work it is a field of the job."""

_MOST = 1e6
"""No instrument of the trade shows more, in any unit of a reading."""

Standing = Mapping[tuple[str, str], tuple[Event, ...]]


def on_site(events: Sequence[Event], issued_on: date | None = None) -> OnSite:
    """Return what the site adds to a design; of readings that disagree, each."""
    stands = standing(events)
    values = {
        subject: tuple(dict.fromkeys(shown_value(e.value) for e in readings_of(stands, subject)))
        for kind, subject in stands
        if kind == KIND
    }
    return OnSite({subject: own for subject, own in values.items() if own}, issued_on=issued_on)


def readings_of(stands: Standing, subject: str) -> tuple[Event, ...]:
    """Return what stands of a reading; one taken back does not, nor what no form would send."""
    return tuple(e for e in stands.get((KIND, subject), ()) if _is_reading(e.value))


def shown_value(value: Any) -> str:  # noqa: ANN401 - any value of an event
    """Return an event's value as it was typed: 0.84, >999, yes."""
    if isinstance(value, dict):
        return f">{float(value.get('over', 0)):g}"
    if isinstance(value, bool) or value is None:
        return ""
    return f"{value:.9g}" if isinstance(value, int | float) else str(value)


def _is_reading(value: Any) -> bool:  # noqa: ANN401 - as above
    if isinstance(value, dict):
        over = value.get("over")
        return isinstance(over, int | float) and _is_reading(over)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return isinstance(value, str) and value in {"yes", "no"}
    return 0 <= value <= _MOST


__all__ = ["KIND", "Standing", "on_site", "readings_of", "shown_value"]
