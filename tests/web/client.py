"""A browser's requests without a browser: what the page answers, and with what headers."""

from __future__ import annotations

import asyncio
import html
import re
from concurrent.futures import ThreadPoolExecutor

import httpx
from fastapi import FastAPI

HERE = "http://127.0.0.1"


class Client:
    """Asks an application; cookies are kept, redirects are not followed."""

    def __init__(self, app: FastAPI) -> None:
        self.app = app
        self.cookies: dict[str, str] = {}

    def get(self, path: str, headers: dict[str, str] | None = None) -> httpx.Response:
        return self._run("GET", path, headers or {}, {})

    def post(
        self, path: str, form: dict[str, str], headers: dict[str, str] | None = None
    ) -> httpx.Response:
        return self._run("POST", path, headers or {}, form)

    def _run(
        self, method: str, path: str, headers: dict[str, str], form: dict[str, str]
    ) -> httpx.Response:
        # In a thread of its own: the browser's tests leave a loop running in this one.
        with ThreadPoolExecutor(1) as thread:
            return thread.submit(
                lambda: asyncio.run(self._ask(method, path, headers, form))
            ).result()

    async def _ask(
        self, method: str, path: str, headers: dict[str, str], form: dict[str, str]
    ) -> httpx.Response:
        transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
        async with httpx.AsyncClient(
            transport=transport, base_url=HERE, cookies=self.cookies
        ) as client:
            answer = await client.request(method, path, headers=headers, data=form or None)
        self.cookies.update(dict(answer.cookies))
        return answer


def words(page: str) -> str:
    """Return what a person reads of a page."""
    body = re.sub(r"<(style|script).*?</\1>|<title>.*?</title>", " ", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", body)).split())


def headings(page: str) -> list[str]:
    """Return the answers: there must be one."""
    return [words(found) for found in re.findall(r"<h1>(.*?)</h1>", page, re.DOTALL)]
