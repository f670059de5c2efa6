"""What a form enters at the board, as events: the same that a script's queue sends."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import uuid4

from starlette.datastructures import FormData
from starlette.requests import Request

from boardwright.core.errors import FieldError
from boardwright.store.events import Event
from boardwright.web.devices.stamps import who_of

_MOST_FIELDS = 400
_MOST_EVENTS = 2**31


async def form_of(request: Request) -> FormData:
    """Return the form that a request brings."""
    return await request.form(max_fields=_MOST_FIELDS)


def event_of(
    request: Request,
    kind: str,
    subject: str,
    value: Any,  # noqa: ANN401 - any value of JSON
    *,
    seen: int,
    now: datetime,
) -> Event:
    """Return an event that a form enters.

    Each form counts as a device of its own: only what it had seen does it correct.
    """
    name = uuid4().hex
    return Event(name, kind, subject, value, who_of(request), now, f"form-{name}", seen)


def seen_in(form: FormData) -> int:
    """Return the last event that a form's page knew of.

    Raises
    ------
    FieldError
        The form does not say.
    """
    text = str(form.get("seen", ""))
    if not text.isdecimal() or int(text) >= _MOST_EVENTS:
        raise FieldError("seen", text, "the number of the last event that the page knew of")
    return int(text)


__all__ = ["event_of", "form_of", "seen_in"]
