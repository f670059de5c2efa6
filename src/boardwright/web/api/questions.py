"""The survey's questions with what each is answered by so far."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fastapi import APIRouter
from fastapi.encoders import jsonable_encoder

from boardwright.web.reach import Homes
from boardwright.web.views.walk import groups, stops

routes = APIRouter(tags=["survey"])


@routes.get("/jobs/{job_id}/questions")
def questions(job_id: str, jobs: Homes) -> dict[str, Any]:
    """Return every question of the survey in order: its field, unit, range and answer so far."""
    version = jobs.version(job_id).number
    job = jobs.load(job_id, version)
    walk = [
        {**asdict(stop), "groups": [asdict(group) for group in groups(stop, job)]}
        for stop in stops(job)
    ]
    return {"version": version, "screens": jsonable_encoder(walk)}
