"""What a program must know of the server itself."""

from __future__ import annotations

from fastapi import APIRouter, Request

from boardwright import __version__

routes = APIRouter(tags=["server"])


@routes.get("/token")
def token(request: Request) -> dict[str, str]:
    """Return what a program sends as X-Boardwright-Token with every change."""
    return {"token": request.state.token, "version": __version__}
