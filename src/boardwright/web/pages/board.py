"""The board."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.page import designed, render
from boardwright.web.reach import Homes
from boardwright.web.views.board import board_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/board")
def board(
    request: Request, job_id: str, jobs: Homes, view: str = "off", zoom: int = 100
) -> HTMLResponse:
    """Show the board in one of its pictures, its conductors, and what else can be done."""
    result = jobs.design(job_id)
    shown = board_view(result, view, zoom)
    page = designed("board", "Board", shown, job_id, result)
    return render(request, replace(page, drawing=shown.picture.drawing))


__all__ = ["pages"]
