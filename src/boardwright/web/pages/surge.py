"""What a surge leaves."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.page import designed, render
from boardwright.web.reach import Homes
from boardwright.web.views.surge import surge_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/surge")
def surge(
    request: Request, job_id: str, jobs: Homes, time: str = "", place: str = ""
) -> HTMLResponse:
    """Show what a surge leaves, with the curves of a part of time at a place."""
    result = jobs.design(job_id)
    view = surge_view(result, time, place)
    return render(request, designed("surge", "Surge", view, job_id, result))


__all__ = ["pages"]
