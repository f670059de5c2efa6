"""The files of the page: one sheet, one script, one typeface, served by the program itself."""

from __future__ import annotations

from functools import cache
from importlib.resources import files as package_files

from fastapi import APIRouter, Response

from boardwright.core.findings import Verdict
from boardwright.documents.fonts import page_font
from boardwright.documents.marks import mark_svg, on_paper
from boardwright.documents.tokens import stylesheet

files = APIRouter(prefix="/static", include_in_schema=False)

_FRESH = {"Cache-Control": "no-cache"}
_FONT = {"Cache-Control": "max-age=31536000, immutable"}


@files.get("/page.css")
def sheet() -> Response:
    """Return the tokens and the sheet built on them."""
    return Response(f"{stylesheet()}\n{_text('page.css')}", media_type="text/css", headers=_FRESH)


@files.get("/board.js")
def script() -> Response:
    """Return the page's one script."""
    return Response(_text("board.js"), media_type="text/javascript", headers=_FRESH)


@files.get("/plex.woff2")
def typeface() -> Response:
    """Return the typeface, cut to what the page needs."""
    return Response(_font(), media_type="font/woff2", headers=_FONT)


@files.get("/mark.svg")
def sign() -> Response:
    """Return the sign of the page in a browser's tab: a reading within its range."""
    return Response(mark_svg(Verdict.PASS, on_paper()), media_type="image/svg+xml", headers=_FRESH)


@cache
def _font() -> bytes:
    return page_font()


def _text(name: str) -> str:
    return package_files("boardwright.web").joinpath(f"static/{name}").read_text(encoding="utf-8")
