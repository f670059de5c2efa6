"""The papers: handed over, and looked after for years."""

from __future__ import annotations

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse

from boardwright.web.page import designed, render
from boardwright.web.reach import Homes
from boardwright.web.views.papers import file_name, handover_view, paper

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/handover")
def handover(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """List the papers."""
    result = jobs.design(job_id)
    view = handover_view(result)
    return render(request, designed("handover", "Handover", view, job_id, result))


@pages.get("/jobs/{job_id}/aftercare")
def aftercare(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Say what of the after-care can be printed today."""
    result = jobs.design(job_id)
    view = handover_view(result)
    return render(request, designed("aftercare", "Aftercare", view, job_id, result))


@pages.get("/jobs/{job_id}/papers/{name}")
def papers(job_id: str, name: str, jobs: Homes) -> Response:
    """Hand out one paper, made now."""
    document, kind = paper(name)
    result = jobs.design(job_id)
    saved = f'attachment; filename="{file_name(result.job, name)}"'
    return Response(document.build(result), media_type=kind, headers={"Content-Disposition": saved})


__all__ = ["pages"]
