"""Beginning a home: by three answers, from an example, with a job file."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request, Response, UploadFile
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse
from pydantic import BaseModel, ConfigDict, Field

from boardwright.core.errors import BoardwrightError, FileError
from boardwright.job.begin import Answers, begun, id_of
from boardwright.job.edit import Edit, edited
from boardwright.web.api.shapes import LONGEST_TEXT
from boardwright.web.devices.stamps import stamped
from boardwright.web.forms.circuit_edits import free_id
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Homes, SmallBoards
from boardwright.web.homes.examples import example
from boardwright.web.homes.jobs import Jobs
from boardwright.web.pages.homes import card_of, small_picture
from boardwright.web.views.start import start_view


class Said(BaseModel):
    """What the form says; every answer may be left open."""

    model_config = ConfigDict(extra="forbid")

    title: str = Field(default="", max_length=80)
    kind: str = "house"
    service: str = ""
    system: str = ""
    board: str = "new"
    added: list[str] = Field(default=[], max_length=10)


pages = APIRouter(prefix="/start", default_response_class=HTMLResponse, include_in_schema=False)


@pages.get("")
def start(request: Request, cards: SmallBoards) -> HTMLResponse:
    """Show the ways to begin a home."""
    return render(request, Page("start.html", "Begin", start_view(cards)))


@pages.post("/answers")
def by_answers(request: Request, jobs: Homes, said: Annotated[Said, Form()]) -> Response:
    """Begin a home from three answers, and go on with its survey."""
    answers = Answers(
        said.title, said.kind, said.service, said.system, said.board, tuple(said.added)
    )
    job_id = _free(jobs, id_of(said.title))
    text = begun(answers, job_id, jobs.now().astimezone().date())
    jobs.create(text, stamped(request, "begun from three answers", jobs.now()))
    return RedirectResponse(f"/jobs/{job_id}/survey", 303)


@pages.post("/example")
def by_example(request: Request, jobs: Homes, name: Annotated[str, Form()]) -> Response:
    """Begin a home as a copy of an example, and go to its board."""
    job_id = _free(jobs, name)
    text = edited(example(name), [Edit("id", job_id)], name)
    jobs.create(text, stamped(request, f"begun from the example {name}", jobs.now()))
    return RedirectResponse(f"/jobs/{job_id}/board", 303)


@pages.post("/file")
def by_file(request: Request, jobs: Homes, cards: SmallBoards, file: UploadFile) -> Response:
    """Begin a home with a job file; what is wrong with it is told line by line."""
    name = (file.filename or "the file").replace("\\", "/").rpartition("/")[2][:80]
    try:
        kept = jobs.create(_text(file, name), stamped(request, f"brought as {name}", jobs.now()))
    except BoardwrightError as error:
        view = start_view(cards, tuple(str(error).splitlines()))
        return render(request, Page("start.html", "Begin", view), 422)
    return RedirectResponse(f"/jobs/{kept.change.job_id}/survey", 303)


@pages.get("/examples/{name}/small.svg")
def small_example(name: str, cards: SmallBoards, look: str = "", draw: int = 0) -> Response:
    """Return the board of an example in small; an empty one where it is not drawn yet."""
    if draw:
        cards.draw(example(name), name)
    return small_picture(cards, example(name), look)


@pages.get("/examples/{name}/card")
def example_card(name: str, cards: SmallBoards) -> JSONResponse:
    """Return an example's facts, and have its board drawn."""
    return JSONResponse(card_of(cards, example(name), name))


def _free(jobs: Jobs, wanted: str) -> str:
    """Return an id that no home has: the wanted one, or the same with a number."""
    return free_id(wanted, {listed.id for listed in jobs.store.jobs()})


def _text(file: UploadFile, name: str) -> str:
    content = file.file.read(4 * LONGEST_TEXT + 1)
    if len(content) > 4 * LONGEST_TEXT:
        raise FileError(f"{name}: is larger than any job file; expected less than 4 MB.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise FileError(f"{name}, line {line}: expected text in UTF-8.") from None


__all__ = ["pages"]
