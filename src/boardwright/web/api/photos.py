"""Photos of a way, an item or a place: taken in, and given back as nothing but a picture."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Query, Request, Response
from pydantic import Field

from boardwright.store.events import Event
from boardwright.store.photos import KIND, Photo
from boardwright.web.api.shapes import Shape
from boardwright.web.devices.stamps import who_of
from boardwright.web.frame.headers import FILE_POLICY
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.photos import SUFFIXES, taken_in

routes = APIRouter(tags=["photos"])


class Told(Shape):
    """What a photo shows, as the device that took it tells: an event without its value."""

    id: str = Field(min_length=1, max_length=64)
    subject: str = Field(min_length=1, max_length=400)
    at: datetime
    device: str = Field(min_length=1, max_length=64)
    says: str = Field(default="", max_length=400)
    seen: int = Field(default=0, ge=0, le=2**31 - 1)


_MANY_DAYS_S = 31_536_000


@routes.post("/jobs/{job_id}/photos", status_code=201)
def add(
    request: Request,
    job_id: str,
    jobs: Homes,
    told: Annotated[Told, Query()],
    content: Annotated[bytes, Body(media_type="application/octet-stream")],
) -> dict[str, Any]:
    """Keep a photo with what it shows; the place it was taken at is left out of it.

    Sent again with the same id, it is kept once.
    """
    taken = taken_in(content)
    photo = Photo(taken.kind, taken.content)
    value = {
        "sha256": photo.sha256,
        "kind": photo.kind,
        "bytes": len(photo.content),
        "says": told.says,
    }
    event = Event(
        told.id, KIND, told.subject, value, who_of(request), told.at, told.device, told.seen
    )
    got = jobs.store.add_photo(job_id, photo, event)
    return {
        **value,
        "id": told.id,
        "added": bool(got.added),
        "clashing": bool(got.clashing),
    }


@routes.get("/jobs/{job_id}/photos/{sha256}", response_class=Response)
def one(
    job_id: str, sha256: Annotated[str, Path(pattern="^[0-9a-f]{64}$")], jobs: Homes
) -> Response:
    """Return a photo as it was kept."""
    photo = jobs.store.photo(job_id, sha256)
    name = f"{sha256[:12]}.{SUFFIXES[photo.kind]}"
    headers = {
        "Content-Security-Policy": FILE_POLICY,
        "Content-Disposition": f'inline; filename="{name}"',
        # Its name is the hash of its content: it never changes.
        "Cache-Control": f"private, max-age={_MANY_DAYS_S}, immutable",
    }
    return Response(photo.content, media_type=photo.kind, headers=headers)
