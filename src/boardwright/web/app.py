"""The application: pages, their JSON and their files over the homes of a store."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI

from boardwright.web import api, assets, faults, installed, pages
from boardwright.web.access import Access
from boardwright.web.cards import Cards
from boardwright.web.compress import Compress
from boardwright.web.disk import Disk
from boardwright.web.gate import Gate
from boardwright.web.guard import Guard
from boardwright.web.intake import Intake
from boardwright.web.jobs import Jobs


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
