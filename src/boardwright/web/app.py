"""The application: pages, their JSON and their files over the homes of a store."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI

from boardwright.web import api, pages
from boardwright.web.devices.access import Access
from boardwright.web.door.compress import Compress
from boardwright.web.door.gate import Gate
from boardwright.web.door.guard import Guard
from boardwright.web.door.intake import Intake
from boardwright.web.frame import faults
from boardwright.web.homes.cards import Cards
from boardwright.web.homes.jobs import Jobs
from boardwright.web.look import assets, installed
from boardwright.web.working.disk import Disk


def create_app(jobs: Jobs, access: Access | None = None, cache: Path | None = None) -> FastAPI:
    """Return the application over the homes; all that it keeps lives in ``jobs``.

    Without ``access`` it answers on this machine only; without a ``cache`` folder small drawings
    are kept in memory.
    """
    access = access or Access()
    app = FastAPI(
        title="Boardwright", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json"
    )
    app.state.jobs = jobs
    app.state.access = access
    app.state.cards = Cards(jobs, Disk(cache))
    # The last that is added is the first that a request meets.
    app.add_middleware(Intake)
    app.add_middleware(Gate, access=access)
    app.add_middleware(Compress)
    app.add_middleware(Guard, access=access)
    app.include_router(pages.router)
    app.include_router(api.router)
    app.include_router(installed.files)
    app.include_router(assets.files)
    faults.install(app)
    return app


__all__ = ["create_app"]
