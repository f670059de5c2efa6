"""What a device keeps of a home to read it where no server answers."""

from __future__ import annotations

from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse

from boardwright.core.errors import BoardwrightError
from boardwright.web.frame.faults import FaultView
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.walk import stops

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/offline")
def absent(request: Request) -> HTMLResponse:
    """Say that a page is not on the device."""
    said = (
        "The server does not answer, and this page was not opened on this device before.",
        "What you entered waits on this device and is sent when the server answers.",
    )
    view = FaultView("This page is not on this device.", said)
    return render(request, Page("fault.html", view.answer, view))


@pages.get("/jobs/{job_id}/kept.json")
def kept(job_id: str, jobs: Homes) -> JSONResponse:
    """Return the addresses of a home that are worth keeping, the most needed first."""
    version = jobs.version(job_id).number
    job = jobs.load(job_id, version)
    at = f"/jobs/{job_id}"
    addresses = [
        f"/api/jobs/{job_id}",
        f"/api/jobs/{job_id}/limits",
        f"/api/jobs/{job_id}/events",
        f"{at}/survey",
        f"{at}/test",
        f"{at}/test/origin",
        *(f"{at}/test/{circuit.id}" for circuit in job.circuits),
        f"{at}/on-site",
        *(f"{at}/on-site?step={number}" for number in range(1, _steps(job_id, jobs) + 1)),
        *(f"{at}/survey/{quote(stop.key)}" for stop in stops(job)),
        f"{at}/board",
        f"{at}/design",
    ]
    return JSONResponse({"version": version, "addresses": addresses})


def _steps(job_id: str, jobs: Jobs) -> int:
    """Return how many steps the work has; none while the answers make no design."""
    try:
        return len(jobs.design(job_id).chosen.wiring.steps)
    except BoardwrightError:
        return 0


__all__ = ["pages"]
