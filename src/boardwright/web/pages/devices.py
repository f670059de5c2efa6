"""Pairing a device with the page, and the list of those that are paired."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from boardwright.web.devices import stamps
from boardwright.web.devices.access import Access
from boardwright.web.devices.pairing import Outcome
from boardwright.web.devices.sessions import device_name
from boardwright.web.frame.page import Page, render
from boardwright.web.frame.reach import Doors
from boardwright.web.look.choice import KEPT_S
from boardwright.web.views.devices import devices_view, pair_view

pages = APIRouter(default_response_class=HTMLResponse, include_in_schema=False)

_SAID = {Outcome.WRONG: 403, Outcome.NONE: 403, Outcome.TOO_MANY: 429}
_WAIT_S = "600"


@pages.get("/pair")
def pair(request: Request, access: Doors, code: str = "") -> HTMLResponse:
    """Ask a device for the code and its name; asking uses no code up."""
    _need_network(access)
    return render(request, Page("pair.html", "Pair this device", pair_view(access, code[:20])))


@pages.post("/pair")
def paired(
    request: Request, access: Doors, code: Annotated[str, Form()], name: Annotated[str, Form()]
) -> Response:
    """Let a device in that gives the code."""
    _need_network(access)
    named = device_name(name)
    outcome = access.pairing.attempt(code, request.client.host if request.client else "")
    if outcome is not Outcome.LET_IN:
        view = pair_view(access, "", name=named, said=outcome.value)
        page = render(request, Page("pair.html", "Pair this device", view), _SAID[outcome])
        if outcome is Outcome.TOO_MANY:
            page.headers["Retry-After"] = _WAIT_S
        return page
    answer = RedirectResponse("/", 303)
    _give(answer, access, access.devices.admit(named))
    return answer


@pages.get("/devices")
def devices(request: Request, access: Doors) -> HTMLResponse:
    """List the devices that are paired; on this machine, with the code that is open."""
    return render(request, Page("devices.html", "Devices", devices_view(request, access)))


@pages.post("/devices/code")
def new_code(request: Request, access: Doors) -> Response:
    """Make a code: on this machine only, where the person is who started the page."""
    _need_network(access)
    if not request.state.near:
        raise HTTPException(403, "A new device is paired where the page was started.")
    access.pairing.new_code()
    return RedirectResponse("/devices", 303)


@pages.post("/devices/remove")
def remove(request: Request, access: Doors, device: Annotated[str, Form()]) -> Response:
    """Let a device in no more: any from this machine, and each itself."""
    own = getattr(request.state, "device", None)
    if not request.state.near and (own is None or own.id != device):
        raise HTTPException(403, "Another device is removed where the page was started.")
    access.devices.revoke(device)
    answer = RedirectResponse("/devices" if request.state.near else "/pair", 303)
    if own is not None:
        answer.delete_cookie(access.cookie, secure=access.cookie.startswith("__Host-"))
    return answer


@pages.post("/name")
def name_this(name: Annotated[str, Form()]) -> Response:
    """Keep the name that the history gives to what is done on this machine."""
    answer = RedirectResponse("/devices", 303)
    kept = quote(device_name(name))
    answer.set_cookie(stamps.COOKIE, kept, max_age=int(KEPT_S), httponly=True, samesite="strict")
    return answer


@pages.get("/authority.crt")
def authority(access: Doors) -> Response:
    """Return the certificate that a phone is told to trust; it holds no secret.

    Raises
    ------
    HTTPException
        This tool made none.
    """
    if not (access.network and access.network.authority):
        raise HTTPException(404)
    headers = {"Content-Disposition": 'attachment; filename="boardwright.crt"'}
    kind = "application/x-x509-ca-cert"
    return Response(access.network.authority, media_type=kind, headers=headers)


def _give(answer: Response, access: Access, secret: str) -> None:
    tls = bool(access.network and access.network.tls)
    answer.set_cookie(
        access.cookie,
        secret,
        max_age=access.cookie_lasts_s,
        httponly=True,
        samesite="strict",
        secure=tls,
    )


def _need_network(access: Access) -> None:
    if access.network is None:
        raise HTTPException(404)


__all__ = ["pages"]
