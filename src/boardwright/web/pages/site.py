"""The work on site: the order of work."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.page import designed, render
from boardwright.web.reach import Homes
from boardwright.web.views.site import site_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/on-site")
def on_site(
    request: Request, job_id: str, jobs: Homes, step: int = 1, view: str = ""
) -> HTMLResponse:
    """Show one step of the order of work."""
    result = jobs.design(job_id)
    shown = site_view(result, step, whole=view == "whole")
    page = designed("on-site", shown.title, shown, job_id, result)
    return render(request, replace(page, drawing=shown.drawing))


__all__ = ["pages"]
