"""The circuits, demand, RCDs and the choice of SPD."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.frame.page import designed, render
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.adding import Adding
from boardwright.web.views.circuits import design_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/design")
def circuits(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show the answer, circuits, demand and the choice of SPD."""
    return shown(request, job_id, jobs)


def shown(request: Request, job_id: str, jobs: Jobs, adding: Adding | None = None) -> HTMLResponse:
    """Return the page; with a circuit that could not be added, its form as it was sent."""
    version = jobs.version(job_id).number
    result = jobs.design(job_id, version)
    view = replace(design_view(result), adding=adding)
    page = designed("design", "Design", view, job_id, result)
    return render(request, replace(page, version=version), 422 if adding else 200)


__all__ = ["pages", "shown"]
