"""The application: routes of a few lines over the views, each the same words as the papers."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Depends, FastAPI, Form, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.design import Design
from boardwright.documents.board_drawing import board_svg, page_ink
from boardwright.documents.design_file import build as design_json
from boardwright.web import assets, faults
from boardwright.web.choice import COOKIE, KEPT_S, look_of, way_back
from boardwright.web.drawing import small
from boardwright.web.guard import FILE_POLICY, Guard
from boardwright.web.jobs import Jobs
from boardwright.web.page import Page, render
from boardwright.web.views.board import board_view
from boardwright.web.views.circuits import design_view
from boardwright.web.views.findings import stops
from boardwright.web.views.home import homes_view
from boardwright.web.views.papers import file_name, handover_view, paper
from boardwright.web.views.site import site_view
from boardwright.web.views.surge import surge_view
from boardwright.web.views.survey import survey_view

pages = APIRouter(default_response_class=HTMLResponse)


def create_app(jobs: Jobs) -> FastAPI:
    """Return the application over a folder of jobs; all that it keeps lives in ``jobs``."""
    app = FastAPI(title="Boardwright", docs_url=None, redoc_url=None)
    app.state.jobs = jobs
    app.add_middleware(Guard)
    app.include_router(pages)
    app.include_router(assets.files)
    faults.install(app)
    return app


def _jobs(request: Request) -> Jobs:
    jobs = request.app.state.jobs
    assert isinstance(jobs, Jobs)  # noqa: S101 - put there by create_app
    return jobs


Folder = Annotated[Jobs, Depends(_jobs)]


def _designed(task: str, title: str, view: object, job_id: str, result: Design) -> Page:
    """Return the page of a task whose view rests on a design."""
    page = Page(f"{task}.html", title, view, job_id, result.job, task)
    return replace(page, edition=result.edition.title, stops=stops(result.findings))


@pages.get("/")
def homes(request: Request, jobs: Folder) -> HTMLResponse:
    """List the homes."""
    return render(request, Page("homes.html", "Homes", homes_view(jobs.entries())))


@pages.get("/jobs/{job_id}")
def home(job_id: str, jobs: Folder) -> Response:
    """Open a home at its board."""
    jobs.load(job_id)
    return RedirectResponse(f"/jobs/{job_id}/board", 303)


@pages.get("/jobs/{job_id}/survey")
def survey(request: Request, job_id: str, jobs: Folder) -> HTMLResponse:
    """Show what the survey brought home."""
    job = jobs.load(job_id)
    view = survey_view(job)
    return render(request, Page("survey.html", "Survey", view, job_id, job, "survey"))


@pages.get("/jobs/{job_id}/design")
def circuits(request: Request, job_id: str, jobs: Folder) -> HTMLResponse:
    """Show the answer, circuits, demand and the choice of SPD."""
    result = jobs.design(job_id)
    view = design_view(result)
    return render(request, _designed("design", "Design", view, job_id, result))


@pages.get("/jobs/{job_id}/board")
def board(
    request: Request, job_id: str, jobs: Folder, view: str = "off", zoom: int = 100
) -> HTMLResponse:
    """Show the board in one of its pictures, its conductors, and what else can be done."""
    result = jobs.design(job_id)
    shown = board_view(result, view, zoom)
    page = _designed("board", "Board", shown, job_id, result)
    return render(request, replace(page, drawing=shown.picture.drawing))


@pages.get("/jobs/{job_id}/surge")
def surge(request: Request, job_id: str, jobs: Folder) -> HTMLResponse:
    """Show what a surge leaves."""
    result = jobs.design(job_id)
    view = surge_view(result)
    return render(request, _designed("surge", "Surge", view, job_id, result))


@pages.get("/jobs/{job_id}/on-site")
def on_site(
    request: Request, job_id: str, jobs: Folder, step: int = 1, view: str = ""
) -> HTMLResponse:
    """Show one step of the order of work."""
    result = jobs.design(job_id)
    shown = site_view(result, step, whole=view == "whole")
    page = _designed("on-site", shown.title, shown, job_id, result)
    return render(request, replace(page, drawing=shown.drawing))


@pages.get("/jobs/{job_id}/test")
def test(request: Request, job_id: str, jobs: Folder) -> HTMLResponse:
    """Say what of the tests can be printed today."""
    return render(request, Page("test.html", "Test", None, job_id, jobs.load(job_id), "test"))


@pages.get("/jobs/{job_id}/handover")
def handover(request: Request, job_id: str, jobs: Folder) -> HTMLResponse:
    """List the papers."""
    result = jobs.design(job_id)
    view = handover_view(result)
    return render(request, _designed("handover", "Handover", view, job_id, result))


@pages.get("/jobs/{job_id}/aftercare")
def aftercare(request: Request, job_id: str, jobs: Folder) -> HTMLResponse:
    """Say what of the after-care can be printed today."""
    result = jobs.design(job_id)
    view = handover_view(result)
    return render(request, _designed("aftercare", "Aftercare", view, job_id, result))


@pages.get("/jobs/{job_id}/papers/{name}")
def papers(job_id: str, name: str, jobs: Folder) -> Response:
    """Hand out one paper, made now."""
    document, kind = paper(name)
    result = jobs.design(job_id)
    saved = f'attachment; filename="{file_name(result.job, name)}"'
    return Response(document.build(result), media_type=kind, headers={"Content-Disposition": saved})


@pages.get("/jobs/{job_id}/small.svg")
def small_board(job_id: str, jobs: Folder, look: str = "") -> Response:
    """Draw the board in small, for the list of homes."""
    result = jobs.design(job_id)
    drawing = board_svg(result.chosen, result.job.title, ink=page_ink())
    height_mm = result.chosen.arrangement.enclosure.height_mm
    picture = small(drawing, look_of(look), height_mm)
    headers = {"Content-Security-Policy": FILE_POLICY, "Cache-Control": "no-cache"}
    return Response(picture, media_type="image/svg+xml", headers=headers)


@pages.get("/api/jobs/{job_id}/design", response_class=Response)
def design_file(job_id: str, jobs: Folder) -> Response:
    """Return the design file, as ``boardwright plan --json`` prints it."""
    return Response(design_json(jobs.design(job_id)), media_type="application/json")


@pages.post("/look")
def choose(
    request: Request, look: Annotated[str, Form()], back: Annotated[str, Form()] = "/"
) -> Response:
    """Keep the chosen look, and go back to where it was chosen."""
    faults.refuse_foreign(request)
    answer = RedirectResponse(way_back(back), 303)
    answer.set_cookie(
        COOKIE, look_of(look).name, max_age=int(KEPT_S), httponly=True, samesite="strict"
    )
    return answer
