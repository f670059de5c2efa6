"""The application: pages, their JSON and their files over the homes of a store."""

from __future__ import annotations

from fastapi import FastAPI

from boardwright.web import api, assets, faults, pages
from boardwright.web.guard import Guard
from boardwright.web.jobs import Jobs


def create_app(jobs: Jobs) -> FastAPI:
    """Return the application over the homes; all that it keeps lives in ``jobs``."""
    app = FastAPI(title="Boardwright", docs_url=None, redoc_url=None)
    app.state.jobs = jobs
    app.add_middleware(Guard)
    app.include_router(pages.router)
    app.include_router(api.router)
    app.include_router(assets.files)
    faults.install(app)
    return app


__all__ = ["create_app"]
