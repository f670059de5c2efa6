"""Behind the guard: only paired devices from the network, and no change at another site's bidding.

A change is asked for by this page itself when the browser says so: in ``Sec-Fetch-Site`` (Fetch
Metadata, W3C) or, where that is not sent, in ``Origin`` (RFC 6454). A program that sends neither
shows the token, which a page of another site cannot read.
"""

from __future__ import annotations

import hmac
from secrets import token_urlsafe

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from boardwright.web.devices.access import Access, is_near
from boardwright.web.frame import faults

HARMLESS = frozenset({"GET", "HEAD", "OPTIONS"})
"""Methods that change nothing (RFC 9110, 9.2.1); the page keeps to it."""

TOKEN = "x-boardwright-token"  # noqa: S105 - the name of a header
_OPEN = ("/pair", "/authority.crt", "/manifest.webmanifest")
_OPEN_FOLDER = "/static/"


class Gate:
    """Lets in this machine and paired devices; refuses changes that another site asks for."""

    def __init__(self, app: ASGIApp, access: Access) -> None:
        """Stand before an application."""
        self.app = app
        self.access = access
        self.token = token_urlsafe(24)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        refusal = self._stranger(scope) or self._foreign(scope)
        await (refusal or self.app)(scope, receive, send)

    def _stranger(self, scope: Scope) -> Response | None:
        """Refuse a device that was not paired; note in the scope which one it is."""
        state = scope.setdefault("state", {})
        state["near"], state["token"] = is_near(scope), self.token
        if state["near"]:
            return None
        device = self.access.device_of(scope)
        if device:
            state["device"] = device
            return None
        path = scope["path"]
        if path in _OPEN or path.startswith(_OPEN_FOLDER):
            return None
        if path.startswith("/api/") or scope["method"] not in HARMLESS:
            said = "This device is not paired with the page. Open /pair on it."
            return faults.refusal(Request(scope), 401, said)
        return RedirectResponse("/pair", 303, {"Cache-Control": "no-store"})

    def _foreign(self, scope: Scope) -> Response | None:
        """Refuse a change that no page of ours asked for."""
        if scope["method"] in HARMLESS or self._is_ours(scope):
            return None
        said = "That was sent by another site, or by a program without the token: nothing changed."
        return faults.refusal(Request(scope), 403, said)

    def _is_ours(self, scope: Scope) -> bool:
        headers = Headers(scope=scope)
        site, origin = headers.get("sec-fetch-site"), headers.get("origin")
        if site is not None:
            return site in {"same-origin", "none"}
        if origin is not None:
            return origin.lower() == f"{scope['scheme']}://{headers.get('host', '')}".lower()
        return hmac.compare_digest(headers.get(TOKEN, "").encode(), self.token.encode())


__all__ = ["HARMLESS", "TOKEN", "Gate"]
