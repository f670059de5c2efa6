"""One circuit as a plain form: changed, added, moved in the list, taken away."""

from __future__ import annotations

from collections.abc import Sequence

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.core.errors import BoardwrightError
from boardwright.job.edit import Edit
from boardwright.store.conflicts import Conflict
from boardwright.web.devices.stamps import stamped
from boardwright.web.forms.circuit_edits import adding, changing, moving, removing
from boardwright.web.forms.sent import Sent, whole
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes
from boardwright.web.pages.design import shown
from boardwright.web.views.adding import refused
from boardwright.web.views.circuit_form import circuit_form

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/design/circuits/{circuit_id}")
def form(request: Request, job_id: str, circuit_id: str, jobs: Homes) -> HTMLResponse:
    """Show every entry of a circuit."""
    version = jobs.version(job_id)
    job = jobs.load(job_id, version.number)
    view = circuit_form(job, circuit_id)
    page = Page("circuit.html", view.name, view, job_id, job, "design", version=version.number)
    return render(request, page)


@pages.post("/jobs/{job_id}/design/circuits/{circuit_id}")
def change(request: Request, job_id: str, circuit_id: str, jobs: Homes, given: Sent) -> Response:
    """Save what differs; what is refused is shown again with the reason."""
    base = whole(given, "base")
    job = jobs.load(job_id, base)
    name = circuit_form(job, circuit_id).name
    try:
        edits = changing(job, circuit_id, given)
        return _saved(request, jobs, edits, job_id=job_id, base=base, why=name)
    except BoardwrightError as error:
        view = circuit_form(job, circuit_id, given, error)
        page = Page("circuit.html", name, view, job_id, job, "design", version=base)
        return render(request, page, 422)


@pages.post("/jobs/{job_id}/design/circuits")
def add(request: Request, job_id: str, jobs: Homes, given: Sent) -> Response:
    """Add a circuit at the end of the list; what is refused is shown again with the reason."""
    base = whole(given, "base")
    job = jobs.load(job_id, base)
    try:
        circuit_id, edits = adding(job, given)
        why = f"{given['name'].strip()} added"
        saved = _saved(request, jobs, edits, job_id=job_id, base=base, why=why)
    except BoardwrightError as error:
        return shown(request, job_id, jobs, refused(given, error))
    saved.headers["location"] = saved.headers["location"].replace(
        "#circuits", f"#circuit-{circuit_id}"
    )
    return saved


@pages.post("/jobs/{job_id}/design/circuits/{circuit_id}/move")
def move(request: Request, job_id: str, circuit_id: str, jobs: Homes, given: Sent) -> Response:
    """Move a circuit up or down the list."""
    base = whole(given, "base")
    edits = moving(jobs.load(job_id, base), circuit_id, whole(given, "by", least=-60, most=60))
    why = f"{circuit_id} moved in the list"
    return _saved(request, jobs, edits, job_id=job_id, base=base, why=why)


@pages.post("/jobs/{job_id}/design/circuits/{circuit_id}/remove")
def remove(request: Request, job_id: str, circuit_id: str, jobs: Homes, given: Sent) -> Response:
    """Take a circuit out of the job."""
    base = whole(given, "base")
    edits = removing(jobs.load(job_id, base), circuit_id)
    why = f"{circuit_id} taken out"
    return _saved(request, jobs, edits, job_id=job_id, base=base, why=why)


def _saved(
    request: Request, jobs: Homes, edits: Sequence[Edit], *, job_id: str, base: int, why: str
) -> Response:
    """Save, and go back to the circuits; where both texts had to be kept, to the choice."""
    if edits:
        stamp = stamped(request, why, jobs.now())
        if isinstance(jobs.change(job_id, edits, base=base, stamp=stamp), Conflict):
            return RedirectResponse(f"/jobs/{job_id}/versions", 303)
    return RedirectResponse(f"/jobs/{job_id}/design#circuits", 303)


__all__ = ["pages"]
