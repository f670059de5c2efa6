"""A browser's requests without a browser: what the page answers, and with what headers."""

from __future__ import annotations

import asyncio
import html
import re
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import httpx
from fastapi import FastAPI

HERE = "http://127.0.0.1"


class Client:
    """Asks an application; cookies are kept, redirects are not followed.

    ``base`` is the address it was opened at. As a browser does, it says where a form comes from.
    """

    def __init__(self, app: FastAPI, base: str = HERE) -> None:
        self.app = app
        self.base = base
        self.cookies: dict[str, str] = {}

    def get(self, path: str, headers: dict[str, str] | None = None) -> httpx.Response:
        return self._run("GET", path, headers or {}, {})

    def post(
        self, path: str, form: dict[str, str], headers: dict[str, str] | None = None
    ) -> httpx.Response:
        return self._run("POST", path, headers or {}, form)

    def send(
        self,
        method: str,
        path: str,
        body: object,
        headers: dict[str, str] | None = None,
        *,
        form: bool = False,
    ) -> httpx.Response:
        """Send JSON, bytes or a form; with headers of its own, nothing is said beside them."""
        said = {"origin": self.base} if headers is None else headers
        name = "content" if isinstance(body, bytes) else "data" if form else "json"
        return self._sent(method, path, said, {name: body})

    def _run(
        self, method: str, path: str, headers: dict[str, str], form: dict[str, str]
    ) -> httpx.Response:
        said = {"origin": self.base, **headers} if method == "POST" else headers
        return self._sent(method, path, said, {"data": form or None})

    def _sent(
        self, method: str, path: str, headers: dict[str, str], body: dict[str, Any]
    ) -> httpx.Response:
        # In a thread of its own: the browser's tests leave a loop running in this one.
        with ThreadPoolExecutor(1) as thread:
            return thread.submit(
                lambda: asyncio.run(self._ask(method, path, headers, body))
            ).result()

    async def _ask(
        self, method: str, path: str, headers: dict[str, str], body: dict[str, Any]
    ) -> httpx.Response:
        transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
        async with httpx.AsyncClient(
            transport=transport, base_url=self.base, cookies=self.cookies
        ) as client:
            answer = await client.request(method, path, headers=headers, **body)
        self.cookies.update(dict(answer.cookies))
        return answer


def words(page: str) -> str:
    """Return what a person reads of a page."""
    body = re.sub(r"<(style|script).*?</\1>|<title>.*?</title>", " ", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", body)).split())


def headings(page: str) -> list[str]:
    """Return the answers: there must be one."""
    return [words(found) for found in re.findall(r"<h1>(.*?)</h1>", page, re.DOTALL)]
