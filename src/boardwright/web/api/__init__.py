"""The JSON of everything that the page does: the same functions, without the page."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from boardwright.web.api import (
    changes,
    events,
    homes,
    library,
    limits,
    photos,
    questions,
    results,
    running,
    server,
    trying,
    what_if,
)
from boardwright.web.api.shapes import Fault

_FAULTS: dict[int | str, dict[str, Any]] = {
    status: {"model": Fault, "description": words}
    for status, words in (
        (400, "The request is none that the page understands."),
        (401, "The device is not paired."),
        (403, "Another site asked for it, or a program without the token."),
        (404, "There is no such home, version or thing."),
        (405, "There is nothing of that method here."),
        (413, "It brings more than it may."),
        (414, "Its address is too long."),
        (415, "It brings what the route cannot use."),
        (422, "A field cannot be used as it stands: which, what was found, what would be right."),
    )
}

router = APIRouter(prefix="/api", responses=_FAULTS)
for part in (
    homes,
    changes,
    events,
    photos,
    questions,
    results,
    limits,
    trying,
    what_if,
    running,
    library,
    server,
):
    router.include_router(part.routes)

__all__ = ["router"]
