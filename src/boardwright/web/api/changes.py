"""Changes of a home: fields, whole texts, steps back and forward."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse

from boardwright.core.errors import FieldError
from boardwright.store.conflicts import Conflict
from boardwright.store.records import Version
from boardwright.web.api.shapes import Clashed, Edits, Step, Text, conflict_json, saved_json
from boardwright.web.devices.stamps import stamped
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.jobs import Jobs

routes = APIRouter(tags=["changes"])

_CLASH: dict[int | str, dict[str, Any]] = {
    409: {"model": Clashed, "description": "Others changed the same: both texts are kept."}
}


@routes.post("/jobs/{job_id}/changes", responses=_CLASH)
def change(request: Request, job_id: str, asked: Edits, jobs: Homes) -> JSONResponse:
    """Set fields. What others saved meanwhile is merged; where it cannot be, both are kept."""
    stamp = stamped(request, asked.why or _named(asked), jobs.now())
    edits = [each.edit() for each in asked.edits]
    return _kept(jobs.change(job_id, edits, base=asked.base, stamp=stamp))


@routes.put("/jobs/{job_id}/text", responses=_CLASH)
def whole(request: Request, job_id: str, asked: Text, jobs: Homes) -> JSONResponse:
    """Save a whole job file, as after a conflict was looked at."""
    stamp = stamped(request, asked.why or "the whole text", jobs.now())
    return _kept(jobs.save(job_id, asked.text, base=asked.base, stamp=stamp, settles=asked.settles))


@routes.post("/jobs/{job_id}/undo", responses=_CLASH)
def undo(request: Request, job_id: str, asked: Step, jobs: Homes) -> JSONResponse:
    """Go one step back, as a new version; or to any version by its number."""
    return _stepped(request, job_id, asked, jobs, back=True)


@routes.post("/jobs/{job_id}/redo", responses=_CLASH)
def redo(request: Request, job_id: str, asked: Step, jobs: Homes) -> JSONResponse:
    """Go one step forward again."""
    return _stepped(request, job_id, asked, jobs, back=False)


def _stepped(request: Request, job_id: str, asked: Step, jobs: Jobs, *, back: bool) -> JSONResponse:
    steps = jobs.store.steps(job_id)
    number = asked.number or (steps.back if back else steps.forward)
    if number is None:
        raise FieldError("base", asked.base, "a version with a step to go to from it")
    stamp = stamped(request, f"back to version {number}", jobs.now())
    return _kept(jobs.restore(job_id, number, base=asked.base, stamp=stamp))


def _kept(kept: Version | Conflict) -> JSONResponse:
    if isinstance(kept, Conflict):
        return JSONResponse({"error": kept.reason, "conflict": conflict_json(kept)}, 409)
    return JSONResponse(saved_json(kept))


def _named(asked: Edits) -> str:
    paths = [each.path for each in asked.edits]
    more = f" and {len(paths) - 1} more" if len(paths) > 1 else ""
    return f"{paths[0]}{more}"
