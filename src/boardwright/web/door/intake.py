"""How much a request may bring, and of what kind; refused before anything reads it."""

from __future__ import annotations

import asyncio
import re

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from boardwright.web.door.gate import HARMLESS
from boardwright.web.frame import faults

MOST_BYTES = 4_000_000
"""Of a form, a job file or JSON; a job file of 1,000,000 signs fits, whatever its alphabet."""
MOST_PHOTO_BYTES = 16_000_000
"""A phone's picture has 2 to 10 MB (common practice, no source)."""
LONGEST_PATH = 2000
PATIENCE_S = 120.0
"""How long a body may take to come: a photo over a poor signal comes in it."""

_PHOTOS = re.compile(r"/api/jobs/[^/]+/photos")
_FORMS = frozenset({"application/x-www-form-urlencoded", "multipart/form-data"})
_JSON = "application/json"
_LATE = f"That did not come within {PATIENCE_S:.0f} seconds: nothing changed. Send it again."


class Intake:
    """Refuses bodies that are too long or of a kind that the route cannot use."""

    def __init__(self, app: ASGIApp) -> None:
        """Stand before an application."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        fault = _fault(scope)
        if fault:
            await faults.refusal(Request(scope), *fault)(scope, receive, send)
            return
        if scope["method"] in HARMLESS:
            await self.app(scope, receive, send)
            return
        most = _most_bytes(scope)
        try:
            async with asyncio.timeout(PATIENCE_S):
                body = await _whole(receive, most)
        except TimeoutError:
            late = faults.refusal(Request(scope), 408, _LATE)
            # What still comes of it is no request.
            late.headers["Connection"] = "close"
            await late(scope, receive, send)
            return
        if body is None:
            await faults.refusal(Request(scope), *_too_long(most))(scope, receive, send)
        else:
            await self.app(scope, _again(body, receive), send)


async def _whole(receive: Receive, most: int) -> bytes | None:
    """Return a body read to its end; nothing where it brings more than it said or may."""
    parts: list[bytes] = []
    came, more = 0, True
    while more:
        message = await receive()
        parts.append(message.get("body", b""))
        came += len(parts[-1])
        more = message.get("more_body", False)
        # Who has gone sent half of it: half a thing is not kept.
        if came > most or message["type"] == "http.disconnect":
            return None
    return b"".join(parts)


def _again(body: bytes, receive: Receive) -> Receive:
    """Return what gives a body that was read already, and then what comes behind it."""
    left = [body]

    async def given() -> Message:
        if left:
            return {"type": "http.request", "body": left.pop(), "more_body": False}
        return await receive()

    return given


def _fault(scope: Scope) -> tuple[int, str] | None:
    headers = Headers(scope=scope)
    if len(scope.get("raw_path") or b"") + len(scope["query_string"]) > LONGEST_PATH:
        return 414, f"That address is too long: expected at most {LONGEST_PATH} signs."
    if scope["method"] in HARMLESS:
        return None
    length, most = headers.get("content-length", "0"), _most_bytes(scope)
    if not (length.isascii() and length.isdigit()) or int(length[:12]) > most:
        return _too_long(most)
    has_body = length != "0" or "transfer-encoding" in headers
    kind = headers.get("content-type", "").partition(";")[0].strip().lower()
    if has_body and not _fits(scope["path"], kind):
        return 415, f"content-type: found {kind!r}, expected {_wanted(scope['path'])}."
    return None


def _too_long(most: int) -> tuple[int, str]:
    return 413, f"That is too much at once: expected at most {most // 1_000_000} MB."


def _most_bytes(scope: Scope) -> int:
    return MOST_PHOTO_BYTES if _PHOTOS.fullmatch(scope["path"]) else MOST_BYTES


def _fits(path: str, kind: str) -> bool:
    if _PHOTOS.fullmatch(path):
        return kind.startswith("image/") or kind == "application/octet-stream"
    return kind == _JSON if path.startswith("/api/") else kind in _FORMS


def _wanted(path: str) -> str:
    if _PHOTOS.fullmatch(path):
        return "a picture, as image/jpeg"
    return _JSON if path.startswith("/api/") else "a form"


__all__ = ["MOST_BYTES", "MOST_PHOTO_BYTES", "Intake"]
