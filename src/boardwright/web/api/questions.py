"""The survey's questions with what each is answered by so far."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

from fastapi import APIRouter, Response

from boardwright.web.frame.reach import Homes
from boardwright.web.views.walk import groups, stops

routes = APIRouter(tags=["survey"])


@routes.get("/jobs/{job_id}/questions", response_class=Response)
def questions(job_id: str, jobs: Homes) -> Response:
    """Return every question of the survey in order: its field, unit, range and answer so far."""
    version = jobs.version(job_id).number
    job = jobs.load(job_id, version)
    walk = [
        {**_table(stop), "groups": [_table(group) for group in groups(stop, job)]}
        for stop in stops(job)
    ]
    text = json.dumps({"version": version, "screens": walk}, default=_table)
    return Response(text, media_type="application/json")


def _table(part: Any) -> dict[str, Any]:  # noqa: ANN401 - any part of a view
    return {field.name: getattr(part, field.name) for field in fields(part)}
