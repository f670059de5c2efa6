"""The whole job in one browser: survey, design, board, work on site, readings, papers."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Locator, Page, expect

from boardwright.web.homes import issues
from boardwright.web.homes.jobs import Jobs
from tests.web.browser.conftest import PATIENCE_MS, Tab, ready, until
from tests.web.browser.laptop import cell

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LONG = 90_000
"""A design and a pack take seconds, and more where much else runs. [ms]"""


@pytest.fixture
def page(desk: Tab) -> Iterator[Page]:
    """Yield a tab on a home that may be changed."""
    page = desk.open("/jobs/semi/survey/supply")
    page.set_default_timeout(LONG)
    expect.set_options(timeout=LONG)
    yield page
    expect.set_options(timeout=PATIENCE_MS)


def kept(own: Jobs) -> None:
    """Compare what the store holds with what the day brought."""
    # What was entered last may still be on its way.
    until(lambda: "reading" in {e.kind for e in own.store.events("semi")})
    job, events = own.load("semi"), own.store.events("semi")
    assert job.supply.ze_ohm == 0.19
    assert job.circuit("cooker").cable.length_m == 11
    assert job.wishes.ways == {"boiler": 10}
    assert {e.kind for e in events} >= {"tick", "reading", issues.KIND}
    (issued,) = issues.issues(events)
    assert issued.mark == own.design("semi").mark


def test_the_whole_job_by_mouse(page: Page, own: Jobs) -> None:
    page.locator('[name="supply.ze_ohm"]').fill("0.19")
    page.get_by_role("button", name=re.compile("^Next")).click()
    expect(page).not_to_have_url(re.compile("supply$"))

    _open(page, "Design")
    cell(page, "cooker.cable.length_m").click()
    page.keyboard.type("11")
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_contain_text("Saved")

    _open(page, "Board")
    target = page.locator('#board .device[data-item="way-immersion"]')
    box = target.bounding_box()
    assert box is not None
    page.locator('#board .device[data-item="way-boiler"]').hover(position={"x": 10, "y": 60})
    page.mouse.down()
    page.mouse.move(box["x"] + 8, box["y"] + 60, steps=6)
    page.mouse.up()
    expect(page.locator("#tried h2")).to_contain_text("Boiler on way 10")
    page.get_by_role("button", name="Keep it there").click()
    expect(page.locator("#tried h2")).to_have_count(0)

    _open(page, "On site")
    page.get_by_role("button", name="Done, next step").click()
    expect(page).to_have_url(re.compile("step=2$"))
    page.wait_for_load_state("load")

    _open(page, "Test")
    page.locator("#answers input.number:visible").first.fill("0.19")
    page.locator("#answers input.number:visible").first.press("Enter")
    expect(page.locator("#saved")).to_contain_text("Saved")

    _open(page, "Handover")
    page.get_by_role("button", name=re.compile("^Issue the pack")).click()
    expect(page.locator("h1")).to_contain_text("Issued")
    _open(page, "Aftercare")
    expect(page.locator("h1")).to_contain_text("Next: press each test button")

    kept(own)


def test_the_whole_job_by_keys_alone(page: Page, own: Jobs) -> None:
    _to(page, page.locator('[name="supply.ze_ohm"]'))
    page.keyboard.press("Control+a")
    page.keyboard.type("0.19")
    _press(page, page.get_by_role("button", name=re.compile("^Next")))
    expect(page).not_to_have_url(re.compile("supply$"))

    _press(page, _task(page, "Design"))
    expect(page.locator("h1")).to_contain_text("board fits")
    _to(page, cell(page, "shower.name"))
    # One row down, and along to the length.
    page.keyboard.press("ArrowDown")
    while "length_m" not in page.evaluate("document.activeElement.dataset.path"):
        page.keyboard.press("ArrowRight")
    page.keyboard.type("11")
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_contain_text("Saved")

    page.goto(page.url.replace("/design", "/board"))
    _to(page, page.locator('#board .device[data-item="way-boiler"]'))
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried h2")).to_contain_text("way 10")
    page.keyboard.press("Enter")
    expect(page.locator("#tried-said")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#tried h2")).to_have_count(0)

    _press(page, _task(page, "On site"))
    done = page.get_by_role("button", name="Done, next step")
    done.wait_for()
    ready(page)
    _press(page, done)
    expect(page).to_have_url(re.compile("step=2$"))

    _press(page, _task(page, "Test"))
    first = page.locator("#answers input.number:visible").first
    first.wait_for()
    ready(page)
    _to(page, first)
    page.keyboard.type("0.19")
    page.keyboard.press("Enter")
    expect(page.locator("#saved")).to_contain_text("Saved")

    _press(page, _task(page, "Handover"))
    _press(page, page.get_by_role("button", name=re.compile("^Issue the pack")))
    expect(page.locator("h1")).to_contain_text("Issued")

    kept(own)


def _task(page: Page, name: str) -> Locator:
    return page.get_by_role("navigation", name="Tasks of the job").get_by_role("link", name=name)


def _open(page: Page, name: str) -> None:
    """Go to a task's page, and wait until its scripts are there: nobody is quicker."""
    with page.expect_navigation(wait_until="load"):
        _task(page, name).click()
    ready(page)


def _to(page: Page, wanted: Locator) -> None:
    """Go to a control with the tab key, as far as it takes."""
    wanted.wait_for()
    for _ in range(400):
        page.keyboard.press("Tab")
        if wanted.evaluate("each => each === document.activeElement"):
            return
    raise AssertionError(f"the tab key does not reach {wanted}")


def _press(page: Page, wanted: Locator) -> None:
    _to(page, wanted)
    page.keyboard.press("Enter")
