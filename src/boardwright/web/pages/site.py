"""The work on site: the order of work, ticked as it is done."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Depends, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from boardwright.core.errors import FieldError
from boardwright.web.forms.entered import event_of, form_of, seen_in
from boardwright.web.frame.page import designed, render
from boardwright.web.frame.reach import Homes
from boardwright.web.views.photos import photos_of
from boardwright.web.views.site import site_view
from boardwright.web.views.ticks import KIND, NOT_RIGHT, STATES, key_of, ticks_of

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

HAND = "hand"
_KEPT_S = 365 * 24 * 3600
_LONGEST_NOTE = 400


@pages.get("/jobs/{job_id}/on-site")
def on_site(
    request: Request, job_id: str, jobs: Homes, step: int = 1, view: str = ""
) -> HTMLResponse:
    """Show one step of the order of work."""
    version = jobs.version(job_id).number
    result = jobs.design(job_id, version)
    events = jobs.store.events(job_id, 0)
    ticks = ticks_of(events, result.chosen.wiring.steps)
    shown = site_view(result, step, ticks, whole=view == "whole")
    shown = replace(
        shown,
        left_handed=request.cookies.get(HAND) == "left",
        photos=photos_of(events, f"steps.{shown.key}"),
    )
    page = designed("on-site", shown.title, shown, job_id, result)
    return render(request, replace(page, drawing=shown.drawing, version=version))


@pages.post("/jobs/{job_id}/on-site/ticks")
def tick(
    request: Request, job_id: str, jobs: Homes, form: Annotated[FormData, Depends(form_of)]
) -> Response:
    """Keep what was said of a step, and go on to the next if it is done."""
    steps = {key_of(step): step for step in jobs.design(job_id).chosen.wiring.steps}
    key, state = str(form.get("step", "")), str(form.get("state", ""))
    if key not in steps:
        raise FieldError("step", key, "a step of the order of work as it is planned now")
    if state not in STATES:
        raise FieldError("state", state, f"one of {', '.join(STATES)}")
    note = str(form.get("note", "")).strip()
    if len(note) > _LONGEST_NOTE or (
        note and not note.replace("\n", "").replace("\r", "").isprintable()
    ):
        raise FieldError("note", note, f"at most {_LONGEST_NOTE} letters")
    value = {"state": state, "note": note if state == NOT_RIGHT else ""}
    event = event_of(request, KIND, f"steps.{key}", value, seen=seen_in(form), now=jobs.now())
    jobs.store.add_events(job_id, [event])
    number = steps[key].number
    onward = number + 1 if state == "done" and number < len(steps) else number
    return RedirectResponse(f"/jobs/{job_id}/on-site?step={onward}", 303)


@pages.post("/jobs/{job_id}/on-site/hand")
def hand(job_id: str, form: Annotated[FormData, Depends(form_of)]) -> Response:
    """Remember which thumb presses, and go back to the step."""
    step = str(form.get("back", "1"))
    number = step if step.isdecimal() else "1"
    answer = RedirectResponse(f"/jobs/{job_id}/on-site?step={number}", 303)
    side = "left" if form.get("hand") == "left" else "right"
    answer.set_cookie(HAND, side, max_age=_KEPT_S, httponly=True, samesite="strict")
    return answer


__all__ = ["HAND", "pages"]
