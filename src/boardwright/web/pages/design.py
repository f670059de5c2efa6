"""The circuits, demand, RCDs and the choice of SPD."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.frame.page import designed, render
from boardwright.web.frame.reach import Homes
from boardwright.web.views.circuits import design_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/design")
def circuits(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show the answer, circuits, demand and the choice of SPD."""
    version = jobs.version(job_id).number
    result = jobs.design(job_id, version)
    page = designed("design", "Design", design_view(result), job_id, result)
    return render(request, replace(page, version=version))


__all__ = ["pages"]
