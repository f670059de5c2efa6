"""What a surge leaves, and what would change it."""

from __future__ import annotations

import hashlib
from dataclasses import replace

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.design import Design
from boardwright.documents.surge.choices import Choices, choices
from boardwright.documents.surge.surge_choices import FILE, choices_text
from boardwright.web.frame.page import designed, render
from boardwright.web.frame.reach import Homes
from boardwright.web.views.papers import UnknownPaper, file_name
from boardwright.web.views.surge import surge_view
from boardwright.web.views.surge_choices import AskedView, choices_view
from boardwright.web.working.kept import Kept
from boardwright.web.working.work import DONE, UnknownWork, Work

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

_LOOK_AGAIN_S = "2"


@pages.get("/jobs/{job_id}/surge")
def surge(
    request: Request, job_id: str, jobs: Homes, time: str = "", place: str = ""
) -> HTMLResponse:
    """Show what a surge leaves, with the curves of a part of time at a place."""
    result = jobs.design(job_id)
    view = surge_view(result, time, place)
    return render(request, designed("surge", "Surge", view, job_id, result))


@pages.get("/jobs/{job_id}/surge/choices")
def what_would_change(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show what would change it, once that was asked for and worked out."""
    result = jobs.design(job_id)
    work = _work(jobs, result)
    found = None
    if work is not None and work.state == DONE:
        found = choices_view(_kept(request).get(_name(result), lambda: choices(result)))
    view = AskedView(work, found)
    page = designed("surge", "What would change the surge", view, job_id, result)
    shown = render(request, replace(page, template="surge-choices.html"))
    if work is not None and not work.is_over:
        shown.headers["Refresh"] = _LOOK_AGAIN_S
    return shown


@pages.get("/jobs/{job_id}/surge/choices.txt")
def as_a_paper(request: Request, job_id: str, jobs: Homes) -> Response:
    """Hand out as a paper what was worked out."""
    result = jobs.design(job_id)
    work = _work(jobs, result)
    if work is None or work.state != DONE:
        raise UnknownPaper("This paper is made once what would change the surge is worked out.")
    found = _kept(request).get(_name(result), lambda: choices(result))
    saved = f'attachment; filename="{file_name(result.job, FILE)}"'
    return Response(
        choices_text(found, result.job.title),
        media_type="text/plain; charset=utf-8",
        headers={"Content-Disposition": saved},
    )


@pages.post("/jobs/{job_id}/surge/choices")
def work_it_out(request: Request, job_id: str, jobs: Homes) -> Response:
    """Begin to work out what would change it."""
    result, kept = jobs.design(job_id), _kept(request)
    name = _name(result)
    jobs.works.begin(name, lambda told: kept.get(name, lambda: choices(result, told=told)))
    return RedirectResponse(f"/jobs/{job_id}/surge/choices", 303)


def _work(jobs: Homes, result: Design) -> Work | None:
    try:
        return jobs.works.look(_name(result))
    except UnknownWork:
        return None


def _name(result: Design) -> str:
    parts = (result.job_digest, result.catalogue.digest, result.edition.digest)
    return f"surge-{hashlib.sha256('/'.join(parts).encode()).hexdigest()[:16]}"


def _kept(request: Request) -> Kept[Choices]:
    """Return what was worked out since the server began."""
    state = request.app.state
    if not hasattr(state, "surge_choices"):
        state.surge_choices = Kept[Choices]()
    kept = state.surge_choices
    assert isinstance(kept, Kept)  # noqa: S101 - put there above
    return kept


__all__ = ["pages"]
