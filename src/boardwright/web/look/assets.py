"""The files of the page: its sheets, scripts and typeface, served by the program itself."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files as package_files

from fastapi import APIRouter, HTTPException, Request, Response

from boardwright.core.findings import Verdict
from boardwright.documents.look.fonts import page_font
from boardwright.documents.look.marks import mark_svg, on_paper
from boardwright.documents.look.tokens import stylesheet

files = APIRouter(prefix="/static", include_in_schema=False)

_FRESH = {"Cache-Control": "no-cache"}
_FONT = {"Cache-Control": "max-age=31536000, immutable"}


@files.get("/page.css")
def sheet(request: Request) -> Response:
    """Return the tokens, the page's sheet and those of its parts, by name."""
    parts = (_text(name) for name in _names(".css"))
    text = "\n".join((stylesheet(), *parts))
    return _unless_known(request, text, "text/css")


@files.get("/{name}.js")
def script(request: Request, name: str) -> Response:
    """Return one of the page's scripts.

    Raises
    ------
    HTTPException
        The page has no such script: no other path is ever opened.
    """
    if f"{name}.js" not in _names(".js"):
        raise HTTPException(404)
    return _unless_known(request, _text(f"{name}.js"), "text/javascript")


@files.get("/plex.woff2")
def typeface() -> Response:
    """Return the typeface, cut to what the page needs."""
    return Response(_font(), media_type="font/woff2", headers=_FONT)


@files.get("/mark.svg")
def sign() -> Response:
    """Return the sign of the page in a browser's tab: a reading within its range."""
    return Response(mark_svg(Verdict.PASS, on_paper()), media_type="image/svg+xml", headers=_FRESH)


def _unless_known(request: Request, text: str, kind: str) -> Response:
    """Return a text, or only that the browser has it already (RFC 9110, 13.1.2)."""
    tag = f'"{hashlib.sha256(text.encode()).hexdigest()[:20]}"'
    headers = {**_FRESH, "ETag": tag}
    if tag in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    return Response(text, media_type=kind, headers=headers)


@cache
def _font() -> bytes:
    return page_font()


def _text(name: str) -> str:
    return package_files("boardwright.web").joinpath(f"static/{name}").read_text(encoding="utf-8")


@cache
def _names(suffix: str) -> tuple[str, ...]:
    """Return the files of a kind; the page's own first, for the others build on it."""
    found = package_files("boardwright.web").joinpath("static").iterdir()
    names = [file.name for file in found if file.name.endswith(suffix)]
    return tuple(sorted(names, key=lambda name: (name != f"page{suffix}", name)))


__all__ = ["files"]
