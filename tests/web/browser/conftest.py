"""A real browser on the page: Debian's Chromium, three sizes, and a watch over every request."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import pytest
import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser, Page, Playwright, Request, expect, sync_playwright

from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from tests.web.conftest import homes_of

CHROMIUM = "/usr/bin/chromium"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {390: 844, 820: 1180, 1440: 900}
PATIENCE_MS = 30_000
"""How long a page is waited for: a machine on which much else runs is slow, and not wrong."""

READY = 'body:not(.survey, .test, .site), body[data-ready="yes"]'
"""The scripts of a page that takes entries are there: no person is quicker."""

expect.set_options(timeout=PATIENCE_MS)


def ready(page: Page) -> None:
    """Wait until a page's scripts are there."""
    page.locator(READY).wait_for(state="attached")


def until(told: Callable[[], bool], patience_s: float = 4 * PATIENCE_MS / 1000) -> None:
    """Wait until something is so; what says that it was saved may speak of the entry before."""
    end = time.monotonic() + patience_s
    while not told():
        assert time.monotonic() < end, "what was waited for did not come about"
        time.sleep(0.1)


@contextmanager
def served(app: FastAPI) -> Iterator[str]:
    """Serve an application on a free port, and yield the address."""
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="warning"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.05)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="session")
def base(jobs: Jobs) -> Iterator[str]:
    """Serve the examples, and yield the address."""
    with served(create_app(jobs)) as address:
        yield address


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Yield the one driver of browsers: a second would not start beside it."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    yield started
    started.close()


class Tab:
    """Opens tabs of a size and look; what they asked for and complained of is kept."""

    def __init__(self, browser: Browser, base: str) -> None:
        self.browser = browser
        self.base = base
        self.asked: list[str] = []
        self.complaints: list[str] = []
        self.opened: list[Page] = []
        self.allows = ""  # what a complaint may say without being one

    def open(
        self, path: str, width: int = 1440, look: str = "light", *, script: bool = True
    ) -> Page:
        context = self.browser.new_context(
            viewport={"width": width, "height": SIZES[width]}, java_script_enabled=script
        )
        context.set_default_timeout(2 * PATIENCE_MS)
        context.add_cookies([{"name": "look", "value": look, "url": self.base}])
        page = context.new_page()
        page.on("request", self._note)
        page.on("console", lambda m: self.complaints.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.goto(f"{self.base}{path}")
        if script:
            ready(page)
        self.opened.append(page)
        return page

    def close(self) -> None:
        for page in self.opened:
            page.context.close()

    def _note(self, request: Request) -> None:
        self.asked.append(urlsplit(request.url).hostname or request.url)


@contextmanager
def watched(browser: Browser, base: str) -> Iterator[Tab]:
    """Yield an opener of tabs; nothing may leave the loopback, nothing may be refused or break."""
    tabs = Tab(browser, base)
    yield tabs
    tabs.close()
    assert set(tabs.asked) == {"127.0.0.1"}
    assert [each for each in tabs.complaints if not tabs.allows or tabs.allows not in each] == []


@pytest.fixture
def tab(browser: Browser, base: str) -> Iterator[Tab]:
    with watched(browser, base) as tabs:
        yield tabs


@pytest.fixture
def own(folder: Path) -> Jobs:
    """Return a home that a test may change."""
    return homes_of(folder)


@pytest.fixture
def desk(browser: Browser, own: Jobs) -> Iterator[Tab]:
    """Yield an opener of tabs on a home that may be changed."""
    with served(create_app(own)) as base, watched(browser, base) as tabs:
        yield tabs
