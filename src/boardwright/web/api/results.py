"""What was worked out for a home: the design, its parts, and the papers that say it."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Response

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.documents.record.design_file import DesignOut, build, published
from boardwright.documents.shelf import shelf
from boardwright.documents.workings.workings import Row, rows, shared_rows
from boardwright.web.api.shapes import Number
from boardwright.web.frame.headers import FILE_POLICY
from boardwright.web.frame.reach import Homes
from boardwright.web.homes.taken import on_site
from boardwright.web.views.papers import file_name, paper

routes = APIRouter(tags=["results"])

_AS_FILE: dict[int | str, dict[str, Any]] = {200: {"description": "The paper, in its own kind."}}


@routes.get("/jobs/{job_id}/design", response_class=Response, responses={200: {"model": DesignOut}})
def design(job_id: str, jobs: Homes, version: Number | None = None) -> Response:
    """Return the design file, as ``boardwright plan --json`` prints it."""
    return Response(build(jobs.design(job_id, version)), media_type="application/json")


@routes.get("/jobs/{job_id}/findings")
def findings(job_id: str, jobs: Homes, version: Number | None = None) -> dict[str, Any]:
    """Return every finding, the gravest first, each with clause, value, limit and remedy."""
    return _part(jobs.design(job_id, version), "findings")


@routes.get("/jobs/{job_id}/circuits")
def circuits(job_id: str, jobs: Homes, version: Number | None = None) -> dict[str, Any]:
    """Return every circuit as worked out, and the demand of all together."""
    return _part(jobs.design(job_id, version), "circuits", "demand")


@routes.get("/jobs/{job_id}/circuits/{circuit_id}/working")
def working(
    job_id: str, circuit_id: str, jobs: Homes, version: Number | None = None
) -> dict[str, Any]:
    """Return how each figure of one circuit came about, and those that all circuits share."""
    result = jobs.design(job_id, version)
    ids = [circuit.id for circuit in result.job.circuits]
    if circuit_id not in ids:
        raise FieldError("circuit", circuit_id, f"one of {', '.join(ids)}")
    return {
        "working": [_row(row) for row in rows(result, circuit_id)],
        "shared": [_row(row) for row in shared_rows(result)],
    }


@routes.get("/jobs/{job_id}/board")
def board(job_id: str, jobs: Homes, version: Number | None = None) -> dict[str, Any]:
    """Return what stands where on the rail, and every conductor with its way and length."""
    parts = ("scheme", "enclosure", "spd", "arrangement", "spare_modules", "conductors")
    return _part(jobs.design(job_id, version), *parts, "arrangement_proven", "other_schemes")


@routes.get("/jobs/{job_id}/surge")
def surge(job_id: str, jobs: Homes, version: Number | None = None) -> dict[str, Any]:
    """Return whether surge protection is asked for, and what the study found at each place."""
    parts = ("surge_need", "spd", "surge_duty", "surge_study")
    return _part(jobs.design(job_id, version), *parts)


@routes.get("/jobs/{job_id}/steps")
def steps(job_id: str, jobs: Homes, version: Number | None = None) -> dict[str, Any]:
    """Return the order of work, each step with its caution, tool, torque and check."""
    return _part(jobs.design(job_id, version), "steps")


@routes.get("/jobs/{job_id}/papers")
def papers(job_id: str, jobs: Homes) -> dict[str, Any]:
    """List the papers of a home."""
    job = jobs.load(job_id)
    listed = [
        {"name": document.file, "title": document.title, "file": file_name(job, document.file)}
        for document in shelf()
    ]
    return {"papers": listed}


@routes.get("/jobs/{job_id}/papers/{name}", response_class=Response, responses=_AS_FILE)
def one_paper(job_id: str, name: str, jobs: Homes, version: Number | None = None) -> Response:
    """Return one paper, made now."""
    document, kind = paper(name)
    result = jobs.design(job_id, version)
    headers = {
        "Content-Security-Policy": FILE_POLICY,
        "Content-Disposition": f'attachment; filename="{file_name(result.job, name)}"',
    }
    made = document.made(result, on_site(jobs.store.events(job_id)))
    return Response(made, media_type=kind, headers=headers)


def _part(result: Design, *names: str) -> dict[str, Any]:
    """Return parts of the design file, in the words that it has for them."""
    whole = published(result).model_dump(mode="json", by_alias=True)
    return {"mark": whole["mark"], **{name: whole[name] for name in names}}


def _row(row: Row) -> dict[str, str]:
    return {
        "part": row.part,
        "sign": row.sign,
        "says": row.says,
        "value": row.value,
        "in_signs": row.in_signs,
        "in_figures": row.in_figures,
        "note": row.note,
        "source": row.source,
    }
