"""The board, with devices moved to try it, and the ways that are kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.core.errors import FieldError
from boardwright.job.edit import Edit
from boardwright.store.conflicts import Conflict
from boardwright.web.devices.stamps import stamped
from boardwright.web.frame.page import designed, render
from boardwright.web.frame.reach import Homes
from boardwright.web.views.board import board_view
from boardwright.web.working import moving

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

NONE = "none"
"""Instead of ways: every one that was given is taken back."""

Moves = Annotated[list[str], Query(default_factory=list)]


@pages.get("/jobs/{job_id}/board")
def board(  # noqa: PLR0917 - what an address may say
    request: Request, job_id: str, jobs: Homes, move: Moves, view: str = "off", zoom: int = 100
) -> Response:
    """Show the board in one of its pictures, its conductors, and what else can be done."""
    asked = request.query_params
    if asked.get("device"):
        lines = [*move, f"{asked['device']}:{asked.get('to', '')}"]
        moving.read(lines)
        query = "&".join(f"move={quote(line)}" for line in lines)
        return RedirectResponse(f"/jobs/{quote(job_id)}/board?{query}#drawing", 303)
    version = jobs.version(job_id).number
    result = jobs.design(job_id, version)
    shown = board_view(result, view, zoom, moving.read(move))
    page = designed("board", "Board", shown, job_id, result)
    return render(request, replace(page, drawing=shown.picture.drawing, version=version))


@pages.post("/jobs/{job_id}/board")
def keep(
    request: Request,
    job_id: str,
    jobs: Homes,
    base: Annotated[int, Form(ge=1, le=2**31 - 1)],
    way: Annotated[list[str], Form()],
) -> Response:
    """Save that devices stand where they were put; the word none takes every one back."""
    edits = _placed(way)
    names = ", ".join(line.replace(":", " on way ") for line in way if line != NONE)
    why = f"placed: {names}" if names else "every way that was given taken back"
    kept = jobs.change(job_id, edits, base=base, stamp=stamped(request, why, jobs.now()))
    place = "versions" if isinstance(kept, Conflict) else "board"
    return RedirectResponse(f"/jobs/{job_id}/{place}", 303)


def _placed(lines: Sequence[str]) -> list[Edit]:
    if list(lines) == [NONE]:
        return [Edit("wishes.ways", None)]
    edits = []
    for line in lines:
        key, _, way = line.partition(":")
        if not key or not way:
            raise FieldError("way", line, "a circuit and its way, as cooker:5")
        edits.append(Edit(f"wishes.ways.{key}", way))
    return edits


__all__ = ["pages"]
