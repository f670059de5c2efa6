"""What stands before every route: who may ask, and what the browser may do with the answer."""

from __future__ import annotations

import base64
import hashlib
import re

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from boardwright.web.access import Access

_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)

ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    # To this page itself the browser says where a form came from; to nobody else.
    "Referrer-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
"""Headers of every answer."""


class Guard:
    """Refuses a foreign Host, and gives every answer its headers."""

    def __init__(self, app: ASGIApp, access: Access) -> None:
        """Stand before an application."""
        self.app = app
        self.access = access

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

        if self.access.answers_to(scope):
            await self.app(scope, receive, with_headers)
        else:
            refusal = PlainTextResponse(self._refusal(), 400)
            await refusal(scope, receive, with_headers)

    def _refusal(self) -> str:
        if self.access.network:
            return "This page does not go by that name: open it at the address it was started with."
        return "This page answers only on this machine: open it at 127.0.0.1.\n"


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
