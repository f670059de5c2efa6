"""The pages: routes of a few lines over the views, each the same words as the papers."""

from __future__ import annotations

from fastapi import APIRouter

from boardwright.web.pages import (
    board,
    circuits,
    design,
    devices,
    history,
    homes,
    offline,
    papers,
    readings_file,
    site,
    start,
    surge,
    survey,
    test,
    weigh,
)

router = APIRouter()
for part in (
    homes,
    start,
    history,
    devices,
    offline,
    survey,
    design,
    circuits,
    weigh,
    board,
    surge,
    site,
    test,
    readings_file,
    papers,
):
    router.include_router(part.pages)

__all__ = ["router"]
