"""The survey."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from boardwright.web.page import Page, render
from boardwright.web.reach import Homes
from boardwright.web.views.survey import survey_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/survey")
def survey(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show what the survey brought home."""
    job = jobs.load(job_id)
    view = survey_view(job)
    return render(request, Page("survey.html", "Survey", view, job_id, job, "survey"))


__all__ = ["pages"]
