"""Designs worked out in the background: begun, asked how far they are, stopped."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from boardwright.web.api.shapes import MOST_EDITS, EditShape, Shape
from boardwright.web.frame.reach import Homes
from boardwright.web.working.work import Work

routes = APIRouter(tags=["running"])


class Asked(Shape):
    """A design to work out: of the home as it stands, or with fields set and nothing saved."""

    edits: tuple[EditShape, ...] = ()


@routes.post("/jobs/{job_id}/running")
def begin(job_id: str, asked: Asked, jobs: Homes) -> dict[str, Any]:
    """Begin to work out a design; one that is there already is done at once."""
    edits = [each.edit() for each in asked.edits[:MOST_EDITS]]
    return work_json(jobs.begin_design(job_id, edits))


@routes.get("/jobs/{job_id}/running/{name}")
def look(job_id: str, name: str, jobs: Homes) -> dict[str, Any]:
    """Say how far a work is."""
    jobs.version(job_id)
    return work_json(jobs.works.look(name))


@routes.delete("/jobs/{job_id}/running/{name}")
def stop(job_id: str, name: str, jobs: Homes) -> dict[str, Any]:
    """Ask a work to end at its next step."""
    jobs.version(job_id)
    return work_json(jobs.works.stop(name))


def work_json(work: Work) -> dict[str, Any]:
    """Return a work as the page asks about it."""
    return {
        "work": work.name,
        "state": work.state,
        "words": work.words,
        "fraction": round(work.fraction, 3),
        "error": work.error,
    }
