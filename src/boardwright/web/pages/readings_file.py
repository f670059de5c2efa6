"""Every reading after the work as a table for any spreadsheet: comma-separated, RFC 4180."""

from __future__ import annotations

import csv
import io

from fastapi import APIRouter, Response

from boardwright.web.frame.reach import Homes
from boardwright.web.views.readings import every_reading

pages = APIRouter(include_in_schema=False)

_HEAD = (
    "place",
    "reading",
    "symbol",
    "value",
    "unit",
    "verdict",
    "limit",
    "source",
    "who",
    "when",
    "subject",
)


@pages.get("/jobs/{job_id}/readings.csv")
def readings(job_id: str, jobs: Homes) -> Response:
    """Return what stands of every reading, with its limit; of several that disagree, each."""
    job = jobs.load(job_id)
    rows = every_reading(job, jobs.edition(job), jobs.store.events(job_id, 0))
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(_HEAD)
    writer.writerows([_plain(cell) for cell in row] for row in rows)
    saved = f'attachment; filename="{job_id}-readings.csv"'
    headers = {"Content-Disposition": saved}
    return Response(text.getvalue(), media_type="text/csv; charset=utf-8", headers=headers)


def _plain(cell: str) -> str:
    """Keep a name from being taken for a formula by the spreadsheet that opens it."""
    return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell


__all__ = ["pages"]
