"""What was worked out for a home."""

from __future__ import annotations

from fastapi import APIRouter, Response

from boardwright.documents.design_file import build
from boardwright.web.api.shapes import Number
from boardwright.web.reach import Homes

routes = APIRouter(tags=["results"])


@routes.get("/jobs/{job_id}/design", response_class=Response)
def design(job_id: str, jobs: Homes, version: Number | None = None) -> Response:
    """Return the design file, as ``boardwright plan --json`` prints it."""
    return Response(build(jobs.design(job_id, version)), media_type="application/json")
