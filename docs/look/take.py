"""Take the pictures of the page: python docs/look/take.py [FOLDER]

Starts the page on a free port, opens it in Debian's Chromium at the three sizes of the look,
and writes the pictures beside this script, or into FOLDER.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import uvicorn
from playwright.sync_api import Browser, Page, sync_playwright

from boardwright.store.store import open_store
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs

HERE = Path(__file__).parent
HOMES = HERE.parents[1] / "examples"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {390: 844, 820: 1180, 1440: 1100}
PATIENCE_MS = 180_000
SETTLES_MS = {"start": 20_000}
"""The small boards of the example homes are designed while the page is there."""


PICTURES = (
    ("board", "semi/board", 1440, "light"),
    ("board", "semi/board", 1440, "dark"),
    ("board", "semi/board", 390, "light"),
    ("cover", "semi/board?view=on", 1440, "light"),
    ("single-line", "three-phase/board?view=line", 820, "light"),
    ("single-line", "semi/board?view=line", 1440, "dark"),
    ("schemes", "cottage/board#schemes", 1440, "light"),
    ("schemes", "cottage/board#schemes", 390, "dark"),
    ("design", "semi/design", 1440, "light"),
    ("design", "semi/design", 390, "dark"),
    ("working", "semi/design#working-shower", 1440, "light"),
    ("working", "semi/design#working-shower", 390, "dark"),
    ("what-if", "semi/weigh?a=wishes.division=split load", 1440, "light"),
    ("moved", "semi/board?move=spd-backup:6", 1440, "light"),
    ("moved", "semi/board?move=way-cooker:2", 390, "dark"),
    ("handover", "semi/handover", 820, "light"),
    ("aftercare", "semi/aftercare", 820, "dark"),
    ("step", "semi/on-site?step={step}", 820, "light"),
    ("step", "semi/on-site?step={step}", 390, "dark"),
    ("start", "../start", 1440, "light"),
    ("start", "../start", 390, "dark"),
    ("history", "semi/history", 820, "light"),
    ("devices", "../devices", 390, "dark"),
    ("survey", "semi/survey", 390, "light"),
    ("surge", "cottage/surge", 820, "high-light"),
)
"""Name, page, width and look of each picture; a place within a page opens what folds it."""


@contextmanager
def served(homes: Path) -> Iterator[str]:
    """Serve the page in this process, and yield its address."""
    with TemporaryDirectory() as kept:
        store = open_store(Path(kept) / "jobs.db")
        yield from _served(Jobs(store, homes))


def _served(jobs: Jobs) -> Iterator[str]:
    config = uvicorn.Config(create_app(jobs), port=0, log_level="warning")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.05)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join()


def opened(browser: Browser, base: str, width: int, look: str) -> Page:
    """Return an empty tab of a size, the look already chosen."""
    context = browser.new_context(viewport={"width": width, "height": SIZES[width]})
    context.set_default_timeout(PATIENCE_MS)
    context.add_cookies([{"name": "look", "value": look, "url": base}])
    return context.new_page()


def wiring_step(page: Page, base: str, home: str) -> int:
    """Return the number of the step that joins the SPD to the earth bar: an early lead."""
    page.goto(f"{base}/jobs/{home}/on-site")
    for link in page.query_selector_all(".all li a"):
        text = link.text_content() or ""
        if "SPD" in text and "earth" in text:
            return int((link.get_attribute("href") or "").partition("=")[2])
    return 1


def main() -> None:
    """Take every picture."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE
    folder.mkdir(parents=True, exist_ok=True)
    with served(HOMES) as base, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        for name, path, width, look in PICTURES:
            page = opened(browser, base, width, look)
            step = wiring_step(page, base, "semi") if "{step}" in path else 1
            page.goto(f"{base}/jobs/{path.format(step=step)}", wait_until="networkidle")
            page.wait_for_timeout(SETTLES_MS.get(name, 300))
            page.screenshot(path=folder / f"{name}-{width}-{look}.png")
            page.context.close()
        browser.close()


if __name__ == "__main__":
    main()
