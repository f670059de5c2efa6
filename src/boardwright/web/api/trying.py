"""What is only tried: other lengths of leads and cables under the design's surge."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from boardwright.documents.surge.what_if import WhatIf, what_if
from boardwright.documents.words.figures import volts_between
from boardwright.web.frame.reach import Homes

routes = APIRouter(tags=["trying"])


@routes.get("/jobs/{job_id}/surge/try")
def surge(
    job_id: str,
    jobs: Homes,
    lead_m: float | None = None,
    cable_m: float | None = None,
    place: str = "",
) -> dict[str, Any]:
    """Return what the design's surge would leave with other lengths; nothing is saved."""
    return tried_json(what_if(jobs.design(job_id), lead_m=lead_m, cable_m=cable_m, place=place))


def tried_json(found: WhatIf) -> dict[str, Any]:
    """Return the places as the page moves its bars, the board first."""
    return {
        "surge": found.surge,
        "lead_m": found.lead_m,
        "places": [
            {
                "place": each.place,
                "appliance": each.appliance,
                "uw_v": each.uw_v,
                "cable_m": each.cable_m,
                "p5_v": each.band.p5_v,
                "typical_v": each.band.typical_v,
                "p95_v": each.band.p95_v,
                "range": volts_between(each.band.p5_v, each.band.p95_v),
                "passes": each.passes,
            }
            for each in found.places
        ],
    }
