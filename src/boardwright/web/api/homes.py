"""The list of homes, one home, its history, its text."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request, Response

from boardwright.web.api.shapes import Begun, Number, change_json, conflict_json, saved_json
from boardwright.web.devices.stamps import stamped
from boardwright.web.frame.reach import Homes

routes = APIRouter(tags=["homes"])


@routes.get("/jobs")
def listed(jobs: Homes) -> dict[str, Any]:
    """List every home with its last change."""
    away = jobs.store.put_away()
    return {
        "jobs": [
            {
                "id": entry.id,
                "title": entry.title,
                "file": entry.file,
                "changed": entry.changed.isoformat() if entry.changed else None,
                "conflicts": entry.conflicts,
                "away": entry.id in away,
                "errors": list(entry.errors),
            }
            for entry in jobs.entries()
        ]
    }


@routes.post("/jobs", status_code=201)
def begun(request: Request, asked: Begun, jobs: Homes) -> dict[str, Any]:
    """Add a home from a whole job file."""
    kept = jobs.create(asked.text, stamped(request, "begun", jobs.now()))
    return {"id": kept.change.job_id, **saved_json(kept)}


@routes.get("/jobs/{job_id}")
def one(job_id: str, jobs: Homes) -> dict[str, Any]:
    """Return a home as it stands: every field, what undo and redo lead to, open conflicts."""
    version = jobs.version(job_id)
    steps = jobs.store.steps(job_id)
    return {
        "id": job_id,
        "version": version.number,
        "job": jobs.load(job_id, version.number).model_dump(mode="json"),
        "steps": {"back": steps.back, "forward": steps.forward},
        "conflicts": [conflict_json(each) for each in jobs.store.conflicts(job_id)],
    }


@routes.get("/jobs/{job_id}/history")
def history(job_id: str, jobs: Homes, after: Number = 0) -> dict[str, Any]:
    """Return every change of a home behind a version, oldest first."""
    changes = jobs.store.history(job_id)
    return {"history": [change_json(change) for change in changes if change.number > after]}


@routes.get("/jobs/{job_id}/text", response_class=Response)
def text(job_id: str, jobs: Homes, version: Number | None = None) -> Response:
    """Return the job file as it stands, or as it stood, comments kept."""
    return Response(jobs.version(job_id, version).text, media_type="application/yaml")


@routes.get("/jobs/{job_id}/pulse")
def pulse(job_id: str, jobs: Homes) -> dict[str, int]:
    """Return the last numbers of a home; when they differ from a page's own, there is news."""
    jobs.version(job_id)
    now = jobs.store.pulse(job_id)
    return {"version": now.version, "event": now.event, "aside": now.aside}
