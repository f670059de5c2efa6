"""What if: two variants worked out and set side by side; one is kept, or neither."""

from __future__ import annotations

import time
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.core.errors import BoardwrightError
from boardwright.store.conflicts import Conflict
from boardwright.web.devices.stamps import stamped
from boardwright.web.forms import weighing
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.weigh import Tried, weighed
from boardwright.web.views.weigh_page import WeighView, choices
from boardwright.web.working.work import FAILED, Work

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

PATIENCE_S = 0.25
"""How long a page waits for designs that are nearly there, before it shows how far they are. [s]"""

Lines = Annotated[list[str], Query(default_factory=list)]


@pages.get("/jobs/{job_id}/weigh")
def weigh(request: Request, job_id: str, jobs: Homes, a: Lines, b: Lines) -> HTMLResponse:
    """Show what is saved and up to two variants of it, and only what differs."""
    version = jobs.version(job_id).number
    variants = [("As it is saved", ()), ("First", tuple(a)), ("Second", tuple(b))]
    asked = [each for number, each in enumerate(variants) if each[1] or not number]
    works = [jobs.begin_design(job_id, weighing.read(lines)) for _, lines in asked]
    _wait(works)
    for work in works:
        if work.state == FAILED:
            raise BoardwrightError(work.error)
    ready = all(work.is_over and work.state == "done" for work in works)
    job = jobs.load(job_id, version)
    view = WeighView(
        weighed=weighed([_tried(jobs, job_id, *each) for each in asked]) if ready else None,
        works=tuple(work.name for work in works),
        choices=choices(jobs.design(job_id, version), a, b) if ready else (),
        circuits=tuple((circuit.id, circuit.name) for circuit in job.circuits),
        lines=(tuple(a), tuple(b)),
    )
    return render(
        request, Page("weigh.html", "What if", view, job_id, job, "design", version=version)
    )


@pages.get("/jobs/{job_id}/weigh/one")
def one(  # noqa: PLR0917 - the fields of a form
    job_id: str,
    a: Lines,
    b: Lines,
    circuit: str,
    entry: str,
    value: str = "",
) -> Response:
    """Add one entry to a variant, as the plain form of the page asks."""
    side, _, path = entry.partition(":")
    line = f"circuits.{circuit}.{path}={value.strip()}"
    lines = {"a": [*a], "b": [*b]}
    lines.setdefault(side, []).append(line)
    query = "&".join(
        f"{key}={quote(each)}"
        for key in ("a", "b")
        for each in weighing.written(weighing.read(lines[key]))
    )
    return RedirectResponse(f"/jobs/{quote(job_id)}/weigh?{query}", 303)


@pages.post("/jobs/{job_id}/weigh")
def keep(
    request: Request,
    job_id: str,
    jobs: Homes,
    base: Annotated[int, Form(ge=1, le=2**31 - 1)],
    line: Annotated[list[str], Form()],
) -> Response:
    """Save a variant."""
    edits = weighing.read(line)
    why = f"kept after a what-if: {'; '.join(weighing.in_words(jobs.load(job_id, base), edits))}"
    kept = jobs.change(job_id, edits, base=base, stamp=stamped(request, why, jobs.now()))
    place = "versions" if isinstance(kept, Conflict) else "design"
    return RedirectResponse(f"/jobs/{job_id}/{place}", 303)


def _tried(jobs: Jobs, job_id: str, name: str, lines: tuple[str, ...]) -> Tried:
    edits = weighing.read(lines)
    job = jobs.load(job_id)
    design = jobs.designed(jobs.variant(job_id, edits)) if edits else jobs.design(job_id)
    return Tried(name, design, lines, weighing.in_words(job, edits))


def _wait(works: list[Work]) -> None:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and not all(work.is_over for work in works):
        time.sleep(0.01)


__all__ = ["pages"]
