"""The work on site: the order of work and the tests."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.page import Page, designed, render
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


@pages.get("/jobs/{job_id}/test")
def test(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Say what of the tests can be printed today."""
    return render(request, Page("test.html", "Test", None, job_id, jobs.load(job_id), "test"))


__all__ = ["pages"]
