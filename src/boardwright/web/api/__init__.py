"""The JSON of everything that the page does: the same functions, without the page."""

from __future__ import annotations

from fastapi import APIRouter

from boardwright.web.api import (
    changes,
    events,
    homes,
    limits,
    photos,
    results,
    server,
    trying,
    work,
)

router = APIRouter(prefix="/api")
for part in (homes, changes, events, photos, results, limits, trying, work, server):
    router.include_router(part.routes)

__all__ = ["router"]
