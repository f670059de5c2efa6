"""What stands before every route: who may ask, and what the browser may do with the answer."""

from __future__ import annotations

import base64
import hashlib
import re

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

_LOOPBACK = re.compile(r"(?:127\.0\.0\.1|localhost|\[::1\])(?::\d{1,5})?", re.IGNORECASE)

_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)

ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
"""Headers of every answer."""


class Guard:
    """Refuses a foreign Host, and gives every answer its headers.

    A page of another site could reach a loopback server under a name of its own choosing;
    the Host it then sends gives it away.
    """

    def __init__(self, app: ASGIApp) -> None:
        """Stand before an application."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in {**ALWAYS, "Content-Security-Policy": policy()}.items():
                    headers.setdefault(name, value)
            await send(message)

        if _LOOPBACK.fullmatch(Headers(scope=scope).get("host", "")):
            await self.app(scope, receive, with_headers)
        else:
            refusal = PlainTextResponse(
                "This page answers only on this machine: open it at 127.0.0.1.\n", 400
            )
            await refusal(scope, receive, with_headers)


def policy(drawing: str = "") -> str:
    """Return the content policy of a page; only the styles inside its drawing pass by their hash.

    No script but the page's own files ever runs, and nothing is fetched from elsewhere.
    """
    hashes = " ".join(f"'sha256-{_hash(style)}'" for style in _STYLE.findall(drawing))
    return (
        f"default-src 'none'; style-src 'self'{f' {hashes}' if hashes else ''}; "
        "script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; "
        "img-src 'self' blob:; font-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    )


FILE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox"
"""Of a drawing served as a file: it brings its own style, and may do nothing else."""


def _hash(style: str) -> str:
    return base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
