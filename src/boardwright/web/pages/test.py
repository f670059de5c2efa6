"""The tests after the work: one circuit a screen, each reading an event."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from boardwright.verification.limits import Limit
from boardwright.web.forms.entered import event_of, form_of, seen_in
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.readings import KIND, limits_of, readings_view, standing_text, subject_of

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

_OVER = re.compile(r">\s*(\d+(?:\.\d+)?)")
_FIGURE = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_MOST = 1e6


@pages.get("/jobs/{job_id}/test")
def tests(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show the first circuit with a reading to take."""
    return _shown(request, job_id, "", jobs)


@pages.get("/jobs/{job_id}/test/{key}")
def circuit(request: Request, job_id: str, key: str, jobs: Homes) -> HTMLResponse:
    """Show the readings of one circuit, or of the origin."""
    return _shown(request, job_id, key, jobs)


@pages.post("/jobs/{job_id}/test/{key}")
def taken(
    request: Request,
    job_id: str,
    key: str,
    jobs: Homes,
    form: Annotated[FormData, Depends(form_of)],
) -> Response:
    """Keep the readings of a form, then go on; a figure that is none is shown beside its field."""
    job = jobs.load(job_id)
    readings_view(job, jobs.edition(job), (), key, {})
    limits = limits_of(job, jobs.edition(job), key)
    events = jobs.store.events(job_id, 0)
    before = {each.reading: standing_text(events, subject_of(key, each.reading)) for each in limits}
    typed = {each.reading: str(form.get(each.reading, "")).strip() for each in limits}
    values: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for limit in limits:
        text = typed[limit.reading]
        if text == before[limit.reading]:
            continue
        value, problem = value_of(limit, text)
        if problem:
            wrong[limit.reading] = problem
        else:
            values[limit.reading] = value
    if wrong:
        return _shown(request, job_id, key, jobs, wrong)
    new = [
        event_of(request, KIND, subject_of(key, name), value, seen=seen_in(form), now=jobs.now())
        for name, value in values.items()
    ]
    if new:
        jobs.store.add_events(job_id, new)
    ahead = str(form.get("ahead", ""))
    known = re.fullmatch(r"[a-z0-9._-]+", ahead) is not None
    return RedirectResponse(f"/jobs/{job_id}/{f'test/{ahead}' if known else 'handover'}", 303)


def value_of(limit: Limit, text: str) -> tuple[Any, str]:
    """Return a reading as its event holds it, or what is wrong with it in words."""
    if not text:
        return None, ""
    if limit.seen:
        return (text, "") if text in ("yes", "no") else (None, f"{limit.label}: answer yes or no.")
    over = _OVER.fullmatch(text)
    if over and float(over[1]) <= _MOST:
        return {"over": float(over[1])}, ""
    if _FIGURE.fullmatch(text) and float(text) <= _MOST:
        return float(text), ""
    point = f" Write {text.replace(',', '.')} with a point." if text.count(",") == 1 else ""
    return None, (
        f"{limit.label}: {text} {limit.unit} cannot be kept. Enter a number from 0, or > and the "
        f"end of the meter's range.{point}"
    )


def _shown(
    request: Request,
    job_id: str,
    key: str,
    jobs: Jobs,
    wrong: Mapping[str, str] | None = None,
) -> HTMLResponse:
    version = jobs.version(job_id).number
    job = jobs.load(job_id, version)
    events = jobs.store.events(job_id, 0)
    view = readings_view(job, jobs.edition(job), events, key, wrong or {})
    page = Page("test.html", view.title, view, job_id, job, "test", version=version)
    return render(request, page, 422 if wrong else 200)


__all__ = ["pages", "value_of"]
