"""The survey: one screen of the walk, read and answered."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Depends, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from boardwright.core.errors import BoardwrightError, FieldError, InputErrors
from boardwright.core.findings import Verdict
from boardwright.job.edit import Edit
from boardwright.job.job import Job
from boardwright.store.conflicts import Conflict
from boardwright.web.devices.stamps import stamped
from boardwright.web.forms import parts
from boardwright.web.forms.filled import Sent, began, changed, placed
from boardwright.web.forms.sent import whole
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.findings import stops
from boardwright.web.views.photos import photos_of
from boardwright.web.views.survey import SurveyView, Typed, survey_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

FIRST = "supply"
_MOST_FIELDS = 400
_HERE = "."
_KEY = re.compile(r"[a-z0-9][a-z0-9_. -]*")
_CONTROLS = frozenset({"base", "do", "ahead", "unknown", "assumed"})
"""Names of a form that are no field of the job."""


@pages.get("/jobs/{job_id}/survey")
def begin(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show the first screen of the survey."""
    return _shown(request, job_id, FIRST, jobs)


@pages.get("/jobs/{job_id}/survey/{key}")
def screen(request: Request, job_id: str, key: str, jobs: Homes) -> HTMLResponse:
    """Show one screen of the survey."""
    return _shown(request, job_id, key, jobs)


async def _form(request: Request) -> FormData:
    return await request.form(max_fields=_MOST_FIELDS)


@pages.post("/jobs/{job_id}/survey/{key}")
def answered(
    request: Request,
    job_id: str,
    key: str,
    jobs: Homes,
    form: Annotated[FormData, Depends(_form)],
) -> Response:
    """Keep what a form brought, then go on; what is wrong is shown beside its field."""
    base = _base(form)
    job = jobs.load(job_id, base)
    sent = _sent(form)
    shown = survey_view(job, jobs.edition(job), key)
    try:
        edits = list(changed(shown.fields, sent))
        asked, goes_to = _asked(str(form.get("do", "go")), job, shown, sent)
        kept = _kept(request, job_id, [*edits, *asked], base, jobs)
    except BoardwrightError as error:
        found = error.errors if isinstance(error, InputErrors) else (error,)
        wrong, rest = placed(found, shown.fields, sent)
        typed = Typed(sent.values, wrong, rest, sent.unknown, sent.assumed)
        return _shown(request, job_id, key, jobs, typed=typed, number=base)
    if isinstance(kept, Conflict):
        return RedirectResponse(f"/jobs/{job_id}/versions", 303)
    return RedirectResponse(f"/jobs/{job_id}/{_address(goes_to, form, key)}", 303)


def _address(goes_to: str, form: FormData, key: str) -> str:
    ahead = key if goes_to == _HERE else goes_to or str(form.get("ahead", ""))
    safe = ahead if _KEY.fullmatch(ahead) else key
    return safe if safe == "design" else f"survey/{quote(safe)}"


def _asked(do: str, job: Job, shown: SurveyView, sent: Sent) -> tuple[list[Edit], str]:
    """Return the edits that the pressed button asks for, and the screen it leads to."""
    verb, _, path = do.partition(":")
    if do not in _offered(shown):
        raise FieldError("do", do, "what a button of this screen does")
    match verb:
        case "add":
            own = [field for field in shown.fields if field.path.startswith(f"{path}.")]
            edits, made = parts.added(job, path, began(own, path, sent))
            return edits, made if _has_screen(made) else _HERE
        case "copy":
            return parts.copied(job, path)
        case "up" | "down":
            return parts.moved(job, path, -1 if verb == "up" else 1), _HERE
        case "remove":
            return parts.taken_away(job, path), _above(path)
        case "stay":
            return [], _HERE
        case _:
            return [], ""


def _offered(shown: SurveyView) -> frozenset[str]:
    """Return what the buttons of a screen do."""
    offered = {"go", "stay"}
    for group in shown.groups:
        named = (("add", group.at), ("remove", group.removes), ("copy", group.copies))
        offered |= {f"{verb}:{path}" for verb, path in named if path}
        offered |= {f"{verb}:{e.key}" for e in group.links if e.moves for verb in ("up", "down")}
    return frozenset(offered)


def _has_screen(path: str) -> bool:
    kind = path.split(".")[-2:-1]
    return kind in (["circuits"], ["devices"], ["appliances"])


def _above(path: str) -> str:
    """Return the screen to go to when a part is gone."""
    steps = path.split(".")
    if "appliances" in steps:
        return f"circuits.{steps[1]}.load"
    if "devices" in steps:
        return "board"
    return "circuits" if path.startswith("circuits.") and path.count(".") == 1 else _HERE


def _kept(request: Request, job_id: str, edits: list[Edit], base: int, jobs: Jobs) -> object:
    if not edits:
        return None
    more = f" and {len(edits) - 1} more" if len(edits) > 1 else ""
    stamp = stamped(request, f"{edits[0].path}{more}", jobs.now())
    return jobs.change(job_id, edits, base=base, stamp=stamp)


def _base(form: FormData) -> int:
    return whole({"base": str(form.get("base", ""))}, "base")


def _sent(form: FormData) -> Sent:
    values = {key: str(value) for key, value in form.items() if key not in _CONTROLS}
    unknown = frozenset(str(each) for each in form.getlist("unknown"))
    return Sent(values, unknown, frozenset(str(each) for each in form.getlist("assumed")))


def _shown(
    request: Request,
    job_id: str,
    key: str,
    jobs: Jobs,
    *,
    typed: Typed | None = None,
    number: int | None = None,
) -> HTMLResponse:
    version = jobs.version(job_id, number)
    job = jobs.load(job_id, version.number)
    view = survey_view(job, jobs.edition(job), key, typed)
    photos = photos_of(jobs.store.events(job_id, 0), key)
    view = replace(view, saved=version.change.stamp.at.isoformat(), photos=photos)
    page = Page("survey.html", view.title, view, job_id, job, "survey", version=version.number)
    found = (f for f in view.decided.beside.values() if f.verdict is Verdict.STOP)
    page = replace(page, stops=stops(tuple(found)))
    return render(request, page, 422 if typed else 200)


__all__ = ["pages"]
