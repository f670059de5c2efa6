"""The list of homes, and the choice of light and contrast."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.documents.board_drawing import board_svg, page_ink
from boardwright.web.choice import COOKIE, KEPT_S, look_of, way_back
from boardwright.web.drawing import small
from boardwright.web.guard import FILE_POLICY
from boardwright.web.page import Page, render
from boardwright.web.reach import Homes
from boardwright.web.views.home import homes_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/")
def homes(request: Request, jobs: Homes, find: str = "", page: int = 1) -> HTMLResponse:
    """List the homes."""
    return render(request, Page("homes.html", "Homes", homes_view(jobs, find, page)))


@pages.get("/jobs/{job_id}")
def home(job_id: str, jobs: Homes) -> Response:
    """Open a home at its board."""
    jobs.load(job_id)
    return RedirectResponse(f"/jobs/{job_id}/board", 303)


@pages.get("/jobs/{job_id}/small.svg")
def small_board(job_id: str, jobs: Homes, look: str = "") -> Response:
    """Draw the board in small, for the list of homes."""
    result = jobs.design(job_id)
    drawing = board_svg(result.chosen, result.job.title, ink=page_ink())
    height_mm = result.chosen.arrangement.enclosure.height_mm
    picture = small(drawing, look_of(look), height_mm)
    headers = {"Content-Security-Policy": FILE_POLICY, "Cache-Control": "no-cache"}
    return Response(picture, media_type="image/svg+xml", headers=headers)


@pages.post("/look")
def choose(look: Annotated[str, Form()], back: Annotated[str, Form()] = "/") -> Response:
    """Keep the chosen look, and go back to where it was chosen."""
    answer = RedirectResponse(way_back(back), 303)
    answer.set_cookie(
        COOKIE, look_of(look).name, max_age=int(KEPT_S), httponly=True, samesite="strict"
    )
    return answer


__all__ = ["pages"]
