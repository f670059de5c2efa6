"""The papers: looked at, handed over with a record of it, and looked after for years."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.design import Design
from boardwright.documents.pack.pack import pages as pack_pages
from boardwright.documents.readings.taken import OnSite
from boardwright.web.devices.stamps import who_of
from boardwright.web.frame.page import designed, render
from boardwright.web.frame.reach import Homes
from boardwright.web.homes import issues
from boardwright.web.homes.taken import on_site
from boardwright.web.views.aftercare import aftercare_view
from boardwright.web.views.papers import UnknownPaper, file_name, handover_view, paper
from boardwright.web.working.kept import Kept

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("/jobs/{job_id}/handover")
def handover(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show what is missing, the pack page by page, and every other paper."""
    version = jobs.version(job_id).number
    result = jobs.design(job_id, version)
    events = jobs.store.events(job_id)
    count = len(_pictures(request, result, on_site(events)))
    view = handover_view(result, events, preview=count)
    page = designed("handover", "Handover", view, job_id, result)
    return render(request, replace(page, version=version))


@pages.post("/jobs/{job_id}/handover")
def issue(
    request: Request, job_id: str, jobs: Homes, base: Annotated[int, Form(ge=1, le=2**31 - 1)]
) -> Response:
    """Hand out the pack of the version that was looked at."""
    issues.issue(jobs, job_id, version=base, who=who_of(request))
    return RedirectResponse(f"/jobs/{job_id}/handover", 303)


@pages.get("/jobs/{job_id}/handover/householder")
def householder(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Show the householder's page alone, to be read on a screen or printed."""
    result = jobs.design(job_id)
    view = handover_view(result, jobs.store.events(job_id))
    page = designed("handover", "For the householder", view, job_id, result)
    return render(request, replace(page, template="householder.html"))


@pages.get("/jobs/{job_id}/handover/{number}.png")
def picture(request: Request, job_id: str, number: int, jobs: Homes) -> Response:
    """Return one page of the pack as a picture."""
    site = on_site(jobs.store.events(job_id))
    found = _pictures(request, jobs.design(job_id), site)
    if not 1 <= number <= len(found):
        raise UnknownPaper("The pack has no page of that number.")
    return Response(found[number - 1], media_type="image/png")


@pages.get("/jobs/{job_id}/issued/{number}/pack.pdf")
def issued(job_id: str, number: int, jobs: Homes) -> Response:
    """Hand out once more a pack that was issued, the same to the last byte."""
    made = issues.again(jobs, job_id, number)
    saved = f'attachment; filename="{job_id}-issued-{number}-pack.pdf"'
    headers = {"Content-Disposition": saved}
    return Response(made, media_type="application/pdf", headers=headers)


@pages.get("/jobs/{job_id}/aftercare")
def aftercare(request: Request, job_id: str, jobs: Homes) -> HTMLResponse:
    """Say what falls due, and what was handed out."""
    result = jobs.design(job_id)
    view = aftercare_view(result, jobs.store.events(job_id), jobs.now())
    return render(request, designed("aftercare", "Aftercare", view, job_id, result))


@pages.get("/jobs/{job_id}/papers/{name}")
def papers(job_id: str, name: str, jobs: Homes) -> Response:
    """Hand out one paper, made now."""
    document, kind = paper(name)
    result = jobs.design(job_id)
    saved = f'attachment; filename="{file_name(result.job, name)}"'
    made = document.made(result, on_site(jobs.store.events(job_id)))
    return Response(made, media_type=kind, headers={"Content-Disposition": saved})


def _pictures(request: Request, result: Design, site: OnSite) -> tuple[bytes, ...]:
    """Return the pack's pages, made once for each design and its readings."""
    state = request.app.state
    if not hasattr(state, "pack_pictures"):
        state.pack_pictures = Kept[tuple[bytes, ...]]()
    kept: Kept[tuple[bytes, ...]] = state.pack_pictures
    read = repr(sorted(site.values.items()))
    parts = (result.job_digest, result.catalogue.digest, result.edition.digest, read)
    key = hashlib.sha256("/".join(parts).encode()).hexdigest()
    return kept.get(key, lambda: pack_pages(result, site))


__all__ = ["pages"]
