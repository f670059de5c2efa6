"""The pages: routes of a few lines over the views, each the same words as the papers."""

from __future__ import annotations

from fastapi import APIRouter

from boardwright.web.pages import board, circuits, design, devices, homes, papers, site, surge, survey

router = APIRouter()
for part in (homes, devices, survey, design, circuits, board, surge, site, papers):
    router.include_router(part.pages)

__all__ = ["router"]
