"""The list of homes, and the choice of light and contrast."""

from __future__ import annotations

from typing import Annotated, Any
from uuid import uuid4

from fastapi import APIRouter, Form, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse

from boardwright.store.events import AWAY, Event
from boardwright.web.devices.stamps import who_of
from boardwright.web.frame.headers import FILE_POLICY
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes, SmallBoards
from boardwright.web.homes.cards import Cards, empty_board
from boardwright.web.look.choice import COOKIE, KEPT_S, look_of, way_back
from boardwright.web.views.home import homes_view
from boardwright.web.views.start import start_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

_HERE = "page"


@pages.get("/")
def homes(
    request: Request, jobs: Homes, cards: SmallBoards, find: str = "", page: int = 1
) -> HTMLResponse:
    """List the homes; where there is none, show the ways to begin one."""
    view = homes_view(jobs, cards, find, page)
    if not (view.homes or view.asked or view.put_away):
        return render(request, Page("start.html", "Begin", start_view(cards, empty=True)))
    return render(request, Page("homes.html", "Homes", view))


@pages.get("/away")
def put_away(
    request: Request, jobs: Homes, cards: SmallBoards, find: str = "", page: int = 1
) -> HTMLResponse:
    """List the homes that were put away."""
    view = homes_view(jobs, cards, find, page, away=True)
    return render(request, Page("homes.html", "Homes put away", view))


@pages.get("/jobs/{job_id}")
def home(job_id: str, jobs: Homes) -> Response:
    """Open a home at its board."""
    jobs.load(job_id)
    return RedirectResponse(f"/jobs/{job_id}/board", 303)


@pages.get("/jobs/{job_id}/small.svg")
def small_board(
    job_id: str, jobs: Homes, cards: SmallBoards, look: str = "", draw: int = 0
) -> Response:
    """Return the board in small; an empty one where it is not drawn yet."""
    text = jobs.version(job_id).text
    if draw:
        cards.draw(text, job_id)
    return small_picture(cards, text, look)


@pages.get("/jobs/{job_id}/card")
def card(job_id: str, jobs: Homes, cards: SmallBoards) -> JSONResponse:
    """Return a home's facts, and have its board drawn; ``drawn`` says whether it is."""
    return JSONResponse(card_of(cards, jobs.version(job_id).text, job_id))


@pages.post("/jobs/{job_id}/away")
def away(
    request: Request, job_id: str, jobs: Homes, gone: Annotated[bool, Form()]
) -> RedirectResponse:
    """Put a home away, or take it out again: told by an event, for nothing is ever removed."""
    last = jobs.store.pulse(job_id).event
    event = Event(uuid4().hex, AWAY, job_id, gone, who_of(request), jobs.now(), _HERE, last)
    jobs.store.add_events(job_id, [event])
    return RedirectResponse("/" if gone else "/away", 303)


@pages.post("/look")
def choose(look: Annotated[str, Form()], back: Annotated[str, Form()] = "/") -> Response:
    """Keep the chosen look, and go back to where it was chosen."""
    answer = RedirectResponse(way_back(back), 303)
    answer.set_cookie(
        COOKIE, look_of(look).name, max_age=int(KEPT_S), httponly=True, samesite="strict"
    )
    return answer


def small_picture(cards: Cards, text: str, look: str) -> Response:
    """Return the small board of a text as a picture of its own."""
    drawn = cards.drawing(text, look_of(look))
    headers = {
        "Content-Security-Policy": FILE_POLICY,
        "Cache-Control": "no-cache" if drawn else "no-store",
    }
    picture = drawn or empty_board(look_of(look))
    return Response(picture, media_type="image/svg+xml", headers=headers)


def card_of(cards: Cards, text: str, name: str) -> dict[str, Any]:
    """Return what a card of the list waits for."""
    return {"facts": cards.facts(text, name), "drawn": cards.draw(text, name)}


__all__ = ["card_of", "pages", "small_picture"]
