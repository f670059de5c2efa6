"""Before all else: the name that a request calls this page by, and the headers of the answer."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from boardwright.web.devices.access import Access
from boardwright.web.frame.headers import ALWAYS, policy


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


__all__ = ["Guard"]
