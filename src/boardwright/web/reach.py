"""The homes that a request speaks of."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

from boardwright.web.jobs import Jobs


def _jobs(request: Request) -> Jobs:
    jobs = request.app.state.jobs
    assert isinstance(jobs, Jobs)  # noqa: S101 - put there by create_app
    return jobs


Homes = Annotated[Jobs, Depends(_jobs)]
"""What a route takes to reach the homes."""

__all__ = ["Homes"]
