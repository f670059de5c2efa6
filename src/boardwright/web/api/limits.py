"""The limits of a home's readings, for a device that judges them without the server."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from boardwright.web.frame.reach import Homes
from boardwright.web.views.limits import home_limits, limit_json

routes = APIRouter(tags=["results"])


@routes.get("/jobs/{job_id}/limits")
def limits(job_id: str, jobs: Homes) -> dict[str, Any]:
    """Return every reading to take, in tester order, with its bounds and where they come from."""
    version = jobs.version(job_id).number
    job = jobs.load(job_id, version)
    found = home_limits(job, jobs.edition(job))
    return {
        "version": version,
        "edition": job.edition,
        "origin": [limit_json(each) for each in found.origin],
        "circuits": {
            name: [limit_json(each) for each in own] for name, own in found.circuits.items()
        },
    }
