"""A laptop on a home of its own: a server that a test may write to, and its tabs."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from playwright.sync_api import Locator, Page

from boardwright.web.app import create_app
from boardwright.web.jobs import Jobs


@contextmanager
def served(jobs: Jobs) -> Iterator[str]:
    """Serve homes on a free port; yield the address."""
    server = uvicorn.Server(uvicorn.Config(create_app(jobs), port=0, log_level="warning"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.05)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join(10)


def cell(page: Page, path: str) -> Locator:
    """Return the cell of an entry, by its path within the circuits."""
    return page.locator(f'[data-path="circuits.{path}"]')


def paste(page: Page, block: str) -> None:
    """Paste a block where the keyboard is, as from a spreadsheet."""
    page.evaluate(
        """block => { const data = new DataTransfer(); data.setData('text/plain', block);
        document.activeElement.dispatchEvent(new ClipboardEvent('paste',
        { clipboardData: data, bubbles: true, cancelable: true })); }""",
        block,
    )
