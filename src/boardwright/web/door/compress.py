"""Answers sent compressed where that helps: text, not what is compressed already."""

from __future__ import annotations

from starlette.middleware.gzip import GZipMiddleware
from starlette.types import ASGIApp, Receive, Scope, Send

_SMALLEST_BYTES = 600
_LEVEL = 5
_PACKED = (".woff2", ".pdf", ".png", ".xlsx", ".zip", ".jpg")


class Compress:
    """Compresses what a browser takes compressed.

    No page holds a secret, so that nothing can be guessed from how long an answer is.
    """

    def __init__(self, app: ASGIApp) -> None:
        """Stand before an application."""
        self.plain = app
        self.packing = GZipMiddleware(app, minimum_size=_SMALLEST_BYTES, compresslevel=_LEVEL)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on."""
        path = scope.get("path", "")
        packed = path.endswith(_PACKED) or "/photos/" in path
        await (self.plain if packed else self.packing)(scope, receive, send)


__all__ = ["Compress"]
