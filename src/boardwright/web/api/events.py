"""What was done at the board: ticks, readings, photos' particulars."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request

from boardwright.core.errors import FieldError
from boardwright.store import folder, photos
from boardwright.web.api.shapes import Events, Number, event_json
from boardwright.web.devices.stamps import who_of
from boardwright.web.frame.reach import Homes
from boardwright.web.homes import issues

routes = APIRouter(tags=["events"])

_THE_PROGRAMS_OWN = frozenset({issues.KIND, photos.KIND, folder.KIND})
"""Kinds that record what the program itself did: no device may say so in its place."""


@routes.get("/jobs/{job_id}/events")
def since(job_id: str, jobs: Homes, after: Number = 0) -> dict[str, Any]:
    """Return a home's events behind a number, in the order the store got them."""
    return {"events": [event_json(event) for event in jobs.store.events(job_id, after)]}


@routes.post("/jobs/{job_id}/events")
def add(request: Request, job_id: str, asked: Events, jobs: Homes) -> dict[str, Any]:
    """Add a device's queue; what was sent before is kept once, so a queue may be sent again."""
    for each in asked.events:
        if each.kind in _THE_PROGRAMS_OWN:
            raise FieldError("event.kind", each.kind, "what a device enters, as reading or tick")
    who = who_of(request)
    got = jobs.store.add_events(job_id, [each.event(who) for each in asked.events])
    return {
        "added": [event_json(event) for event in got.added],
        "known": [event.id for event in got.known],
        "clashing": [event.id for event in got.clashing],
        "event": jobs.store.pulse(job_id).event,
    }
