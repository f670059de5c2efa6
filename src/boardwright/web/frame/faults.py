"""What goes wrong, as a page in the same look: a sentence to act on, never a traceback."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from boardwright.core.errors import BoardwrightError
from boardwright.documents.pack.pack import PackError
from boardwright.store.errors import UnknownJob
from boardwright.web.devices.sessions import UnknownDevice
from boardwright.web.frame.headers import ALWAYS
from boardwright.web.frame.page import Page, render
from boardwright.web.homes.issues import NotIssued
from boardwright.web.views.papers import UnknownPaper
from boardwright.web.working.work import UnknownWork

_LONGEST_SHOWN = 80
_GONE = (NotIssued, UnknownDevice, UnknownJob, UnknownPaper, UnknownWork)


@dataclass(frozen=True, slots=True)
class FaultView:
    """What is wrong, and the sentences that say what would be right; ``mend`` in the job file."""

    answer: str
    sentences: tuple[str, ...]
    mend: bool = False


def install(app: FastAPI) -> None:
    """Give an application its pages for what goes wrong."""
    app.add_exception_handler(BoardwrightError, _told)
    app.add_exception_handler(RequestValidationError, _asked_wrongly)
    app.add_exception_handler(HTTPException, _refused)
    app.add_exception_handler(Exception, _broken)


def refusal(request: Request, status: int, said: str) -> Response:
    """Return a refusal in one sentence, as a page or as JSON."""
    return _fault(request, status, FaultView(said, ()))


def _told(request: Request, error: Exception) -> Response:
    if isinstance(error, _GONE):
        return _fault(request, 404, FaultView(str(error), ()))
    if isinstance(error, PackError):
        return _broken(request, error)
    said = tuple(str(error).splitlines())
    return _fault(request, 422, FaultView("This cannot be used as it stands.", said, mend=True))


def _asked_wrongly(request: Request, error: Exception) -> Response:
    found = error.errors() if isinstance(error, RequestValidationError) else []
    said = tuple(
        f"{fault['loc'][-1]}: found {_shown(fault.get('input'))}; {fault['msg'].lower()}."
        for fault in found
    )
    return _fault(request, 422, FaultView("That cannot be shown.", said))


def _refused(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 400
    said = "There is no such page." if status == 404 else str(getattr(error, "detail", ""))  # noqa: PLR2004 - not found
    return _fault(request, status, FaultView(said, ()))


def _broken(request: Request, _: Exception) -> Response:
    said = "The fault is the program's, not yours: where it was started, it says more."
    answer = _fault(request, 500, FaultView("This page could not be made.", (said,)))
    # A fault this deep is answered outside the guard, which adds them otherwise.
    answer.headers.update(ALWAYS)
    return answer


def _fault(request: Request, status: int, view: FaultView) -> Response:
    # Half a sign in what was sent stands in the sentence about it: no answer could say it.
    view = replace(view, sentences=tuple(map(_sayable, view.sentences)))
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": view.answer, "details": list(view.sentences)}, status)
    return render(request, Page("fault.html", view.answer, view), status)


def _sayable(sentence: str) -> str:
    return sentence.encode(errors="backslashreplace").decode()


def _shown(found: object) -> str:
    shown = repr(found)
    return shown if len(shown) <= _LONGEST_SHOWN else f"{shown[:_LONGEST_SHOWN]}…"
