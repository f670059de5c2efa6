"""The history of a home: what changed, back to any version, and the choice between two."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel, Field

from boardwright.core.errors import FieldError
from boardwright.job.read import parse_job
from boardwright.store.conflicts import Conflict
from boardwright.store.records import Version
from boardwright.web.devices.stamps import stamped
from boardwright.web.forms.sent import Sent
from boardwright.web.forms.sent import whole as whole_number
from boardwright.web.forms.settle import open_conflict, settled, whole
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes
from boardwright.web.look.choice import way_back
from boardwright.web.views.history import changed_view, history_view, versions_view

pages = APIRouter(
    prefix="/jobs/{job_id}", default_response_class=HTMLResponse, include_in_schema=False
)

_CHOICE = "choice."
LARGEST = 2**31 - 1


class Step(BaseModel):
    """What a button of undo, redo or the history sends."""

    base: int = Field(ge=1, le=LARGEST)
    number: int | None = Field(default=None, ge=1, le=LARGEST)
    forward: bool = False
    back: str = "/"


@pages.get("/history")
def history(request: Request, job_id: str, jobs: Homes, before: int = 0) -> HTMLResponse:
    """List the versions of a home."""
    changes, steps = jobs.store.history(job_id), jobs.store.steps(job_id)
    view = history_view(changes, steps, len(jobs.store.conflicts(job_id)), before)
    page = Page("history.html", "History", view, job_id, jobs.load(job_id), version=view.version)
    return render(request, page)


@pages.get("/changed")
def changed(request: Request, job_id: str, jobs: Homes, one: int, other: int) -> HTMLResponse:
    """Say what differs between two versions."""
    read = jobs.load(job_id, one), jobs.load(job_id, other)
    view = changed_view(jobs.store.history(job_id), one, other, read)
    page = Page("changed.html", "What changed", view, job_id, read[1], version=view.version)
    return render(request, page)


@pages.post("/step")
def step(request: Request, job_id: str, jobs: Homes, said: Annotated[Step, Form()]) -> Response:
    """Go a step back or forward, or to a version by its number, as a new version."""
    steps = jobs.store.steps(job_id)
    number = said.number or (steps.forward if said.forward else steps.back)
    if number is None:
        way = "forward" if said.forward else "back"
        raise FieldError("number", None, f"a version that a step {way} could lead to")
    stamp = stamped(request, f"back to version {number}", jobs.now())
    kept = jobs.restore(job_id, number, base=said.base, stamp=stamp)
    return _after(kept, job_id, way_back(said.back))


@pages.get("/versions")
def versions(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show the texts that were set aside beside the one that stands."""
    conflicts = jobs.store.conflicts(job_id)
    texts = [
        (parse_job(each.mine.text, job_id), parse_job(each.theirs.text, job_id))
        for each in conflicts
    ]
    version = jobs.version(job_id).number
    view = versions_view(version, conflicts, texts)
    page = Page("versions.html", "Two versions", view, job_id, jobs.load(job_id), version=version)
    return render(request, page)


@pages.post("/versions")
def choose(request: Request, job_id: str, jobs: Homes, form: Sent) -> Response:
    """Save what was chosen as a new version; the two that it ends stay in the store."""
    conflict = open_conflict(jobs.store.conflicts(job_id), whole_number(form, "number"))
    if "whole" in form:
        text = whole(conflict, form["whole"])
    else:
        chosen = {k.removeprefix(_CHOICE): v for k, v in form.items() if k.startswith(_CHOICE)}
        text = settled(conflict, chosen)
    stamp = stamped(request, "chosen between two versions", jobs.now())
    base = conflict.theirs.number
    kept = jobs.save(job_id, text, base=base, stamp=stamp, settles=conflict.mine.number)
    return _after(kept, job_id, f"/jobs/{job_id}/history")


def _after(kept: Version | Conflict, job_id: str, back: str) -> RedirectResponse:
    away = f"/jobs/{job_id}/versions" if isinstance(kept, Conflict) else back
    return RedirectResponse(away, 303)


__all__ = ["pages"]
