"""The page as something that a phone installs: its manifest, its sign, its worker."""

from __future__ import annotations

from functools import cache
from importlib.resources import files as package_files

from fastapi import APIRouter, HTTPException, Response
from fastapi.responses import JSONResponse

from boardwright.core.findings import Verdict
from boardwright.documents.look.marks import mark
from boardwright.documents.look.tokens import tokens

files = APIRouter(include_in_schema=False)

SIZES = (180, 192, 512)
"""Widths of the sign that phones ask for. [px]"""

_FRESH = {"Cache-Control": "no-cache"}
_SCOPE = {**_FRESH, "Service-Worker-Allowed": "/"}


@files.get("/manifest.webmanifest")
def manifest() -> JSONResponse:
    """Return what a phone needs to know to install the page."""
    signs = [
        {"src": f"/static/sign-{size}.png", "sizes": f"{size}x{size}", "type": "image/png"}
        for size in SIZES
    ]
    content = {
        "name": "Boardwright",
        "short_name": "Boardwright",
        "description": "A consumer unit planned, wired and tested, with or without signal.",
        "id": "/",
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "lang": "en-GB",
        "background_color": tokens()["page"],
        "theme_color": tokens()["surface"],
        "icons": [
            *({**sign, "purpose": "any"} for sign in signs),
            *({**sign, "purpose": "maskable"} for sign in signs),
            {"src": "/static/sign.svg", "sizes": "any", "type": "image/svg+xml"},
        ],
    }
    return JSONResponse(content, headers=_FRESH, media_type="application/manifest+json")


@files.get("/worker.js")
def worker() -> Response:
    """Return the worker that keeps pages on the device; it may look after all of them."""
    text = package_files("boardwright.web").joinpath("static/worker.js").read_text("utf-8")
    return Response(text, media_type="text/javascript", headers=_SCOPE)


@files.get("/static/sign.svg")
def sign() -> Response:
    """Return the sign of the installed page: a reading within its range, on damson."""
    return Response(_drawn(), media_type="image/svg+xml", headers=_FRESH)


@files.get("/static/sign-{size}.png")
def sign_in_dots(size: int) -> Response:
    """Return the sign as a picture of a width that phones ask for.

    Raises
    ------
    HTTPException
        No phone asks for that width.
    """
    if size not in SIZES:
        raise HTTPException(404)
    return Response(_in_dots(size), media_type="image/png", headers=_FRESH)


def _drawn() -> str:
    """Draw the mark within the middle four fifths, which every phone leaves standing."""
    ground, ink = tokens()["accent"], tokens()["accent-ink"]
    shapes = mark(Verdict.PASS, {"ink": ink, "adverse": ink})
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512" width="512" height="512">'
        f'<rect width="512" height="512" fill="{ground}"/>'
        f'<g transform="translate(88 88) scale(14)">{shapes}</g></svg>'
    )


@cache
def _in_dots(size: int) -> bytes:
    # Only here is the drawing turned into dots, so only here is the library loaded.
    import vl_convert

    return bytes(vl_convert.svg_to_png(_drawn(), scale=size / 512))


__all__ = ["SIZES", "files"]
